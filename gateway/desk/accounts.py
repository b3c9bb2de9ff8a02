"""The carriers' accounts: what is left on each, read once a day, and who hears when it is little."""

from decimal import Decimal

from gateway.desk.facts import BalanceRead, BalanceToldOf
from gateway.desk.turn import Recorder
from gateway.people.regular import next_by_day
from gateway.telling.trouble_notices import BalanceLow
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import BalanceSeen
from gateway.vocabulary.moments import Ms


def balance_seen(rec: Recorder, happening: BalanceSeen) -> None:
    """Keep what is left. Less than the installer's limit is told, by day: at each reading, so once a day until the
    account is filled up."""
    limit = rec.bundle.balance_low.get(happening.carrier)
    low = limit is not None and Decimal(happening.amount) < limit
    people = _who(rec, happening.carrier)
    tell_at = None
    if low and people:
        tell_at = next_by_day(rec.now, rec.bundle.people[people[0]].zone, rec.state.clock_offset)
    fact = BalanceRead(carrier=happening.carrier, amount=happening.amount, currency=happening.currency, tell_at=tell_at)
    rec.note(INSTALLATION, fact)


def _who(rec: Recorder, carrier: str) -> tuple[str, ...]:
    """Ids of those who mind the boats of a carrier."""
    boats = (boat.key for boat in rec.bundle.boats.values() if boat.carrier == carrier)
    return tuple(dict.fromkeys(person for boat in boats for person in rec.bundle.minders(boat)))


def next_due(rec: Recorder) -> Ms | None:
    """When it is told next that little is left."""
    return min((one.tell_at for one in rec.state.accounts.values() if one.tell_at is not None), default=None)


def due(rec: Recorder) -> bool:
    """Tell what is due. True when there was any."""
    found = [name for name, one in rec.state.accounts.items() if one.tell_at is not None and one.tell_at <= rec.now]
    for name in found:
        rec.note(INSTALLATION, BalanceToldOf(carrier=name))
        account, limit = rec.state.accounts[name], rec.bundle.balance_low.get(name)
        for person in _who(rec, name) if limit is not None else ():
            notice = BalanceLow(
                person=person, carrier=name, amount=account.amount, currency=account.currency, limit=str(limit)
            )
            rec.tell(notice)
    return bool(found)
