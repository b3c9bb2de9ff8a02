"""The texts that tell of an alarm, or of several of one boat. Order of handbook 7.2: boat, what, since when, value and
limit, what it means, what you can do, number."""

from gateway.alarms.life import AlarmState
from gateway.telling.notices import AlarmTold
from gateway.telling.situation import Situation
from gateway.wording.ahead_words import ahead_sentence
from gateway.wording.bank_words import bank_sentence
from gateway.wording.cautions import meaning, while_it_lasts
from gateway.wording.clocks import Clock, clock
from gateway.wording.fitting import Piece, Worth, by_words, fit, fixed, maybe, packed_so_far, placed, tidy
from gateway.wording.names import boat, first_name, point_of, what
from gateway.wording.own_kinds import fit_as
from gateway.wording.scene import Scene
from gateway.wording.situations import listed, offers, said_together, severity, since, times, value, worst_first

LATCHED = frozenset({AlarmState.LATCHED_UNACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED})


def alarm_told(notice: AlarmTold, scene: Scene) -> str:
    """One or several alarms that nobody holds."""
    at = clock(scene, notice.boat, notice.person)
    if len(notice.situations) > 1:
        return several(notice, scene, at)[0]
    situation = notice.situations[0]
    point = point_of(scene, situation.point)
    still = "still " if notice.again and situation.gone is None else ""
    return fit_as(
        "alarm told",
        scene,
        [
            *placed("boat", boat(scene, notice.boat, berth=True)),
            *placed("severity", severity(point, worse=situation.worse)),
            *placed("what", what(scene, situation.point, f": {still}{{}}")),
            *placed("since", since(situation, at)),
            *placed("value", value(situation, point, scene.now)),
            *placed("times", times(situation)),
            *placed("bank", bank_sentence(situation.bank)),
            *placed("ahead", ahead_sentence(situation.ahead, at, _told_value(situation))),
            *placed("means", _sentence(Worth.MEANING, meaning(point))),
            *placed("caution", while_it_lasts(point, scene.boats.get(notice.boat))),
            *placed("do", advice(Worth.ADVICE, point.do if point else "")),
            *placed("nobody", _nobody(situation, scene, at)),
            *placed("told", _told_too(scene, notice)),
            *placed("in_place", _in_place(scene, notice)),
            *placed("reply", fixed(f". Reply HAVE IT {situation.number}"), _then_checked(situation)),
            *placed("offers", offers(scene, notice.boat, situation)),
        ],
        *number_alone(situation),
    )


def number_alone(situation: Situation) -> list[Piece]:
    """The alarm's number alone, for a wording that says it elsewhere than we do."""
    return placed("number", fixed(str(situation.number)))


def _told_value(situation: Situation) -> str:
    """The alarm's own value where it stands in the text as that of now."""
    return "" if situation.gone is not None or situation.old else situation.measured


def _nobody(situation: Situation, scene: Scene, at: Clock) -> Piece:
    """That nobody has it; of one that somebody had, since when there is no word of that person."""
    if situation.had_by is None:
        return Piece((". Nobody has it yet", ". Nobody has it", ""), (Worth.NICETY, Worth.MEANING))
    had = f". {first_name(scene, situation.had_by)} had it"
    since_when = f", no word since {at.at(situation.last_word)}" if situation.last_word is not None else ""
    return maybe(Worth.MEANING, f"{had}{since_when}", had)


def several(notice: AlarmTold, scene: Scene, at: Clock) -> tuple[str, int]:
    """Several alarms of one boat in one text, and how many of them it names, the worst first."""
    situations = worst_first(scene, notice.situations)
    worst = situations[0]
    marked = at.mark(*(each.since for each in situations))
    mark = f" ({marked.strip()})" if marked else ""
    before = [
        boat(scene, notice.boat, berth=True),
        fixed(f": {len(situations)} {said_together(scene, situations)}"),
        maybe(Worth.ADVICE, " still" if notice.again else ""),
        maybe(Worth.CAUTION, mark),  # after the times have gone
        fixed(": "),
    ]

    def after(named: int) -> list[Piece]:
        whole = f"all {named}" if named == len(situations) else f"the {named} named"
        return [
            _sentence(Worth.MEANING, meaning(point_of(scene, worst.point))),
            *dict.fromkeys(
                while_it_lasts(point_of(scene, one.point), scene.boats.get(notice.boat)) for one in situations
            ),
            maybe(Worth.MEANING, ". Nobody has them yet"),
            _told_too(scene, notice),
            _in_place(scene, notice),
            fixed(f". Reply HAVE IT for {whole}"),
            maybe(Worth.ADVICE, f" or HAVE IT {worst.number}"),
        ]

    items = [[listed(scene, each, at, dear=each is worst)] for each in situations]
    text, named = packed_so_far(before, items, after, " and {count} more: ALARMS")
    return text or fit([*before, *after(0)]), named


def _told_too(scene: Scene, notice: AlarmTold) -> Piece:
    names = list(dict.fromkeys(first_name(scene, each) for each in notice.others if each != notice.person))
    if not names:
        return maybe(Worth.NICETY, "; only you told")
    if len(names) == 1:
        return maybe(Worth.NICETY, f"; {names[0]} and you told")
    return maybe(Worth.NICETY, f"; {', '.join(names)} and you told", f"; {len(names)} others and you told")


def _in_place(scene: Scene, notice: AlarmTold) -> Piece:
    """For whom this reader stands in."""
    who = notice.instead_of
    return fixed("") if who is None else maybe(Worth.VALUE, f". To you in place of {first_name(scene, who)}")


def _then_checked(situation: Situation) -> Piece:
    latched = situation.state in LATCHED
    return fixed(f", after looking CHECKED {situation.number}") if latched else fixed("")


def _sentence(worth: Worth, words: str) -> Piece:
    """An installer's sentence, shortened by whole words, then dropped."""
    said = tidy(words)
    return maybe(worth, *(f". {by_words(said, length)}" for length in (120, 80, 50, 30))) if said else fixed("")


def advice(worth: Worth, words: str) -> Piece:
    """An installer's advice, whole or not at all: half an instruction may say the opposite."""
    said = by_words(tidy(words), 120)
    return maybe(worth, f". {said}") if said else fixed("")
