"""What an event makes of an alarm: the fact that is kept of it, whether the step is done or refused."""

from gateway.alarms.facts import AlarmStep
from gateway.alarms.life import AlarmEvent, AlarmState, step
from gateway.alarms.settings import Point
from gateway.alarms.standing import Standing
from gateway.vocabulary.moments import Ms


def stepped(
    standing: Standing,
    point: Point,
    event: AlarmEvent,
    now: Ms,
    *,
    at: Ms | None = None,
    measured: str = "",
    person: str | None = None,
    late: bool = False,
    found: bool = False,
    until: Ms | None = None,
    because: str = "",
    falls_to: AlarmState | None = None,
) -> AlarmStep:
    """The fact that this event makes for this point; refused steps come out with `before` equal to `after`.

    at: instant of the event, `now` when not given. until: how long it is put aside (instant). falls_to: the weaker way
    of being put aside that still holds, for an event that ends a stronger one.
    """
    known = standing.by_point.get(point.id)
    before = known.state if known is not None else AlarmState.NORMAL
    after = step(
        before,
        event,
        latching=point.latching,
        active=known is not None and known.active,
        latch_pending=known is not None and known.latch_pending,
        needs_no_take=point.needs_no_take,
        falls_to=falls_to,
    )
    return AlarmStep(
        number=known.number if known is not None else standing.next_number(now),
        point=point.id,
        boat=point.boat,
        priority=known.priority if known is not None and known.worse else point.priority,
        event=event,
        before=before,
        after=before if after is None else after,
        at=now if at is None else at,
        measured=measured,
        person=person,
        late=late,
        found=found,
        until=until,
        because=because,
    )
