"""How full the house bank is and how long it lasts, said only when fresh data support it; else what is missing.

The shunt's count (handbook 4.3); where none counts, the bank's volts when it has rested for 8 h (4.1). The mean of the
current over the last quarter of an hour gives the hours; where it began to be drawn from within that, the mean since.
All of it stands in the readings, so that the number in a text can be reckoned again from the record.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from gateway.boat.latest import is_stale
from gateway.boat.settings import Bank, Boat
from gateway.conditions.past import Keeps, Need, Past
from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.reckoning.answers import NoEnd, Reckoned
from gateway.reckoning.charge import REST_AFTER_CHARGING_H, Chemistry, charge_percent
from gateway.reckoning.limit_ahead import (
    MEAN_OVER,
    NO_LOAD_A,
    counted_from_now,
    drawn_since,
    mean_of_last_quarter,
    time_to_limit_h,
)
from gateway.reckoning.lines import Sample
from gateway.reckoning.rounding import down
from gateway.telling.situation import BankAhead
from gateway.vocabulary.moments import HOUR, Ms

REST: Ms = REST_AFTER_CHARGING_H * HOUR


class _Charge(NamedTuple):
    """value: per cent to reckon with; shown: as it is told; by: what it is read from. measured: when
    (instant, ms UTC)."""

    value: float
    shown: Decimal
    by: str
    measured: Ms


class _NoCharge(Exception):
    """What is missing, in words."""


def needs_of(boat: Boat, bundle: Bundle) -> tuple[Need, ...]:
    """What must be kept of the boat's past for it: the current of a quarter of an hour; of 8 h where rest decides."""
    bank = boat.bank
    if bank is None or bank.amps is None or (bank.charge is None and bank.volts is None):
        return ()
    windows = (MEAN_OVER,) if bank.charge is not None else (MEAN_OVER, REST)
    return tuple(_need(bundle, bank.amps, window) for window in windows)


def _need(bundle: Bundle, amps: str, window: Ms) -> Need:
    return Need(amps, Keeps.SAMPLES, window, bundle.signals[amps].stale_after)


def bank_ahead(state: State, bundle: Bundle, boat: str, now: Ms) -> BankAhead | None:
    """The bank's charge and how long it lasts at the present load. None where nobody has said what bank it is, or
    nothing tells its charge."""
    bank = bundle.boats[boat].bank
    if bank is None or (bank.charge is None and bank.volts is None) or (bank.amps is None and bank.volts is None):
        return None
    try:
        charge = _by_shunt(state, bundle, bank, now) if bank.charge is not None else _at_rest(state, bundle, bank, now)
    except _NoCharge as missing:
        return BankAhead(charge=None, limit=bank.limit, left="", missing=str(missing))
    if bank.amps is None:
        return BankAhead(charge=charge.shown, limit=bank.limit, left="", by=charge.by)
    signal = bundle.signals[bank.amps]
    loads = tuple(Sample(one.at, -one.value) for one in _samples(state, bundle, bank.amps, MEAN_OVER, now))
    mean = mean_of_last_quarter(loads, now=now, unit="A", longest_hold=signal.stale_after, since=drawn_since(loads))
    if not isinstance(mean, Reckoned):
        missed = "too few fresh values of its current"
        return BankAhead(charge=charge.shown, limit=bank.limit, left="", missing=missed, by=charge.by)
    full = time_to_limit_h(
        capacity_ah=float(bank.capacity),
        rated_h=float(bank.rated_hours),
        peukert_k=float(bank.peukert),
        charge_percent=charge.value,
        limit_percent=float(bank.limit),
        load_a=mean.value,
    )
    counter = bundle.signals[str(bank.charge or bank.volts)]
    left = counted_from_now(full, age=now - charge.measured, report_interval=counter.report_interval)
    if isinstance(left, Reckoned):
        return BankAhead(charge=charge.shown, limit=bank.limit, left=left.said, by=charge.by)
    return BankAhead(charge=charge.shown, limit=bank.limit, left="", steady=isinstance(left, NoEnd), by=charge.by)


def _by_shunt(state: State, bundle: Bundle, bank: Bank, now: Ms) -> _Charge:
    charge = _fresh(state, bundle, str(bank.charge), now)
    if charge is None:
        raise _NoCharge("no fresh charge from the shunt")
    if not 0 <= charge.value <= 100:
        raise _NoCharge("the shunt's charge is none")
    return _Charge(charge.value, down(charge.value, Decimal(1)), "shunt", charge.at)


def _at_rest(state: State, bundle: Bundle, bank: Bank, now: Ms) -> _Charge:
    """By the volts of a bank through which for 8 h next to nothing has flowed. The hours are reckoned from the whole
    tens that are told, never from more."""
    volts = _fresh(state, bundle, str(bank.volts), now)
    if volts is None:
        raise _NoCharge("no fresh volts of the bank")
    if bank.amps is None or _fresh(state, bundle, bank.amps, now) is None:
        raise _NoCharge("no fresh current, so nobody knows whether it rests")
    past = _past(state, bundle, bank.amps, REST)
    if past.known_since is None or past.known_since > now - REST:
        raise _NoCharge(f"its current has not been known for {REST_AFTER_CHARGING_H} h")
    flowed = [sample.value for sample in _samples(state, bundle, bank.amps, REST, now)]
    charged = any(amps > NO_LOAD_A for amps in flowed)
    found = charge_percent(
        chemistry=Chemistry(bank.chemistry),
        bank_v=volts.value,
        nominal_v=bank.nominal,
        capacity_ah=float(bank.capacity),
        current_a=max(flowed, key=abs, default=0.0),
        hours_since_charging=0.0 if charged else float(REST_AFTER_CHARGING_H),
    )
    if isinstance(found, Reckoned):
        about = "volts at rest" if found.value > 0 else "volts at rest, flat"
        return _Charge(float(found.shown), found.shown, about, volts.at)
    if "ask the shunt" in found.because:
        raise _NoCharge(found.because)
    raise _NoCharge(f"it has not rested for {REST_AFTER_CHARGING_H} h, so its volts say nothing")


def _fresh(state: State, bundle: Bundle, signal: str, now: Ms) -> Sample | None:
    latest = state.seen.latest.get(signal)
    if latest is None or not latest.sure or is_stale(latest, bundle.signals[signal], now):
        return None
    return Sample(latest.measured, float(latest.value)) if isinstance(latest.value, Decimal) else None


def _past(state: State, bundle: Bundle, amps: str, window: Ms) -> Past:
    return state.pasts.past.get(_need(bundle, amps, window).key, Past())


def _samples(state: State, bundle: Bundle, amps: str, window: Ms, now: Ms) -> Iterator[Sample]:
    """The current's kept values, oldest first."""
    for kept in _past(state, bundle, amps, window).values:
        if kept.at <= now:
            yield Sample(kept.at, float(kept.text))
