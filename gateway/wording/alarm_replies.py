"""Answers to texts about alarms and visits: not taken, cannot, visit begun or over, which boat, not understood."""

from collections.abc import Mapping

from gateway.requests.settings import Equipment
from gateway.telling.notices import AlarmAnswer, Cannot, NotRead, NotTaken, VisitAnswer, WhichBoat
from gateway.wording.clocks import clock
from gateway.wording.fitting import Piece, Worth, capitals, clipped, fit, fixed, maybe, name, packed, placed
from gateway.wording.names import (
    SHORT_POINT,
    begins_with_carrier_word,
    boat,
    boat_name,
    equipment_of,
    first_name,
    phrase_name,
    point_name,
    thing_name,
    what,
)
from gateway.wording.own_kinds import fit_as
from gateway.wording.scene import Scene
from grammar.meanings import Why

OPPOSITES = {"START": "STOP", "STOP": "START", "ON": "OFF", "OFF": "ON", "OPEN": "CLOSE", "CLOSE": "OPEN"}


def not_taken(notice: NotTaken, scene: Scene) -> str:
    """ "ok" to an alarm that nobody holds (handbook 7.3 no. 3): it takes nothing, and who is next."""
    at = clock(scene, notice.boat, notice.person)
    number = notice.situation.number
    if notice.next_person is None:
        otherwise = Piece((". If not, ring somebody: nobody else is told", ". Nobody else is told"), (Worth.ADVICE,))
    else:
        again = notice.next_person == notice.person
        told = "you are told again" if again else f"{first_name(scene, notice.next_person)} is told next"
        when = f" at {at.told(notice.next_at)}" if notice.next_at is not None else ""
        otherwise = Piece((f". If not, do nothing: {told}{when}", f". If not: {told}{when}"), (Worth.ADVICE,))
    return fit_as(
        "not taken",
        scene,
        [
            fixed(f"NOT taken: alarm {number} "),
            *placed("boat", boat(scene, notice.boat)),
            maybe(Worth.MEANING, f", {what(scene, notice.situation.point).forms[0]},"),
            fixed(" still has nobody"),
            *placed("reply", Piece((". If you are dealing with it reply ", ". Reply "), (Worth.VALUE,))),
            *placed("reply", fixed(f"HAVE IT {number}")),
            *placed("otherwise", otherwise),
        ],
        *placed("not", fixed(f"NOT taken: alarm {number}")),
        *placed("what", what(scene, notice.situation.point)),
        *placed("number", fixed(str(number))),
    )


def alarm_answer(notice: AlarmAnswer, scene: Scene) -> str:
    """Why a "have it" or "checked" did nothing."""
    number = str(notice.numbers[0]) if notice.numbers else "number"
    head = [boat(scene, notice.boat), fixed(": ")]
    if notice.aboard:
        return fit([boat(scene, notice.boat), *_none_of_his(notice, scene, number), fixed(COUNTS_AS_ABOARD)])
    match notice.cannot:
        case Cannot.NO_SUCH:
            asked = f"there is no alarm {number}" if notice.numbers else "there is no alarm with that number"
            return fit([*head, fixed(f"{asked}. Nothing was changed. Reply ALARMS for the open ones")])
        case Cannot.CLOSED:
            asked = f"alarm {number}" if notice.numbers else "that alarm"
            return fit(
                [*head, fixed(f"{asked} is closed already. Nothing was changed. Reply ALARMS for the open ones")]
            )
        case Cannot.NONE_OPEN:
            return fit([*head, fixed("no alarm is open, so nothing was changed. Reply STATUS for the latest values")])
        case Cannot.WHICH:
            return _which_alarm(notice, scene, number)
        case Cannot.STILL_ACTIVE:
            return fit(
                [
                    *head,
                    fixed(f"alarm {number} has not gone yet. Nothing was changed. Reply CHECKED {number} once it has"),
                ]
            )
        case Cannot.TAKE_FIRST:
            return fit(
                [*head, fixed(f"nobody has alarm {number} yet. Reply HAVE IT {number}, after looking CHECKED {number}")]
            )
        case Cannot.HELD_BY_OTHER:
            return _held(notice, scene, number)
        case Cannot.HELD_BY_NOBODY if notice.numbers:
            return fit([*head, fixed(f"nobody has alarm {number} yet, you neither. Reply HAVE IT {number} first")])
        case Cannot.HELD_BY_NOBODY:
            return fit([*head, fixed("you have no alarm, so nothing was changed. Reply ALARMS for the open ones")])
        case Cannot.NOT_LATCHED:
            return fit([*head, fixed(f"alarm {number} needs no CHECKED. Once taken and gone it closes by itself")])


