"""Conditions over windows and over several signals against a plain model, whatever comes in whatever order.

The model keeps every reading in a list and looks back over it from scratch each time; it knows nothing of what is kept,
of facts or timers. The steps that the real desk made are judged against it, and after every few happenings the fold of
its record must give the same state, from the beginning and from a snapshot alike.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from gateway.desk.folding import rebuilt
from gateway.desk.snapshots import state_bytes
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from tests.desk.small_boat import BOAT, Small, rightly_doubted
from tests.desk.watched_boat import comes, said, value, watched
from tests.effort import tries

STALE = 90 * SECOND
RUN_LIMIT, RUN_WINDOW = 2 * MINUTE, 10 * MINUTE
START_LIMIT, START_WINDOW = 2, 5 * MINUTE
STILL = 3 * MINUTE
ON_DELAY, OFF_DELAY = 100 * SECOND, 200 * SECOND

POINTS = (
    said("runs", "pump on for more than 2 min in the last 10 min"),
    said("starts", "pump started more than 2 times in the last 5 min"),
    said("frozen", "not (heartbeat changed in the last 3 min)"),
    said("both", "shore off and volts below 12.0 V with deadband 0.2 V for 100 s", "gone for 200 s"),
)


@dataclass(frozen=True)
class Seen:
    """One reading as the model knows it. text "?": unreadable."""

    at: Ms
    text: str
    retained: bool = False
    queued: bool = False

    @property
    def plain(self) -> bool:
        """Live and readable."""
        return not self.retained and self.text != "?"


class Model:
    """All that was seen, by signal, and when the gateway was started. True, False, or None for not known."""

    def __init__(self, started: Ms) -> None:
        self.seen: dict[str, list[Seen]] = {key: [] for key in ("pump", "heartbeat", "shore", "volts")}
        self.starts = [started]
        self.heard: list[Ms] = []

    def start(self, at: Ms) -> Ms:
        return max(start for start in self.starts if start <= at)

    def until(self, key: str, at: Ms) -> list[Seen]:
        return [one for one in self.seen[key] if one.at <= at]

    def newest(self, key: str, at: Ms, *, surely: bool = False) -> str | None:
        """The newest value as far as it says something about the instant."""
        seen = self.until(key, at)
        if not seen or seen[-1].at < self.start(at) or at - seen[-1].at > STALE or seen[-1].text == "?":
            return None
        return None if surely and (seen[-1].retained or seen[-1].queued) else seen[-1].text

    def known(self, key: str, begin: Ms, end: Ms) -> list[tuple[Ms, Ms, str]]:
        """The times of the window in which the value was known, with it."""
        seen, found = self.until(key, end), []
        for number, one in enumerate(seen):
            if not one.plain:
                continue
            following = seen[number + 1].at if number + 1 < len(seen) else end
            low, high = max(begin, one.at), min(end, following, one.at + STALE)
            if low < high:
                found.append((low, high, one.text))
        return found

    def runs(self, at: Ms, surely: bool) -> bool | None:
        times = self.known("pump", at - RUN_WINDOW, at)
        on = sum(high - low for low, high, text in times if text == "on")
        unknown = RUN_WINDOW - sum(high - low for low, high, _ in times)
        fresh = self.newest("pump", at, surely=surely) is not None
        if on > RUN_LIMIT and (fresh or not surely):
            return True
        return False if fresh and on + unknown <= RUN_LIMIT else None

    def started_often(self, at: Ms, surely: bool) -> bool | None:
        plain = [one for one in self.until("pump", at) if one.plain]
        starts = [b.at for a, b in pairwise(plain) if (a.text, b.text) == ("off", "on")]
        return self._counted(
            len([s for s in starts if at - START_WINDOW < s]) > START_LIMIT, "pump", START_WINDOW, at, surely
        )

    def frozen(self, at: Ms, surely: bool) -> bool | None:
        plain = [one for one in self.until("heartbeat", at) if one.plain]
        changes = [b.at for a, b in pairwise(plain) if Decimal(a.text) != Decimal(b.text)]
        moved = self._counted(any(at - STILL < c for c in changes), "heartbeat", STILL, at, surely)
        return None if moved is None else not moved

    def _counted(self, certain: bool, key: str, window: Ms, at: Ms, surely: bool) -> bool | None:
        fresh = self.newest(key, at, surely=surely) is not None
        if certain and (fresh or not surely):
            return True
        times = self.known(key, at - window, at)
        return False if fresh and sum(high - low for low, high, _ in times) == window else None

    def both(self, at: Ms, surely: bool, deadband: Decimal = Decimal(0)) -> bool | None:
        shore, volts = self.newest("shore", at, surely=surely), self.newest("volts", at, surely=surely)
        off = None if shore is None else shore == "off"
        limit = Decimal("12.0") + deadband
        low = None if volts is None else (Decimal(volts) <= limit if deadband else Decimal(volts) < limit)
        if off is False or low is False:
            return False
        return None if off is None or low is None else True

    def moments(self, at: Ms) -> list[Ms]:
        """When shore or volts came."""
        return sorted({one.at for key in ("shore", "volts") for one in self.until(key, at)})

    def low_since(self, at: Ms) -> Ms | None:
        """Since when it has been low with the shore off, as far as known without a break."""
        since = None
        for moment in reversed(self.moments(at)):
            verdict = self.both(moment, False)
            if verdict is False:
                break
            if verdict:
                since = moment
        return since

    def gone_since(self, at: Ms) -> Ms | None:
        """Since when it has surely been gone at every moment that it was looked at, since the last start."""
        since = None
        for moment in reversed(self.moments(at)):
            if moment < self.start(at) or self.both(moment, True, Decimal("0.2")) is not False:
                break
            since = moment
            if self.blind_before(moment):
                break
        return since

    def blind_before(self, moment: Ms) -> bool:
        """Whether nobody saw what one of the signals that came then had done before."""
        for key in ("shore", "volts"):
            seen = self.until(key, moment)
            if (
                len(seen) > 1
                and seen[-1].at == moment
                and (not seen[-2].plain or seen[-2].queued or moment - seen[-2].at > STALE)
            ):
                return True
        return False


class Windows(RuleBasedStateMachine):
    """The real desk beside the model."""

    def __init__(self) -> None:
        super().__init__()
        self.boat: Small = watched(*POINTS)
        self.model = Model(self.boat.desk.state.started)
        self.judged = len(self.boat.turns)
        self.turned: Ms = 0
        self.snapshot: tuple[bytes, int] = (self.boat.bytes(), len(self.boat.turns))

    def see(self, values: Sequence[tuple[str, str]], *, retained: bool = False) -> None:
        comes(self.boat, *(value(key, text, retained=retained) for key, text in values))
        now = self.boat.turns[-1].now
        if not retained:
            self.model.heard.append(now)
        for (key, text), reading in zip(values, self.boat.turns[-1].readings, strict=True):
            own = [one.at for one in self.model.seen[key] if not one.retained]
            assert retained or rightly_doubted(self.model.heard, now, reading.late, own)
            self.model.seen[key].append(Seen(now, text, retained, reading.late))

    @rule(text=st.sampled_from(["on", "off", "on", "off", "?"]))
    def the_pump_speaks(self, text: str) -> None:
        self.see([("pump", text)])

    @rule(text=st.sampled_from(["1", "2", "2.0", "3", "?"]))
    def the_heart_beats(self, text: str) -> None:
        self.see([("heartbeat", text)])

    @rule(
        shore=st.sampled_from(["on", "off", "off", "?"]),
        volts=st.sampled_from(["11.9", "11.9", "12.1", "12.2", "12.21", "?"]),
        first=st.booleans(),
    )
    def power_speaks(self, shore: str, volts: str, first: bool) -> None:
        both = [("shore", shore), ("volts", volts)]
        self.see(both if first else both[::-1])

    @rule(
        pump=st.sampled_from(["on", "off"]),
        beats=st.sampled_from(["1", "2"]),
        shore=st.sampled_from(["on", "off"]),
        volts=st.sampled_from(["11.9", "11.9", "12.1", "12.2", "12.3"]),
        times=st.integers(2, 12),
        apart=st.sampled_from([20, 45, 60]),
    )
    def all_go_on_so(self, pump: str, beats: str, shore: str, volts: str, times: int, apart: int) -> None:
        for _ in range(times):
            self.see([("pump", pump), ("heartbeat", beats), ("shore", shore), ("volts", volts)])
            self.boat.wait(apart * SECOND)

    @rule(times=st.integers(2, 6), apart=st.sampled_from([10, 20, 30]))
    def the_pump_cycles(self, times: int, apart: int) -> None:
        for _ in range(times):
            for text in ("off", "on"):
                self.see([("pump", text)])
                self.boat.wait(apart * SECOND)

    @rule(volts=st.sampled_from(["12.1", "12.2", "12.3"]), then=st.sampled_from([20, 61, 89, 95, 250]))
    def it_was_low_and_is_not(self, volts: str, then: int) -> None:
        for text in ("11.9", "11.9", "11.9", *[volts] * 5):
            self.see([("shore", "off"), ("volts", text)])
            self.boat.wait((then if text == volts else 55) * SECOND)

    @rule(key=st.sampled_from(["pump", "shore"]), text=st.sampled_from(["on", "off"]))
    def a_retained_one_comes(self, key: str, text: str) -> None:
        self.see([(key, text)], retained=True)

    @rule(length=st.sampled_from([1, 29_000, 60_000, 89_999, 90_001, 200_000]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)

    @rule(after=st.sampled_from([1, 20_000, 5 * MINUTE]))
    def the_gateway_is_restarted(self, after: Ms) -> None:
        self.boat.restarts(after)
        self.model.starts.append(self.boat.desk.state.started)

    def verdict(self, key: str, at: Ms, surely: bool) -> bool | None:
        return {"runs": self.model.runs, "starts": self.model.started_often, "frozen": self.model.frozen}[key](
            at, surely
        )

    @invariant()
    def each_was_raised_and_cleared_when_it_should_be(self) -> None:
        for turn in self.boat.turns[self.judged :]:
            for written in turn.entries:
                body = written.entry.body
                if written.entry.kind != "alarm-step" or body["event"] not in ("raise", "clear"):
                    continue
                key, at, up = str(body["point"]).partition("/")[2], written.entry.now, body["event"] == "raise"
                if key == "both":
                    self.both_turned(at, up)
                else:
                    assert self.verdict(key, at, surely=not up) is up, f"{key} was {body['event']}d"
        self.judged = len(self.boat.turns)

    def both_turned(self, at: Ms, up: bool) -> None:
        if up:
            since = self.model.low_since(at)
            retained = any(one.retained and one.at == at for key in ("shore", "volts") for one in self.model.seen[key])
            assert self.model.both(at, False) is True
            assert retained or (since is not None and at - since >= ON_DELAY), "raised before its delay"
        else:
            since = self.model.gone_since(at)
            assert self.model.both(at, True, Decimal("0.2")) is False, "cleared inside its deadband, or on unknown"
            assert since is not None, "cleared by nothing"
            assert at - since >= OFF_DELAY, "cleared before its delay"
        self.turned = at

    @invariant()
    def none_is_later_than_allowed(self) -> None:
        now = self.boat.desk.state.now
        for key in ("runs", "starts", "frozen"):
            if self.verdict(key, now, surely=False) is True:
                assert self.boat.desk.state.standing.is_active(f"{BOAT}/{key}"), f"{key} should have been raised"
        since = self.model.low_since(now)
        if since is not None and self.model.both(now, False) is True and now - max(since, self.turned) > ON_DELAY:
            assert self.boat.desk.state.standing.is_active(f"{BOAT}/both"), "should have been raised"

    @invariant()
    def what_newest_readings_end_is_ended(self) -> None:
        last = self.boat.turns[-1]
        for key, signal in (("runs", "pump"), ("starts", "pump"), ("frozen", "heartbeat")):
            came = any(one.signal == f"{BOAT}/{signal}" for one in last.readings)
            if came and self.verdict(key, last.now, surely=True) is False:
                assert not self.boat.desk.state.standing.is_active(f"{BOAT}/{key}"), f"{key} should have been cleared"

    @invariant()
    def a_new_fold_gives_the_same_state(self) -> None:
        turns = len(self.boat.turns)
        if turns % 5:
            return
        assert self.boat.rebuilt() == self.boat.bytes()
        snapshot, since = self.snapshot
        later = self.boat.turns[since:]
        entries = [written for turn in later for written in turn.entries]
        rows = [(turn.happening, turn.now, one) for turn in later for one in turn.readings]
        again = rebuilt(self.boat.desk.bundle, snapshot, entries, rows)
        assert state_bytes(again.state) == self.boat.bytes()
        assert again.next_due() == self.boat.desk.next_due()
        self.snapshot = (self.boat.bytes(), turns)


TestWindows = Windows.TestCase
TestWindows.settings = settings(max_examples=tries(40), stateful_step_count=25, deadline=None)
