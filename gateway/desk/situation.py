"""An alarm that stands, as it is told."""

from gateway.alarms.life import AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.conditions import saying
from gateway.conditions.verdicts import Verdict
from gateway.desk.moment import Moment
from gateway.desk.turn import Recorder
from gateway.telling.situation import Ahead, BankAhead, Situation


def situation_of(
    alarm: Alarm,
    *,
    offers: tuple[str, ...] = (),
    number: int | None = None,
    bank: BankAhead | None = None,
    ahead: Ahead | None = None,
    measured: str | None = None,
    again: bool = False,
) -> Situation:
    """An alarm as it is told. measured: the value of this moment, None for that of the raising. again: told once more,
    so that a value of the raising is an old one."""
    quiet = alarm.taken_by is not None and alarm.state is AlarmState.UNACKNOWLEDGED
    return Situation(
        number=alarm.number if number is None else number,
        point=alarm.point,
        state=alarm.state,
        since=alarm.since,
        measured=alarm.measured if measured is None else measured,
        old=again and measured is None,
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


def measured_now(rec: Recorder, alarm: Alarm) -> str | None:
    """What is measured of an alarm at this moment, while its condition is seen to hold. None where it is not: what lies
    between limit and deadband, or is not heard, says nothing against the value of the raising, which is an old one."""
    if alarm.gone is not None:
        return None
    when = rec.bundle.points[alarm.point].when
    sight = Moment(rec.state, rec.bundle, rec.now).sight(alarm.boat)
    if sight.weigh(when, rec.now) is not Verdict.HOLDS:
        return None
    return saying.measured(when, sight, rec.now) or None