COUNTS_AS_ABOARD = ". You count as aboard: no text starts an engine until you reply VISIT OVER"
"""Said to whoever texts "at boat" without having the alarm (design rule 10)."""


def _none_of_his(notice: AlarmAnswer, scene: Scene, number: str) -> list[Piece]:
    """Which alarm is not the reader's, to whoever says all the same that he is at the boat."""
    if notice.cannot is Cannot.HELD_BY_OTHER:
        return [fixed(f": {first_name(scene, notice.holder or '')} has alarm {number}, you do not")]
    if notice.cannot is Cannot.HELD_BY_NOBODY and notice.numbers:
        return [fixed(": "), fixed(f"nobody has alarm {number} yet, you neither. Reply HAVE IT {number} first")]
    return [fixed(f": alarm {number} is not open" if notice.numbers else ": you have no alarm")]


def _held(notice: AlarmAnswer, scene: Scene, number: str) -> str:
    """Somebody else has it: two who wanted it at once, or what only its holder may say."""
    holder = first_name(scene, notice.holder or "")
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": {holder} has alarm {number}, you do not"),
            maybe(Worth.MEANING, ". Nothing was changed"),
            fixed(f". To have it instead reply TAKE OVER {number}"),
        ]
    )


def _which_alarm(notice: AlarmAnswer, scene: Scene, number: str) -> str:
    """Several could be meant: each with its boat, number and name, the worst first."""
    before = [*([boat(scene, notice.boat), fixed(": which")] if notice.boat else [fixed("Which")]), fixed(" alarm? ")]
    example = Piece(
        (f". Nothing was changed. Reply HAVE IT or CHECKED with its number, as {number}", ". Nothing was changed"),
        (Worth.MEANING,),
    )
    items = [
        [
            *([] if notice.boat else [boat(scene, each.point.partition("/")[0]), fixed(" ")]),
            fixed(f"{each.number} "),
            name(point_name(scene, each.point), SHORT_POINT),
        ]
        for each in notice.situations
    ] or [[fixed("reply ALARMS")]]
    return packed(before, items, [example], " and {count} more: ALARMS") or fit([*before, example])


def visit_answer(notice: VisitAnswer, scene: Scene) -> str:
    """A visit begun or ended by text."""
    at = clock(scene, notice.boat, notice.person)
    if notice.begun:
        return fit(
            [
                boat(scene, notice.boat),
                fixed(f": visit noted from {at.told(scene.now if notice.since is None else notice.since)}"),
                maybe(Worth.MEANING, ". Until it ends no text starts an engine or a heater"),
                fixed(". When you have left and nobody is aboard reply VISIT OVER"),
            ]
        )
    if notice.elsewhere:
        there = clock(scene, notice.elsewhere, notice.person)
        since = notice.elsewhere_since
        other = boat_name(scene, notice.elsewhere)
        return fit(
            [
                boat(scene, notice.boat),
                fixed(": no visit of yours stood here, she counts as empty now"),
                fixed(". Your visit to "),
                name(other, 24, 12),
                maybe(Worth.VALUE, f" since {there.told(since)}" if since is not None else ""),
                fixed(" still stands"),
                maybe(Worth.ADVICE, ". When you have left reply with her name and VISIT OVER"),
            ]
        )
    began = f" (somebody aboard since {at.told(notice.since)})" if notice.since is not None else ""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": visit over at {at.told(scene.now)}"),
            maybe(Worth.NICETY, began),
            fixed(". On your word the boat counts as empty. If anyone is still aboard reply VISIT now"),
        ]
    )


def which_boat(notice: WhichBoat, scene: Scene) -> str:
    """A text that needs a boat and named none; never guessed."""
    example = capitals(notice.example)
    before = [
        fixed("Which boat? Nothing was done. Begin with its name"),
        maybe(Worth.ADVICE, f", as in {example}" if example else ""),
        fixed(": "),
    ]
    items = [[name(boat_name(scene, key), 30, 16)] for key in notice.boats]
    return packed(before, items, [], " and {count} more") or fit(before[:1])


