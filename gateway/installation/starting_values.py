"""Starting values for delays and deadbands, where a sentence gives none (handbook 2.5).

The figures are those that ISA-18.2 and IEC 62682 print as starting points by kind of signal (not checked against the
standards' own pages, as the handbook says); the deadband of a battery's volts is the handbook's own. They are used only
where a signal says what it `measures`, and `check` names each place, so that the installer may put the maker's figures
and the boat's own history in their stead.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import NamedTuple

from gateway.boat.settings import Measures, Signal
from gateway.installation.lengths import spelt
from gateway.vocabulary.moments import SECOND, Ms
from grammar.meanings import (
    Both,
    Condition,
    Either,
    Gone,
    IsBand,
    IsCompared,
    IsNot,
    IsNumber,
    NoNews,
    While,
    leaves_of,
)


class Starting(NamedTuple):
    """deadband: per cent of the signal's range, or volts of a battery. delay: ms, before it is raised and before it is
    let go; None where the handbook has none."""

    deadband: Decimal
    delay: Ms | None


STARTING: Mapping[Measures, Starting] = {
    Measures.FLOW: Starting(Decimal(5), 15 * SECOND),
    Measures.LEVEL: Starting(Decimal(5), 60 * SECOND),
    Measures.PRESSURE: Starting(Decimal(2), 15 * SECOND),
    Measures.TEMPERATURE: Starting(Decimal(1), 60 * SECOND),
    Measures.BATTERY_12_V: Starting(Decimal("0.2"), None),
    Measures.BATTERY_24_V: Starting(Decimal("0.4"), None),
}
"""Handbook 2.5. A battery has no usual delay: it depends on what cranks or hauls aboard (there: sags are "ridden by the
on-delay, not by a lower limit")."""

BATTERIES = frozenset({Measures.BATTERY_12_V, Measures.BATTERY_24_V})
"""Kinds whose deadband is a figure in volts and asks for no range."""


class Filled(NamedTuple):
    """A point's two sentences with the starting values in, and what must be said of them: key of the file, text."""

    when: Condition
    clears: Condition | Gone | None
    said: tuple[tuple[str, str], ...]


def filled(when: Condition, clears: Condition | Gone | None, signals: Mapping[str, Signal | None]) -> Filled:
    """Delays where none is written; deadbands where none is written and no sentence of its own says what clears.
    signals: by key."""
    said: list[tuple[str, str]] = []
    kinds = [kind for _, kind in _measured(when, signals)]
    if not when.lasting and (slowest := _slowest(kinds)) is not None:
        when = _lasting(when, _delay_of(slowest))
        said.append(("when", _delay(slowest)))
    elif not when.lasting and kinds:
        said.append(("when", _no_delay(kinds[0])))
    if isinstance(clears, Gone) or clears is None:
        when = _banded(when, signals, said)
        if (clears is None or not clears.lasting) and (slowest := _slowest(kinds)) is not None:
            clears = Gone(lasting=_delay_of(slowest))
            said.append(("clears", _delay(slowest)))
    elif not clears.lasting and (slowest := _slowest([kind for _, kind in _measured(clears, signals)])) is not None:
        clears = _lasting(clears, _delay_of(slowest))
        said.append(("clears", _delay(slowest)))
    return Filled(when, clears, tuple(said))


def _slowest(kinds: Sequence[Measures]) -> Measures | None:
    """The kind of the longest delay, None where none of them has one."""
    return max((kind for kind in kinds if STARTING[kind].delay is not None), key=_delay_of, default=None)


def _delay_of(kind: Measures) -> Ms:
    return STARTING[kind].delay or 0


def without_deadband(when: Condition) -> bool:
    """Whether some limit of it has none, so that the alarm may come and go there."""
    return any(leaf.deadband is None for leaf in leaves_of(when) if isinstance(leaf, IsNumber | IsBand | IsCompared))


def unmeasured(when: Condition, signals: Mapping[str, Signal | None]) -> str | None:
    """The first signal of a limit that says nowhere what it measures, where the sentence gives no delay either: nothing
    can be taken for it then, and one reading raises it. None where there is none. signals: by key."""
    if when.lasting:
        return None
    named = (leaf.signal for leaf in leaves_of(when) if isinstance(leaf, IsNumber | IsBand | IsCompared))
    found = (signals.get(key) for key in named)
    return next((signal.key for signal in found if signal is not None and signal.measures is None), None)


def _measured(condition: Condition, signals: Mapping[str, Signal | None]) -> Iterator[tuple[Signal, Measures]]:
    for leaf in leaves_of(condition):
        signal = signals.get(leaf.signal or "") if isinstance(leaf, IsNumber | IsBand | IsCompared) else None
        if signal is not None and signal.measures is not None:
            yield signal, signal.measures


def _no_delay(kind: Measures) -> str:
    return (
        f"gives no delay, and {_a(kind)} has no starting value: one reading raises it, as while an engine cranks; "
        "write one, such as `for 10 min` (handbook 2.5)"
    )


def _delay(kind: Measures) -> str:
    return f"gives no delay: {spelt(_delay_of(kind))} is used, the starting value for {_a(kind)} (handbook 2.5)"


def _a(kind: Measures) -> str:
    return f"a {kind.value}"


def _lasting(condition: Condition, delay: Ms) -> Condition:
    return condition if isinstance(condition, NoNews) else replace(condition, lasting=delay)


def _banded(condition: Condition, signals: Mapping[str, Signal | None], said: list[tuple[str, str]]) -> Condition:
    """The same sentence with the deadbands in that can be reckoned."""
    match condition:
        case Both(parts=parts) | Either(parts=parts):
            return replace(condition, parts=tuple(_banded(part, signals, said) for part in parts))
        case IsNot(part=part):
            return replace(condition, part=_banded(part, signals, said))
        case While(part=part, also=also):
            return replace(condition, part=_banded(part, signals, said), also=_banded(also, signals, said))
        case IsNumber(deadband=None) | IsBand(deadband=None) | IsCompared(deadband=None):
            return _with_deadband(condition, signals, said)
    return condition


def _with_deadband(
    leaf: IsNumber | IsBand | IsCompared, signals: Mapping[str, Signal | None], said: list[tuple[str, str]]
) -> Condition:
    signal = signals.get(leaf.signal)
    if signal is None or signal.measures is None:
        return leaf
    kind = signal.measures
    if kind in BATTERIES:
        return _taken(leaf, kind, STARTING[kind].deadband, signal.unit, said)
    if signal.lowest is None or signal.highest is None:
        said.append(
            (
                "when",
                f"gives no deadband, and the starting value for {_a(kind)} is {STARTING[kind].deadband} % of the "
                f"range: write lowest and highest in [signal.{signal.key}] (handbook 2.5)",
            )
        )
        return leaf
    deadband = ((signal.highest - signal.lowest) * STARTING[kind].deadband / Decimal(100)).normalize()
    return _taken(leaf, kind, deadband, signal.unit, said)


def _taken(
    leaf: IsNumber | IsBand | IsCompared, kind: Measures, deadband: Decimal, unit: str, said: list[tuple[str, str]]
) -> Condition:
    """The same with this deadband, where it leaves something between the limits."""
    if isinstance(leaf, IsBand) and leaf.outside and 2 * deadband >= leaf.high - leaf.low:
        said.append(("when", "gives no deadband, and the starting value would leave nothing between its limits"))
        return leaf
    figure = f"{deadband:f} {unit}".rstrip()
    said.append(("when", f"gives no deadband: {figure} is used, the starting value for {_a(kind)} (handbook 2.5)"))
    if isinstance(leaf, IsCompared):
        return replace(leaf, deadband=deadband, unit=unit)
    return replace(leaf, deadband=deadband)
