"""What each signal of a boat is for: which alarms, which equipment, which interlocks rest on it."""

from collections.abc import Iterable, Mapping

from gateway.alarms.settings import Point
from gateway.boat.settings import Signal
from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings
from gateway.requests.settings import Equipment
from grammar.meanings import Condition, Gone, NoNews, signals_of


def named_in(*conditions: Condition | Gone | None) -> frozenset[str]:
    """Keys of the signals that the conditions name; silence of the whole boat names none."""
    said = [one for one in conditions if one is not None and not isinstance(one, Gone)]
    return frozenset(key for one in said for key in signals_of(one))


def in_alarms(points: Iterable[Point]) -> Mapping[str, tuple[str, ...]]:
    """By signal's key: the keys of the alarm points that name it."""
    found: dict[str, tuple[str, ...]] = {}
    for point in points:
        for key in named_in(point.when, point.clears):
            found[key] = (*found.get(key, ()), point.key)
    return found


def in_switching(equipment: Iterable[Equipment]) -> Mapping[str, tuple[str, ...]]:
    """By signal's key: the keys of the equipment that rests on it, as feedback, count, proof, selector or interlock."""
    found: dict[str, tuple[str, ...]] = {}
    for piece in equipment:
        ids = (piece.feedback, piece.count, piece.proof, piece.selector)
        keys = {each.partition("/")[2] for each in ids if each is not None}
        for key in sorted(keys | named_in(*(lock.needs for lock in piece.interlocks))):
            found[key] = (*found.get(key, ()), piece.key)
    return found


def silence_of_all(points: Iterable[Point]) -> bool:
    """Whether somebody is told when nothing at all comes from the boat."""
    return any(isinstance(point.when, NoNews) and point.when.signal is None for point in points)


def used_by_nothing(signals: Iterable[Signal], points: Iterable[Point], equipment: Iterable[Equipment]) -> list[Signal]:
    """Signals that are heard for nothing: no alarm, no equipment and no interlock rests on them, and not even their
    silence is noticed, because no alarm tells of the whole boat's."""
    points = tuple(points)
    if silence_of_all(points):
        return []
    used = {*in_alarms(points), *in_switching(equipment)}
    return [signal for signal in signals if signal.key not in used and signal.senses is None]


def check_used(boat: Fitted, findings: Findings) -> None:
    """A signal that nothing uses is a slip of the pen, or a point that was forgotten. Nothing is said while a table
    is at fault: it may be the one that uses the signal."""
    equipment = [piece for piece in boat.equipment.values() if piece]
    signals = [signal for signal in boat.signals.values() if signal]
    whole = len(equipment) == len(boat.equipment) and len(signals) == len(boat.signals)
    if not whole or len(boat.points) < len(boat.alarm_tables.values["alarm"]):
        return
    reckoned = {each for one in boat.sums.values() if one for each in one.signals.values()}
    signals = [signal for signal in signals if signal.id not in reckoned]
    for signal in used_by_nothing(signals, boat.points.values(), equipment):
        findings.warn(
            boat.signal_tables, ("signal", signal.key), "no alarm, equipment or interlock uses it; only status shows it"
        )
