"""Starting values for delays and deadbands, where a sentence gives none (handbook 2.5).

The figures are those that ISA-18.2 and IEC 62682 print as starting points by kind of signal (not checked against the
standards' own pages, as the handbook says). They are used only where a signal says what it `measures`, and `check`
names each place, so that the installer may put the maker's figures and the boat's own history in their stead.
"""

from collections.abc import Iterator, Mapping
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
    """deadband: per cent of the signal's range. delay: ms, before it is raised and before it is let go."""

    deadband: int
    delay: Ms


STARTING: Mapping[Measures, Starting] = {
    Measures.FLOW: Starting(5, 15 * SECOND),
    Measures.LEVEL: Starting(5, 60 * SECOND),
    Measures.PRESSURE: Starting(2, 15 * SECOND),
    Measures.TEMPERATURE: Starting(1, 60 * SECOND),
}
"""Handbook 2.5."""


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
    if kinds and not when.lasting:
        slowest = max(kinds, key=lambda kind: STARTING[kind].delay)
        when = _lasting(when, STARTING[slowest].delay)
        said.append(("when", _delay(slowest)))
    if isinstance(clears, Gone) or clears is None:
        when = _banded(when, signals, said)
        if kinds and (clears is None or not clears.lasting):
            slowest = max(kinds, key=lambda kind: STARTING[kind].delay)
            clears = Gone(lasting=STARTING[slowest].delay)
            said.append(("clears", _delay(slowest)))
    elif not clears.lasting and (ends := [kind for _, kind in _measured(clears, signals)]):
        slowest = max(ends, key=lambda kind: STARTING[kind].delay)
        clears = _lasting(clears, STARTING[slowest].delay)
        said.append(("clears", _delay(slowest)))
    return Filled(when, clears, tuple(said))


def without_deadband(when: Condition) -> bool:
    """Whether some limit of it has none, so that the alarm may come and go there."""
    return any(leaf.deadband is None for leaf in leaves_of(when) if isinstance(leaf, IsNumber | IsBand | IsCompared))


def _measured(condition: Condition, signals: Mapping[str, Signal | None]) -> Iterator[tuple[Signal, Measures]]:
    for leaf in leaves_of(condition):
        signal = signals.get(leaf.signal or "") if isinstance(leaf, IsNumber | IsBand | IsCompared) else None
        if signal is not None and signal.measures is not None:
            yield signal, signal.measures


def _delay(kind: Measures) -> str:
    return f"gives no delay: {spelt(STARTING[kind].delay)} is used, the starting value for {_a(kind)} (handbook 2.5)"


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
    if isinstance(leaf, IsBand) and leaf.outside and 2 * deadband >= leaf.high - leaf.low:
        said.append(("when", "gives no deadband, and the starting value would leave nothing between its limits"))
        return leaf
    figure = f"{deadband:f} {signal.unit}".rstrip()
    said.append(("when", f"gives no deadband: {figure} is used, the starting value for {_a(kind)} (handbook 2.5)"))
    if isinstance(leaf, IsCompared):
        return replace(leaf, deadband=deadband, unit=signal.unit)
    return replace(leaf, deadband=deadband)
