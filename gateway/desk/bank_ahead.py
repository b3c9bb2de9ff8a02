"""How long the house bank lasts, said only when fresh data support it (handbook 4.3); else what is missing.

The shunt's count and the mean of its current over the last quarter of an hour; both stand in the readings, so that the
number in a text can be reckoned again from the record.
"""

from decimal import Decimal

from gateway.boat.latest import is_stale
from gateway.boat.settings import Bank, Boat
from gateway.conditions.past import Keeps, Need
from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.reckoning.answers import NoEnd, Reckoned
from gateway.reckoning.limit_ahead import MEAN_OVER, mean_of_last_quarter, time_to_limit_h
from gateway.reckoning.lines import Sample
from gateway.reckoning.rounding import down
from gateway.telling.situation import BankAhead
from gateway.vocabulary.moments import Ms


def needs_of(boat: Boat, bundle: Bundle) -> tuple[Need, ...]:
    """What must be kept of the boat's past for it: the current of a quarter of an hour."""
    if boat.bank is None or boat.bank.amps is None or boat.bank.charge is None:
        return ()
    signal = bundle.signals[boat.bank.amps]
    return (Need(signal.id, Keeps.SAMPLES, MEAN_OVER, signal.stale_after),)


def bank_ahead(state: State, bundle: Bundle, boat: str, now: Ms) -> BankAhead | None:
    """The bank's charge and how long it lasts at the present load. None where nobody has said what bank it is, or
    nothing counts its charge."""
    bank = bundle.boats[boat].bank
    if bank is None or bank.charge is None or bank.amps is None:
        return None
    latest = state.seen.latest.get(bank.charge)
    if latest is None or not latest.sure or is_stale(latest, bundle.signals[bank.charge], now):
        return BankAhead(charge=None, limit=bank.limit, left="", missing="no fresh charge from the shunt")
    charge = latest.value
    if not isinstance(charge, Decimal) or not 0 <= charge <= 100:
        return BankAhead(charge=None, limit=bank.limit, left="", missing="the shunt's charge is none")
    shown = down(float(charge), Decimal(1))
    samples = _samples(state, bundle, bank, now)
    mean = mean_of_last_quarter(samples, now=now, unit="A", longest_hold=bundle.signals[bank.amps].stale_after)
    if not isinstance(mean, Reckoned):
        return BankAhead(charge=shown, limit=bank.limit, left="", missing="too few fresh values of its current")
    left = time_to_limit_h(
        capacity_ah=float(bank.capacity),
        rated_h=float(bank.rated_hours),
        peukert_k=float(bank.peukert),
        charge_percent=float(charge),
        limit_percent=float(bank.limit),
        load_a=-mean.value,
    )
    if isinstance(left, Reckoned):
        return BankAhead(charge=shown, limit=bank.limit, left=left.said)
    return BankAhead(charge=shown, limit=bank.limit, left="", steady=isinstance(left, NoEnd))


def _samples(state: State, bundle: Bundle, bank: Bank, now: Ms) -> tuple[Sample, ...]:
    """The current's kept values, oldest first; the newest one too, though it came too soon after the one before."""
    signal = bundle.signals[str(bank.amps)]
    past = state.pasts.past.get(Need(signal.id, Keeps.SAMPLES, MEAN_OVER, signal.stale_after).key)
    if past is None:
        return ()
    return tuple(Sample(kept.at, float(kept.text)) for kept in past.values if kept.at <= now)
