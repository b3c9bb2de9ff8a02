"""An alarm that stands, as it is told."""

from gateway.alarms.life import AlarmState
from gateway.alarms.standing import Alarm
from gateway.telling.situation import Ahead, BankAhead, Situation


def situation_of(
    alarm: Alarm,
    *,
    offers: tuple[str, ...] = (),
    number: int | None = None,
    bank: BankAhead | None = None,
    ahead: Ahead | None = None,
) -> Situation:
    """An alarm as it is told."""
    quiet = alarm.taken_by is not None and alarm.state is AlarmState.UNACKNOWLEDGED
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
        ahead=ahead,
        had_by=alarm.taken_by if quiet else None,
        last_word=alarm.taken if quiet else None,
    )
