"""What changes between two installations: people, call-outs, links, and boat by boat what is really fitted.

Pure. Two bundles are compared, not two sets of files: a changed standard shows at every boat that is built on it and
does not say otherwise.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from decimal import Decimal
from enum import Enum
from typing import Any

from gateway.alarms.settings import OutOfService
from gateway.installation.describing_switching import hours
from gateway.installation.lengths import spelt
from gateway.installation.load import Installation
from gateway.people.numbers import masked
from gateway.people.settings import Right
from gateway.requests.settings import PermittedHours
from gateway.telling.settings import Step
from gateway.vocabulary.moments import rfc3339
from grammar.meanings import Condition, Gone, say_condition

GATEWAY, PEOPLE, CALL_OUTS = "gateway", "people", "call-outs"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One value that is not the same. where: a boat's key, or one of the three words above. what: the thing, and its
    key of the files. old, new: as they would be written; None where the whole thing is not there."""

    where: str
    what: str
    old: str | None
    new: str | None


Things = Mapping[tuple[str, str], Mapping[str, str]]
"""By where and thing: the values by their key, as they would be written. A thing's first value tells what it is."""


def differences(new: Installation, old: Installation) -> tuple[Difference, ...]:
    """All of them, in a fixed order: gateway, people, call-outs, then boat by boat."""
    before, after = _things(old), _things(new)
    found = []
    for where, thing in sorted({**before, **after}, key=_place):
        was, becomes = before.get((where, thing)), after.get((where, thing))
        if was is None or becomes is None:
            gone_or_new = Difference(where=where, what=thing, old=_first(was), new=_first(becomes))
            if thing == "boat" or (where, "boat") in (before if was is None else after) or where in _FIRST:
                found.append(gone_or_new)  # what comes or goes with a whole boat is not told piece by piece
            continue
        for key in {**was, **becomes}:
            left, right = was.get(key, "-"), becomes.get(key, "-")
            if left != right:
                if key == "number":
                    left, right = masked(left), f"another, {masked(right)}"
                found.append(Difference(where=where, what=f"{thing}: {key}", old=left, new=right))
    return tuple(found)


_FIRST = {GATEWAY: 0, PEOPLE: 1, CALL_OUTS: 2}


def _place(at: tuple[str, str]) -> tuple[int, str, bool, str]:
    where, thing = at
    return _FIRST.get(where, len(_FIRST)), where, thing != "boat", thing


def _first(thing: Mapping[str, str] | None) -> str | None:
    return None if thing is None else next(iter(thing.values()))


def _things(of: Installation) -> Things:
    return {(where, thing): values for where, thing, values in _walk(of)}


def _walk(of: Installation) -> Iterator[tuple[str, str, Mapping[str, str]]]:
    bundle = of.bundle
    for broker in of.brokers:
        yield GATEWAY, f"broker {broker.name}", _said(broker, "host", leave_out=("name", "password"))
    for carrier in of.carriers:
        yield GATEWAY, f"carrier {carrier.name}", _said(carrier, "account", leave_out=("name", "token"))
    yield GATEWAY, "pacing", _said(bundle.pacing)
    for person in bundle.people.values():
        yield PEOPLE, f"person {person.key}", _said(person, "name", leave_out=("id", "key"))
    who = {person.id: person.key for person in bundle.people.values()}
    for callout in bundle.callouts.values():
        whose, by_role, key = callout.key.rpartition("/")
        rounds = {
            "steps": "; ".join(_step(step, who) for step in callout.steps),
            "repeat": "-" if callout.repeat is None else spelt(callout.repeat),
        }
        yield whose if by_role else CALL_OUTS, f"call-out {key}", rounds
    for boat in bundle.boats.values():
        built_on = {"built_on": of.standards[boat.key] or "-"}
        yield boat.key, "boat", {**_said(boat, "name", leave_out=("key", "bank")), **built_on}
        if boat.bank is not None:
            yield boat.key, "bank", _said(boat.bank, "capacity")
    for supply in of.supplies:
        yield supply.boat, "link ashore", _said(supply, "amps", leave_out=("boat",))
    for signal in bundle.signals.values():
        yield signal.boat, f"signal {signal.key}", _said(signal, "topic", leave_out=("id", "boat", "key"))
    for point in bundle.points.values():
        values = _said(point, "name", leave_out=("id", "boat", "key"))
        yield point.boat, f"alarm {point.key}", values | {"callout": point.callout.rpartition("/")[2]}
    for piece in bundle.equipment.values():
        yield piece.boat, f"equipment {piece.key}", _said(piece, "name", leave_out=("id", "boat", "key", "interlocks"))
        for lock in piece.interlocks:
            yield piece.boat, f"equipment {piece.key}, interlock {lock.key}", _said(lock, "needs", leave_out=("key",))


def _step(step: Step, who: Mapping[str, str]) -> str:
    return f"{spelt(step.after)} {', '.join(who[person] for person in step.tell)}"


_LENGTHS = frozenset(
    {
        "report_interval",
        "prove_within",
        "run_limit",
        "default_run",
        "minimum_off",
        "minimum_on",
        "command_valid",
        "cooling_off",
        "cool_down",
    }
    | {"ask_again", "becomes_alarm", "alarm_with_others"}
)
_IDS = frozenset({"feedback", "count", "proof", "selector"})


def _said(thing: Any, first: str = "", *, leave_out: tuple[str, ...] = ()) -> dict[str, str]:
    """A settings value as its keys and how they would be written, the one that tells most first."""
    names = [field.name for field in fields(thing) if field.name not in leave_out]
    names.sort(key=lambda name: name != first)
    return {name: _written(name, getattr(thing, name)) for name in names}


def _written(name: str, value: Any) -> str:
    if isinstance(value, Condition | Gone):
        return say_condition(value)
    match value:
        case None | "" | ():
            return "-"
        case bool():
            return "true" if value else "false"
        case int() if name in _LENGTHS:
            return spelt(value)
        case str() if name in _IDS:
            return value.partition("/")[2]
        case Enum():
            return str(value.value)
        case Decimal():
            return f"{value:f}"
        case OutOfService():
            return f"until {rfc3339(value.until)}, {value.by}: {value.because}"
        case PermittedHours():
            return hours(value)
        case Right():
            return f"{value.boat} {value.equipment} {' '.join(value.actions)}".strip()
        case tuple():
            return ", ".join(_written("", each) for each in value)
    if is_dataclass(value):
        raise TypeError(f"{name}: {type(value).__name__} has no written form yet; give it one here")
    return str(value)
