"""One moment of the installation, as the stages of a request and the watching of conditions ask about it."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from gateway.alarms.aboard import Occupied
from gateway.alarms.life import ASIDE, AlarmState
from gateway.alarms.settings import Concerns
from gateway.boat.latest import Latest
from gateway.boat.settings import Boat, Senses, Signal
from gateway.conditions.judging import Judged, judge_strictly
from gateway.conditions.sight import Sight
from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.vocabulary.moments import MINUTE, Ms, as_utc, from_datetime
from grammar.meanings import Condition, NoNews

MINUTES_A_DAY = 24 * 60

_STANDS_LATCHED = frozenset({AlarmState.LATCHED_UNACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED})


@dataclass(frozen=True, slots=True)
class Moment:
    """The state and the settings at one instant (ms UTC). Answers questions; changes nothing."""

    state: State
    bundle: Bundle
    now: Ms

    def wall(self, at: Ms) -> Ms:
        """An instant as the wall clock shows it."""
        return at + self.state.clock_offset

    def clock_doubtful(self) -> bool:
        """Whether our clock and the carrier's differ by more than 2 min."""
        return self.state.clock_doubtful

    def boat(self, key: str) -> Boat:
        """A boat's settings."""
        return self.bundle.boats[key]

    def judge(self, boat: str, condition: Condition) -> Judged:
        """What an interlock may rely on. What proves nothing about the present, as silence does, is unknown."""
        return judge_strictly(condition, boat, self.state.seen.latest, self.bundle.signals, self.now)

    def sight(self, boat: str) -> Sight:
        """All that is seen of a boat, as its conditions are judged by it."""
        state = self.state
        return Sight(boat, self.bundle.signals, state.seen, state.pasts, state.started, self.link_up_since(boat))

    def latest(self, signal: str) -> Latest | None:
        """The newest value of a signal (id)."""
        return self.state.seen.latest.get(signal)

    def signal(self, signal: str) -> Signal:
        """A signal's settings (id)."""
        return self.bundle.signals[signal]

    def sensing(self, boat: str, senses: Senses) -> tuple[Signal, ...]:
        """The boat's signals of this kind, in order of their ids."""
        found = [s for s in self.bundle.signals.values() if s.boat == boat and s.senses is senses]
        return tuple(sorted(found, key=lambda signal: signal.id))

    def occupied(self, boat: str) -> Occupied | None:
        """Who must be taken to be aboard."""
        return self.state.standing.occupancy(boat)

    def alarm_active(self, boat: str, concerns: Concerns) -> int | None:
        """Number of an alarm of this kind that is active or latched, told or put aside: putting aside lifts no
        interlock."""
        for alarm in self.state.standing.by_point.values():
            point = self.bundle.points.get(alarm.point)
            latched = alarm.state in _STANDS_LATCHED or (alarm.latch_pending and alarm.state in ASIDE)
            stands = alarm.active or latched
            if point is not None and point.boat == boat and point.concerns is concerns and stands:
                return alarm.number
        return None

    def silent_since(self, boat: str) -> Ms | None:
        """Since when the boat is overdue: an active point of it that watches for silence of the whole boat."""
        for alarm in self.state.standing.by_point.values():
            point = self.bundle.points.get(alarm.point)
            if point is None or point.boat != boat or not alarm.active:
                continue
            if isinstance(point.when, NoNews) and point.when.signal is None:
                return alarm.since
        return None

    def link_up(self, boat: str) -> bool:
        """Whether we are connected to the boat's broker."""
        return self.link_up_since(boat) is not None

    def link_up_since(self, boat: str) -> Ms | None:
        """Since when we have been connected to the boat's broker (instant), None when we are not."""
        known = self.state.links.get(f"broker:{self.bundle.boats[boat].broker}")
        return known.up_since if known is not None else None

    def minute_of_day(self, boat: str, at: Ms) -> int:
        """Minutes after midnight, boat time."""
        local = as_utc(self.wall(at)).astimezone(self.bundle.boats[boat].zone)
        return local.hour * 60 + local.minute

    def next_clock_time(self, boat: str, minute: int) -> Ms:
        """The next instant at which the boat's clock shows this minute; one that a clock change leaves out comes at
        the first valid minute after it."""
        zone = self.bundle.boats[boat].zone
        day = as_utc(self.wall(self.now)).astimezone(zone).date()
        for ahead in range(3):
            wanted = day + timedelta(days=ahead)
            shown = datetime(wanted.year, wanted.month, wanted.day, minute // 60, minute % 60, tzinfo=zone)
            for fold in (0, 1):
                at = from_datetime(shown.replace(fold=fold)) - self.state.clock_offset
                if at > self.now:
                    return self._first_valid(boat, minute, at)
        raise AssertionError("a clock shows every minute within three days")

    def day_at(self, boat: str, days: int, minute: int) -> Ms:
        """The instant so many days ahead at which the boat's clock shows this minute after midnight."""
        zone = self.bundle.boats[boat].zone
        day = as_utc(self.wall(self.now)).astimezone(zone).date() + timedelta(days=days)
        shown = datetime(day.year, day.month, day.day, minute // 60, minute % 60, tzinfo=zone)
        return from_datetime(shown) - self.state.clock_offset

    def _first_valid(self, boat: str, minute: int, at: Ms) -> Ms:
        """A wall time that a clock change leaves out was read with the offset before the change, so it lies behind
        the gap by as much as it lay into it: go back to the end of the gap, minute by minute."""
        if self.minute_of_day(boat, at) == minute:
            return at
        while (self.minute_of_day(boat, at - MINUTE) - minute) % MINUTES_A_DAY < MINUTES_A_DAY // 2:
            at -= MINUTE
        return at
