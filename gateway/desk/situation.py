"""An alarm that stands, as it is told."""

from gateway.alarms.standing import Alarm
from gateway.telling.situation import BankAhead, Situation


def situation_of(
    alarm: Alarm, *, offers: tuple[str, ...] = (), number: int | None = None, bank: BankAhead | None = None
) -> Situation:
    """An alarm as it is told."""
    return Situation(
        number=alarm.number if number is None else number,
        point=alarm.point,
        state=alarm.state,
        since=alarm.since,
        measured=alarm.measured,
        gone=alarm.gone,
        times=alarm.times,
        received=alarm.raised if alarm.late else None,
        found=alarm.found,
        until=alarm.until,
        worse=alarm.worse,
        offers=offers,
        bank=bank,
    )