def not_read(notice: NotRead, scene: Scene) -> str:
    """A text that was not understood: nothing was done, and what might have been meant. Opposites come in pairs."""
    because, cure = _why(notice, equipment_of(scene, notice.boat, notice.equipment), scene)
    offered = _nearest(notice.nearest) if notice.why != Why.REACTION else []
    head = [boat(scene, notice.boat), fixed(": ")] if notice.boat else []
    because = because if head else because[:1].upper() + because[1:]
    return fit(
        [
            *head,
            fixed(f"{because}. Nothing was done"),
            Piece((*(f". Did you mean {' or '.join(some)}?" for some in offered), ""), (Worth.MEANING,) * len(offered)),
            maybe(Worth.MEANING, f"{' ' if offered else '. '}{cure}" if cure else ""),
        ]
    )


def _why(notice: NotRead, equipment: Equipment | None, scene: Scene) -> tuple[str, str]:
    """The reason and what to do."""
    thing = clipped(thing_name(scene, equipment.id), 30) if equipment else "it"
    spoken = phrase_name(scene, equipment.id) if equipment else None
    pair = equipment.pair if equipment else None
    match notice.why:
        case Why.LIMIT_ON_STOP:
            before = boat_name(scene, notice.boat) if notice.named else ""
            return f"no time can be set here, it would bring {thing} back later unasked", _offer(
                before, spoken, pair, 1
            )
        case Why.NOT_FITTED:
            return f"this boat has no {thing} that can be switched or asked after", "Reply STATUS for what it has"
        case Why.WRONG_ACTION | Why.AT_THE_BOAT_ONLY:
            return _not_its_action(notice, equipment, scene)
        case _:
            return _REASONS.get(notice.why, ("not understood", "Reply PHRASES for what can be texted"))


_REASONS: Mapping[str, tuple[str, str]] = {
    Why.EMPTY: ("your text came empty", "Reply PHRASES for what can be texted"),
    Why.TOO_LONG: ("your text is too long for an order", "Reply PHRASES for what can be texted"),
    Why.MERE_ANSWER: ("that takes no alarm", "To take one reply HAVE IT and its number"),
    Why.REACTION: ("a reaction or a quoted text is no order", "Type the words yourself"),
    Why.OPT_OUT: (
        "that word alone can make the carrier block all alarms to you",
        "For a machine put its name first. Reply PHRASES",
    ),
    Why.OPT_IN: ("that word alone is for the carrier, not for the boat", "Reply PHRASES for what can be texted"),
    Why.HALF_A_CODE: ("GO, DROP and PROVE each need two words", "Copy both words from the last text"),
    Why.CODE_ALONE: ("GO belongs before the two words", "Copy all of it from the last text"),
    Why.PROOF_ALONE: ("PROVE belongs before the two words", "Copy all of it from the last text"),
    Why.WHOSE_PHONE: (
        "nobody was named whose phone is lost",
        "Reply PHONE LOST and the name, or PHONE LOST ME",
    ),
    Why.BAD_TIME: ("that time can't be read", "Write FOR 2 H or UNTIL 18:00, at most 24 hours"),
}
"""Reasons that hold no name, with what to do."""


def _not_its_action(notice: NotRead, equipment: Equipment | None, scene: Scene) -> tuple[str, str]:
    thing = clipped(thing_name(scene, equipment.id), 30) if equipment else "it"
    if notice.why == Why.AT_THE_BOAT_ONLY:
        before = boat_name(scene, notice.boat) if notice.named else ""
        close = _offer(before, phrase_name(scene, equipment.id), equipment.pair, 1) if equipment else ""
        return f"{thing} is opened at the boat only, never by text", close
    known = f", only {' and '.join(action.upper() for action in equipment.actions)}" if equipment else ""
    return f"{thing} does not know that word{known}", ""


def _offer(before: str, spoken: str | None, pair: tuple[str, str] | None, which: int) -> str:
    """before: the boat's name, for whoever has several and named one; "" otherwise."""
    named = f"{capitals(before)} " if before else ""
    return f"Reply {named}{clipped(spoken, 30)} {pair[which].upper()}" if spoken and pair else ""


def _nearest(phrases: tuple[str, ...]) -> list[list[str]]:
    """The offered phrases in ever shorter lists, none of which holds one of two opposites without the other."""
    said = [capitals(phrase) for phrase in phrases]
    said = [phrase for phrase in dict.fromkeys(said) if phrase and not begins_with_carrier_word(phrase)]
    whole = set(said)

    def parted(some: list[str]) -> bool:
        return any(opposite(phrase) in whole - set(some) for phrase in some)

    lists = [said[:count] for count in range(len(said), 0, -1)]
    return [some for some in lists if not parted(some)]


def opposite(phrase: str) -> str:
    """The phrase with every action turned round: "GENERATOR START" gives "GENERATOR STOP"."""
    return " ".join(OPPOSITES.get(word, word) for word in phrase.split())
