"""Texts about duty: who has it, who is asked to have it, why nothing was changed."""

from gateway.telling.duty_notices import CannotDuty, DutyAnswer, DutyOf, DutyOver, DutyTold, DutyUnchanged, DutyWanted
from gateway.vocabulary.moments import HOUR, Ms, as_utc
from gateway.wording.clocks import Clock, clock
from gateway.wording.fitting import Piece, Worth, fit, fixed, maybe, packed
from gateway.wording.names import boat, boat_short, first_name
from gateway.wording.scene import Scene


def _head(scene: Scene, boats: tuple[str, ...]) -> Piece:
    """The boat that it is about, or how many."""
    return boat(scene, boats[0]) if len(boats) == 1 else fixed(f"{len(boats)} boats")


def _clock(scene: Scene, boats: tuple[str, ...], person: str) -> Clock:
    return clock(scene, boats[0] if boats else "", person)


def _end(at: Clock, until: Ms) -> str:
    """The end of a day is its 24:00, not the next one's 00:00: "Sun 24:00", "22 Mar 24:00"."""
    local = as_utc(until + at.offset).astimezone(at.zone)
    if (local.hour, local.minute) != (0, 0) or local.fold:
        return at.told(until)
    return f"{at.day_of(until - HOUR)}24:00{at.mark(until)}"


def _until(at: Clock, until: Ms | None) -> str:
    return "" if until is None else f" until {_end(at, until)}"


def _names(scene: Scene, people: tuple[str, ...], reader: str, otherwise: str = "somebody") -> str:
    """At most two of them, the reader as "you"."""
    said = ["you" if one == reader else first_name(scene, one) for one in people[:2]]
    return " or ".join(said) or otherwise


def duty_answer(notice: DutyAnswer, scene: Scene) -> str:
    """Who is on duty, until when, and who follows; with several boats those that differ apart."""
    if not notice.duties:
        head = boat(scene, notice.boat) if notice.boat else fixed("Your boats")
        lists = ". Alarms are told as each list says"
        return fit([head, fixed(": no list here tells whoever is on duty"), maybe(Worth.VALUE, lists)])
    if len(notice.duties) == 1:
        (one,) = notice.duties
        at = _clock(scene, one.boats, notice.person)
        who = "nobody: all of the roster are told" if one.who is None else _names(scene, (one.who,), notice.person)
        then = "" if one.following is None else f", then {_names(scene, (one.following,), notice.person)}"
        until = _until(at, one.until)
        return fit([_head(scene, one.boats), fixed(f": on duty {who}{until}"), maybe(Worth.VALUE, then)])
    items = [_item(scene, one, notice.person) for one in notice.duties]
    before = [fixed("On duty: ")]
    return packed(before, items, [], " and {count} more", "; ") or fit([*before, fixed(f"{len(items)} several")])


def _item(scene: Scene, one: DutyOf, reader: str) -> list[Piece]:
    who = "nobody" if one.who is None else _names(scene, (one.who,), reader)
    named = boat_short(scene, one.boats[0]) if len(one.boats) == 1 else fixed(f"{len(one.boats)} boats")
    return [fixed(f"{who} for "), named, maybe(Worth.VALUE, _until(_clock(scene, one.boats, reader), one.until))]


def duty_told(notice: DutyTold, scene: Scene) -> str:
    """Duty has passed: to whoever has it now, to whoever had it, to whoever asked for it."""
    until = _until(_clock(scene, notice.boats, notice.person), notice.until)
    head, who = _head(scene, notice.boats), first_name(scene, notice.who)
    if notice.person == notice.who:
        before = "".join(f", no longer {first_name(scene, one)}" for one in notice.before[:1])
        return fit(
            [
                head,
                fixed(f": you are on duty{until}{before}"),
                maybe(Worth.MEANING, ". What is told to whoever is on duty comes to you"),
                maybe(Worth.ADVICE, ". To hand it on reply DUTY and a name"),
            ]
        )
    no_longer = ", you no longer" if notice.person in notice.before else ""
    return fit([head, fixed(f": {who} is on duty{until}{no_longer}{', as you asked' if notice.asked else ''}")])


