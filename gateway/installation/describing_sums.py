"""What is reckoned of each boat: from which signals and figures, what is missing, and whose texts carry it.

Pure, as `describing`: what the rooms will do with the bundle, not what the files say.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from gateway.boat.settings import Bank, Signal
from gateway.desk.bundle import Bundle
from gateway.reckoning.asking import spaced
from gateway.reckoning.own_sums import FORMS, HOUSE_BANK, OwnSum, Reckons


@dataclass(frozen=True, slots=True, kw_only=True)
class Rests:
    """One sum of one boat. sum: its key, or "house bank". reckons: which sum it is. on: signals, figures and words that
    it is reckoned from, each as somebody would write it. missing: what it cannot do without; its texts say so instead
    of a number. unsaid: what need not be given, and with which more could be said. alarms: keys of the alarms whose
    texts carry it; the answer to a question does so in any case."""

    boat: str
    sum: str
    reckons: str
    on: tuple[str, ...]
    missing: tuple[str, ...]
    unsaid: tuple[str, ...]
    alarms: tuple[str, ...]


def sums(bundle: Bundle) -> tuple[Rests, ...]:
    """Every sum, boat by boat: the house bank first, then in the order of the files."""
    return tuple(row for boat in sorted(bundle.boats) for row in _of_boat(bundle, boat))


def not_reckoned(bundle: Bundle, boat: str) -> tuple[str, ...]:
    """The kinds of sums that the boat has none of."""
    had = {own.reckons for own in bundle.sums_of.get(boat, ())}
    bank = () if bundle.boats[boat].bank is not None else (HOUSE_BANK,)
    return (*bank, *(kind.value for kind in Reckons if kind not in had))


def _of_boat(bundle: Bundle, boat: str) -> Iterator[Rests]:
    bank = bundle.boats[boat].bank
    asked = _asked(bundle, boat, HOUSE_BANK)
    if bank is not None or asked:
        yield _house_bank(bundle, boat, bank, asked)
    for own in bundle.sums_of.get(boat, ()):
        yield _own(bundle, own)


def _own(bundle: Bundle, own: OwnSum) -> Rests:
    form = FORMS[own.reckons]
    given = [_signal(bundle.signals[signal]) for signal in own.signals.values()]
    given += [
        f"{name} {own.figures[name]:g}{spaced(quantity.unit)}"
        for name, (quantity, _) in form.figures.items()
        if name in own.figures
    ]
    given += [f"{name} {word}" for name, word in own.words.items()]
    wanting = [
        (f"{name}, {quantity.words}", needed)
        for name, (quantity, needed) in form.figures.items()
        if name not in own.figures and name not in _AS_GOOD_WITHOUT
    ]
    optional = [f"{name}, a signal" for name in form.signals if name not in own.signals]
    return Rests(
        boat=own.boat,
        sum=own.key,
        reckons=own.reckons.value,
        on=tuple(given),
        missing=tuple(said for said, needed in wanting if needed),
        unsaid=(*optional, *(said for said, needed in wanting if not needed)),
        alarms=_asked(bundle, own.boat, own.id),
    )


def _house_bank(bundle: Bundle, boat: str, bank: Bank | None, asked: tuple[str, ...]) -> Rests:
    if bank is None:
        wanted = ("[bank] in boat.toml, with capacity, rated_hours, peukert, limit and its signals",)
        return Rests(boat=boat, sum=HOUSE_BANK, reckons=HOUSE_BANK, on=(), missing=wanted, unsaid=(), alarms=asked)
    signals = [bundle.signals[one] for one in (bank.charge, bank.amps, bank.volts) if one is not None]
    figures = [
        f"{bank.capacity:f} Ah at {bank.rated_hours:f} h",
        f"exponent {bank.peukert:f}",
        f"down to {bank.limit:f}%",
    ]
    if bank.chemistry:
        figures.append(f"{bank.chemistry}, {bank.nominal} V")
    missing = [] if bank.charge or bank.volts else ["charge, the shunt's count, or volts and chemistry"]
    if not bank.charge and not bank.amps:
        missing.append("amps, its current: without it nobody knows whether it rests")
    unsaid = [] if bank.amps or not bank.charge else ["amps, its current: how long it lasts"]
    return Rests(
        boat=boat,
        sum=HOUSE_BANK,
        reckons=HOUSE_BANK,
        on=(*map(_signal, signals), *figures),
        missing=tuple(missing),
        unsaid=tuple(unsaid),
        alarms=asked,
    )


_AS_GOOD_WITHOUT = frozenset({"until_percent"})
"""Without it the time is that until the tank is empty or full."""


def _asked(bundle: Bundle, boat: str, reckon: str) -> tuple[str, ...]:
    return tuple(point.key for point in bundle.points.values() if point.boat == boat and point.reckon == reckon)


def _signal(signal: Signal) -> str:
    """ "fuel-level (%)", "bilge-pump (contact)", "position (from 50.0010, -5.0005)"."""
    if signal.set_position is not None:
        return f"{signal.key} (from {', '.join(f'{degrees:f}' for degrees in signal.set_position)})"
    return f"{signal.key} ({signal.unit or signal.carries.value})"
