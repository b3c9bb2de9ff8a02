"""What follows from new files: points, watches and persons that are gone, delays that go on or do not, and what must be
kept of the past from now on."""

from gateway.alarms.facts import AlarmGivenUp
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.stepping import stepped
from gateway.boat.latest import Latest
from gateway.conditions.facts import ConditionEnded
from gateway.conditions.past import kept_fact
from gateway.conditions.turning import side_verdict
from gateway.conditions.verdicts import Verdict
from gateway.conditions.watching import CLEARS, Watch, verdict
from gateway.desk import (
    practising,
    regular,
    switching,
)
from gateway.desk.facts import InstallationUsed
from gateway.desk.moment import Moment
from gateway.desk.opting import another_number
from gateway.desk.turn import Recorder
from gateway.desk.watchers import Watchers, kept_of
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import (
    InstallationCame,
)


def files_came(rec: Recorder, watchers: Watchers, happening: InstallationCame) -> None:
    """New files are used from now on. watchers: of these."""
    people = [rec.bundle.people[person] for person in happening.people]
    rec.note(
        INSTALLATION,
        InstallationUsed(fingerprint=happening.fingerprint, people=happening.people, renumbered=happening.renumbered),
        [{"id": p.id, "key": p.key, "name": p.name, "number": p.number} for p in people],
    )
    for alarm in list(rec.state.standing.by_point.values()):
        if alarm.point not in rec.bundle.points:
            because = "its point is no longer in the installation"
            rec.note(alarm.boat, AlarmGivenUp(number=alarm.number, point=alarm.point, because=because))
    keep_past(rec, watchers)
    _end_delays(rec, watchers)
    _free_holders(rec)
    practising.files_changed(rec)
    switching.people_came(rec, happening.renumbered)
    another_number(rec, happening.renumbered)
    regular.plan(rec)


def keep_past(rec: Recorder, watchers: Watchers) -> None:
    """Note what must be kept of each boat's past from now on, where that is not what is kept already."""
    needs, pasts = watchers.needs, rec.state.pasts
    for boat in sorted(set(pasts.needs) | set(needs)):
        wanted = needs.get(boat, ())
        if kept_of(wanted) != kept_of(pasts.of_boat(boat)):
            rec.note(boat if boat in rec.bundle.boats else INSTALLATION, kept_fact(boat, wanted))


def _end_delays(rec: Recorder, watchers: Watchers) -> None:
    """A delay goes on only where the newest value still agrees with what is watched from now on."""
    state = rec.state
    for watch_id in list(state.held.since):
        watch = watchers.by_id.get(watch_id)
        latest = state.seen.latest.get(watch.signal or "") if watch is not None else None
        right_side = watch is not None and (watch.side == CLEARS) is state.standing.is_active(watch.point)
        if watch is None or not right_side or _disagrees(rec, watch, latest):
            because = "the installation was changed"
            ended = ConditionEnded(watch=watch_id, at=rec.now, measured="", because=because)
            rec.note(watch_id.partition("/")[0], ended)


def _disagrees(rec: Recorder, watch: Watch, latest: Latest | None) -> bool:
    if watch.by_value:
        return verdict(watch, latest) is Verdict.DOES_NOT
    sight = Moment(rec.state, rec.bundle, rec.now).sight(watch.boat)
    return side_verdict(watch, sight, rec.now) is Verdict.DOES_NOT


def _free_holders(rec: Recorder) -> None:
    """Who is no longer in the installation holds nothing: the alarm is called out from the beginning."""
    for call in list(rec.state.telling.calls.values()):
        alarm = rec.state.standing.by_point[call.point]
        if call.holder is None or call.holder in rec.bundle.people or alarm.state is not AlarmState.ACKNOWLEDGED:
            continue
        point = rec.bundle.points[call.point]
        rec.note(point.boat, stepped(rec.state.standing, point, AlarmEvent.RE_ALARM, rec.now))