def duty_wanted(notice: DutyWanted, scene: Scene) -> str:
    """Will you? And to whoever asks: nothing has changed yet."""
    at = _clock(scene, notice.boats, notice.person)
    head, until = _head(scene, notice.boats), _until(at, notice.until)
    keeps = _names(scene, notice.keeps, notice.person, "nobody")
    if notice.person == notice.who:
        return fit(
            [
                head,
                fixed(f": {first_name(scene, notice.by)} asks you to be on duty{until}"),
                fixed(". Will you? Reply DUTY ME, else DUTY OFF"),
                maybe(Worth.VALUE, f", by {at.told(notice.lapses)}"),
                maybe(Worth.MEANING, f". Till you answer it is {keeps}"),
            ]
        )
    return fit(
        [
            head,
            fixed(f": {first_name(scene, notice.who)} is asked to be on duty{until}"),
            fixed(f". Nothing has changed yet: it is {keeps}"),
            maybe(Worth.VALUE, f". No answer by {at.told(notice.lapses)} leaves it so"),
        ]
    )


def duty_over(notice: DutyOver, scene: Scene) -> str:
    """A duty has come to the end that was said: to whoever had it, and to whoever follows by the roster."""
    at, head = _clock(scene, notice.boats, notice.person), _head(scene, notice.boats)
    if notice.person == notice.following:
        open_ones = ", ".join(str(number) for number in notice.open[:4])
        left = len(notice.open) - 4
        more = f" and {left} more" if left > 0 else ""
        return fit(
            [
                head,
                fixed(f": you are on duty now by the roster{_until(at, notice.until)}"),
                fixed(f", no longer {first_name(scene, notice.who)}"),
                maybe(Worth.VALUE, f". Open alarms: {open_ones}{more}" if open_ones else ""),
                maybe(Worth.ADVICE, ". To hand it on reply DUTY and a name"),
            ]
        )
    nobody = "nobody, so all of the roster are told"
    now = nobody if notice.following is None else first_name(scene, notice.following)
    return fit([head, fixed(f": your duty ended {_end(at, notice.at)}"), fixed(f". On duty now: {now}")])


def duty_unchanged(notice: DutyUnchanged, scene: Scene) -> str:
    """Why who is on duty stays as it was."""
    who = _names(scene, notice.who, notice.person)
    cure = ""
    match notice.cannot:
        case CannotDuty.NO_ROSTER:
            words, cure = "no list here tells whoever is on duty", ". The installer can write a roster"
        case CannotDuty.NOT_YOURS:
            words = f"who is on duty is for {who} to say"
        case CannotDuty.NOBODY_KNOWN:
            words = f"nobody here has that name. Who could: {_names(scene, notice.who, notice.person, 'nobody')}"
            cure = ". Reply DUTY and the name" if notice.who else ""
        case CannotDuty.CANNOT_HAVE:
            words, cure = (
                f"{who} cannot be on duty here",
                ". Whoever is must have the boat and a phone that takes texts",
            )
        case CannotDuty.ALREADY:
            words = f"{who} {'are' if who == 'you' else 'is'} on duty already"
        case CannotDuty.NOT_ON_DUTY:
            have = _names(scene, notice.who, notice.person, "nobody")
            words = f"you are not on duty, it is {have}"
        case CannotDuty.NO_SUCCESSOR:
            words = f"you stay on duty till somebody follows. Who could: {_names(scene, notice.who, '', 'nobody')}"
            cure = ". To ask one reply DUTY and the name" if notice.who else ". Ask the installer"
        case CannotDuty.ASKED_ALREADY:
            words = f"{who} has been asked and has not answered, you stay on duty till then"
        case CannotDuty.DECLINED:
            own = notice.person in notice.who
            words = "noted, you will not be on duty" if own else f"{who} will not be on duty"
        case CannotDuty.NOT_ANSWERED:
            words, cure = f"{who} has not said whether to be on duty", ". To ask another reply DUTY and a name"
    return fit(
        [_head(scene, notice.boats), fixed(f": {words}"), fixed(". Nothing was changed"), maybe(Worth.ADVICE, cure)]
    )
