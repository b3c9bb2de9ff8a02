"""What the mere passing of time brings: delays that are over, silences, windows that roll on."""

from gateway.alarms.facts import AlarmGivenUp, AlarmStep
from gateway.alarms.life import AlarmEvent
from gateway.alarms.stepping import stepped
from gateway.conditions.facts import ConditionBegan, ConditionEnded, PastKept
from gateway.conditions.watching import CLEARS, RAISES, Watch, ripe_at, silence_ripe_at, silent_since
from gateway.desk.agenda import Agenda
from gateway.desk.bundle import Bundle
from gateway.desk.facts import InstallationUsed, LinkStep, ServiceStarted
from gateway.desk.intake import ripen
from gateway.desk.left_alone import Aside, FellOver, named
from gateway.desk.left_alone import watch as watch_name
from gateway.desk.moment import Moment
from gateway.desk.state import State
from gateway.desk.together import judge_together, next_turn
from gateway.desk.turn import Recorder
from gateway.desk.watchers import Watchers
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


class ByTime:
    """Which watches fall due, for one desk. It holds nothing that the state does not: `forget` harms nothing."""

    def __init__(self, state: State, bundle: Bundle, watchers: Watchers, aside: Aside) -> None:
        self.aside = aside
        self._state, self._bundle, self._watchers = state, bundle, watchers
        self._agenda = Agenda(self._due_of)
        self._known = False
        self._looked: tuple[Recorder | None, int, int] = (None, 0, 0)

    def forget(self) -> None:
        """The state was changed from elsewhere."""
        self._known = False

    def next_due(self) -> Ms | None:
        """The next instant at which a watch must be looked at; None when time alone changes none."""
        if not self._known:
            self._agenda.refill(self._watchers.by_id.values())
            self._known = True
        return self._agenda.first()

    def look_at(self, rec: Recorder) -> None:
        """Take note of what has changed in this turn since the last look."""
        of, facts, readings = self._looked
        if of is not rec:
            facts = readings = 0
        if len(rec.facts) == facts and len(rec.readings) == readings:
            return
        changed: dict[str, None] = {}
        for fact in rec.facts[facts:]:
            changed |= dict.fromkeys(self._touched(fact))
        for reading in rec.readings[readings:]:
            boat = reading.signal.partition("/")[0]
            some = (*self._watchers.by_signal.get(reading.signal, ()), *self._watchers.by_boat.get(boat, ()))
            changed |= dict.fromkeys(watch.id for watch in some)
        self._looked = (rec, len(rec.facts), len(rec.readings))
        if self._known:
            for watch_id in changed:
                if watch_id in self._watchers.by_id:
                    self._agenda.touch(self._watchers.by_id[watch_id])

    def fall_due(self, rec: Recorder) -> bool:
        """Do what is due up to the moment of `rec`, silences last. True when there was any."""
        self.next_due()
        due = self._agenda.due(rec.now)
        place = self._watchers.place
        due.sort(key=lambda item: (item[1].by_silence, item[0], place[item[1].id]))
        found = False
        for at, watch in due:
            with named(watch_name(watch.id)):
                found |= self._one(rec, watch, at)
        return found

    def _one(self, rec: Recorder, watch: Watch, at: Ms) -> bool:
        if watch.by_silence:
            return self._silent(rec, watch)
        if watch.by_value:  # a step of one may have ended another
            return watch.id in self._state.held.since and ripen(rec, watch)
        if next_turn(self._state, self._bundle, watch) != at:
            return False
        judge_together(rec, watch, at)
        return True

    def _silent(self, rec: Recorder, watch: Watch) -> bool:
        since = self._silent_since(watch)
        if since is None or silence_ripe_at(watch.condition, since) > rec.now:
            return False
        point = self._bundle.points[watch.point]
        heard = self._last_heard(watch)  # the delay counts from our start, what is told from the last news before it
        at = since if heard is None else min(since, heard)
        rec.note(point.boat, stepped(self._state.standing, point, AlarmEvent.RAISE, rec.now, at=at))
        return True

    def _silent_since(self, watch: Watch) -> Ms | None:
        state = self._state
        if watch.side != RAISES or state.standing.is_active(watch.point):
            return None
        moment = Moment(state, self._bundle, state.now)
        return silent_since(watch, state.seen, state.started, moment.link_up_since(watch.boat))

    def _last_heard(self, watch: Watch) -> Ms | None:
        seen = self._state.seen
        return seen.heard.get(watch.boat) if watch.signal is None else seen.arrived.get(watch.signal)

    def _due_of(self, watch: Watch) -> Ms | None:
        if self.aside.has(watch_name(watch.id)):
            return None
        try:  # not `named`: this is done for every watch of a fleet at a start
            return self._due_at(watch)
        except Exception as fault:
            raise FellOver(watch_name(watch.id)) from fault

    def _due_at(self, watch: Watch) -> Ms | None:
        state = self._state
        if watch.by_silence:
            since = self._silent_since(watch)
            return None if since is None else silence_ripe_at(watch.condition, since)
        if not watch.by_value:
            return next_turn(state, self._bundle, watch)
        if watch.id not in state.held.since:
            return None
        signal = self._bundle.signals[watch.signal or ""]
        return ripe_at(watch, state.held.since[watch.id], state.seen.latest.get(signal.id), signal, state.started)

    def _touched(self, fact: Fact) -> tuple[str, ...]:
        """Ids of the watches that a fact may bring nearer."""
        match fact:
            case ConditionBegan(watch=watch) | ConditionEnded(watch=watch):
                return (watch,)
            case AlarmStep(point=point) | AlarmGivenUp(point=point):
                return (f"{point} {RAISES}", f"{point} {CLEARS}")
            case LinkStep() | ServiceStarted() | InstallationUsed() | PastKept():
                self._known = False
        return ()
