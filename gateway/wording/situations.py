"""One alarm in words: since when, its value and limit, what may be replied to it."""

from collections.abc import Sequence

from gateway.alarms.life import ASIDE
from gateway.alarms.settings import Point
from gateway.requests.settings import GRAVE
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority
from gateway.wording.clocks import Clock, lasting
from gateway.wording.fitting import Piece, Worth, capitals, clipped, fixed, maybe, tidy
from gateway.wording.names import SHORT_POINT, begins_with_carrier_word, point_name
from gateway.wording.scene import Scene
from grammar.meanings import IsBand, IsNumber, NoNews

CONTACT_WORDS = frozenset({"on", "off", ""})
"""Values that say no more than the alarm's own name."""


def since(situation: Situation, clock: Clock) -> Piece:
    """Since when: " since 03:04 boat time"; for a late reading when it happened and came, or that nobody knows when it
    happened; for a state that was only found on connecting, that its age is unknown; for one that has gone, from when
    to when."""
    if situation.found:
        return Piece((", state found on connecting, age unknown", ", found so, age unknown"), (Worth.SINCE,))
    began, gone, came = situation.since, situation.gone, situation.received
    if came is not None and clock.at(began) == clock.at(came):
        return fixed(f", received {clock.at(came)}, age unknown")
    if came is not None:
        return fixed(f", happened {clock.at(began)}, received {clock.at(came)}{clock.mark(began, came)}")
    if gone is not None:
        return fixed(f" from {clock.at(began)}, gone since {clock.at(gone)}{clock.mark(began, gone)}")
    return fixed(f" since {clock.told(began)}")


def value(situation: Situation, point: Point | None, now: Ms) -> Piece:
    """The value and its limit: ", 11.9 V (below 12.0 V)"; for a silence how long it has lasted. Only while it holds:
    the value is that of the raising."""
    when = point.when if point else None
    if isinstance(when, NoNews):
        return maybe(Worth.VALUE, "" if situation.gone else f" ({lasting(now - situation.since)})")
    measured = tidy(situation.measured)
    if measured in CONTACT_WORDS or situation.gone is not None:
        return fixed("")
    measured = f"{'was ' if situation.old else ''}{clipped(measured, 30)}"
    if isinstance(when, IsNumber | IsBand):
        limit = tidy(_limit(when))
        return maybe(Worth.VALUE, f", {measured} ({limit})", f", {measured}")
    return maybe(Worth.VALUE, f", {measured}")


def _limit(when: IsNumber | IsBand) -> str:
    if isinstance(when, IsNumber):
        return f"{when.than} {when.limit} {when.unit}"
    return f"{'outside' if when.outside else 'between'} {when.low} and {when.high} {when.unit}"


def times(situation: Situation) -> Piece:
    """How often it came, when more than once."""
    return maybe(Worth.ADVICE, f", came {situation.times} times" if situation.times > 1 else "")


def severity(point: Point | None, *, worse: bool = False, worth: Worth = Worth.NICETY) -> Piece:
    """That it is no more than a warning or a caution, or was one that nobody took. An emergency is in capitals instead
    (our choice). worth: of being no more than that."""
    if worse and point is not None and point.alarm_with_others:
        return maybe(Worth.VALUE, ", ALARM now")  # nobody took it, or others stand beside it
    if worse:
        return maybe(Worth.VALUE, ", nobody took it, ALARM now", ", ALARM now")
    slight = point is not None and point.priority in (Priority.WARNING, Priority.CAUTION)
    return maybe(worth, f", {point.priority}" if point is not None and slight else "")


def offers(scene: Scene, boat: str, situation: Situation) -> Piece:
    """What else may be replied, in capitals, one piece that shortens offer by offer. Left out in any case: the reply
    that takes the alarm (said elsewhere), what a carrier would swallow, and the start of an engine, a heater or an
    inverter, which is never offered unasked (handbook 7.3)."""
    said = [capitals(offer) for offer in situation.offers]
    said = [
        offer for offer in said if offer and not offer.startswith("HAVE IT") and not begins_with_carrier_word(offer)
    ]
    said = [offer for offer in said if not starts_something_grave(scene, boat, offer)]
    lists = [" or ".join(said[:count]) for count in range(len(said), 0, -1)]
    return maybe(Worth.ADVICE, *(f" or {some}" for some in lists))


def starts_something_grave(scene: Scene, boat: str, phrase: str) -> bool:
    """Whether the phrase brings an engine, a heater or an inverter of this boat to life."""
    words = phrase.casefold().split()
    for thing in scene.equipment.values():
        if thing.boat == boat and thing.sort in GRAVE and thing.pair[0] in words:
            names = (thing.name, thing.key.replace("-", " "), *thing.spoken_names)
            if any(tidy(name).casefold() in phrase.casefold() for name in names):
                return True
    return False


def listed(scene: Scene, situation: Situation, clock: Clock, holder: str = "", *, dear: bool = False) -> Piece:
    """One alarm in a list: "14 BILGE HIGH WATER since 03:04", down to its number and short name: a bare number
    says nothing, and beside another alarm's name it would be read as part of that. dear: keeps its time longer."""
    full = point_name(scene, situation.point)
    number = situation.number
    if situation.found:
        began = ", age unknown"
    elif situation.gone is not None:
        began = f", gone since {clock.at(situation.gone)}"
    elif situation.received is not None and clock.at(situation.since) == clock.at(situation.received):
        began = f", received {clock.at(situation.received)}, age unknown"
    elif situation.received is not None:
        began = f", happened {clock.at(situation.since)}, received {clock.at(situation.received)}"
    else:
        began = f" since {clock.at(situation.since)}"
    if situation.state in ASIDE:
        until = f" until {clock.at(situation.until)}" if situation.until is not None else ""
        holder = f", {situation.state}{until}"
    forms = [
        f"{number} {full}{began}{holder}",
        f"{number} {full}{holder}",
        f"{number} {full}",
        f"{number} {clipped(full, SHORT_POINT)}",
    ]
    time_worth = Worth.VALUE if dear else Worth.NICETY
    return Piece(tuple(forms), (time_worth, Worth.VALUE if dear else Worth.ADVICE, Worth.SINCE))


def boat_of(situation: Situation) -> str:
    """Key of the boat that the alarm is a matter of."""
    return situation.point.partition("/")[0]


def gravity(scene: Scene, situation: Situation) -> int:
    """How grave it is told as: by its point, or as the alarm that a warning has become; as an alarm where the point is
    not known any more."""
    point = scene.points.get(situation.point)
    if point is None or (situation.worse and point.priority is not Priority.EMERGENCY):
        return Priority.ALARM.gravity
    return point.priority.gravity


def worst_first(scene: Scene, situations: tuple[Situation, ...]) -> list[Situation]:
    """The situations, the gravest first, of the same gravity the oldest first."""

    def order(situation: Situation) -> tuple[int, Ms, int]:
        return (-gravity(scene, situation), situation.since, situation.number)

    return sorted(situations, key=order)


def said_together(scene: Scene, situations: Sequence[Situation]) -> str:
    """What several are called, by the gravest of them: "alarms", "warnings" or "cautions", so that nobody sets out in
    the night for what can wait."""
    worst = max(gravity(scene, each) for each in situations)
    slight = (one for one in (Priority.WARNING, Priority.CAUTION) if one.gravity == worst)
    return f"{next(slight, 'alarm')}s"
