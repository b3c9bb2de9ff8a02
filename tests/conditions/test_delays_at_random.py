"""Delays and deadbands against a plain model: never raised before its delay, never cleared inside its deadband, never
later than allowed, whatever comes in whatever order.

The model keeps the readings of the signal in a list and looks back over it from scratch each time; it knows nothing of
facts, watches or timers. A list of all alarm steps that the real desk made is judged against it.
"""

from dataclasses import dataclass
from decimal import Decimal

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from grammar.meanings import IsNumber, Than
from tests.desk.small_boat import INES, Small, point, rightly_doubted, small
from tests.effort import tries

ON_DELAY, OFF_DELAY, STALE = 100 * SECOND, 60 * SECOND, 90 * SECOND
LIMIT, CLEAR_LIMIT = Decimal("12.0"), Decimal("12.2")

LOW = point(
    "low",
    when=IsNumber(signal="volts", than=Than.BELOW, limit=LIMIT, unit="V", lasting=ON_DELAY),
    clears=IsNumber(signal="volts", than=Than.ABOVE, limit=CLEAR_LIMIT, unit="V", lasting=OFF_DELAY),
)


@dataclass(frozen=True)
class Seen:
    """One reading as the model knows it. value None: unreadable."""

    at: Ms
    value: Decimal | None
    retained: bool = False
    queued: bool = False


class Model:
    """All that was seen, and when the gateway was started."""

    def __init__(self, started: Ms) -> None:
        self.seen: list[Seen] = []
        self.starts = [started]
        self.heard: list[Ms] = []
        self.ages: list[tuple[Ms, Ms]] = []

    def before(self, at: Ms) -> list[Seen]:
        return [one for one in self.seen if one.at <= at]

    def fresh(self, at: Ms) -> bool:
        """Whether something live and readable came within the stale time, and since the last start."""
        seen = self.before(at)
        start = max(s for s in self.starts if s <= at)
        return bool(seen) and seen[-1].at >= start and at - seen[-1].at <= STALE and seen[-1].value is not None

    def low_since(self, at: Ms) -> Ms | None:
        """Since when every live readable value was low, None when the newest is not."""
        since = None
        for one in reversed(self.before(at)):
            if one.retained or one.value is None:
                continue
            if one.value >= LIMIT:
                break
            since = one.at
        return since

    def good_since(self, at: Ms) -> Ms | None:
        """Since when every value was live, readable and above the clear limit, without a gap or a start between."""
        since, next_at = None, None
        start = max(s for s in self.starts if s <= at)
        for one in reversed(self.before(at)):
            gap = next_at is not None and next_at - one.at > STALE
            unsure = one.retained or one.queued or one.value is None
            if unsure or one.value is None or one.value <= CLEAR_LIMIT or gap or one.at < start:
                break
            since = next_at = one.at
        return since

    def newest_is_low(self, at: Ms) -> bool:
        seen = self.before(at)
        return bool(seen) and seen[-1].value is not None and seen[-1].value < LIMIT


class Delays(RuleBasedStateMachine):
    """The real desk beside the model."""

    def __init__(self) -> None:
        super().__init__()
        self.boat: Small = small(LOW)
        self.model = Model(self.boat.desk.state.started)
        self.judged = len(self.boat.turns)
        self.turned: list[tuple[Ms, bool]] = []  # when the alarm became active or ceased to be

    @rule(text=st.sampled_from(["11.0", "11.9", "12.0", "12.1", "12.2", "12.21", "13.0", "?"]))
    def a_reading_comes(self, text: str) -> None:
        self.see(text)

    @rule(text=st.sampled_from(["11.9", "12.1", "12.3"]), times=st.integers(2, 5), apart=st.sampled_from([20, 30, 45]))
    def it_keeps_on_saying_so(self, text: str, times: int, apart: int) -> None:
        for _ in range(times):
            self.see(text)
            self.boat.wait(apart * SECOND)

    @rule(text=st.sampled_from(["11.9", "12.6"]))
    def a_retained_reading_comes(self, text: str) -> None:
        self.see(text, retained=True)

    @precondition(lambda self: self.model.seen)
    @rule(text=st.sampled_from(["11.0", "13.0"]), older=st.integers(1, 1000))
    def a_late_reading_comes_and_does_nothing(self, text: str, older: int) -> None:
        own_time = self.model.seen[-1].at - older * SECOND
        turn = self.boat.reads("volts", text, own_time=own_time)
        self.model.heard.append(turn.now)
        self.model.ages.append((turn.now, turn.now - own_time))
        assert turn.readings[0].late
        assert "condition-began" not in self.boat.kinds(turn)

    @rule(length=st.sampled_from([1, 999, 5_000, 29_000, 60_000, 89_999, 90_001, 100_000, 200_000]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)

    @rule(body=st.sampled_from(["have it", "checked", "ok", "status"]))
    def somebody_writes(self, body: str) -> None:
        self.boat.texts(INES, body)

    @rule(after=st.sampled_from([1, 10_000, 5 * MINUTE]))
    def the_gateway_is_restarted(self, after: Ms) -> None:
        self.boat.restarts(after)
        self.model.starts.append(self.boat.desk.state.started)

    def see(self, text: str, *, retained: bool = False) -> None:
        turn = self.boat.reads("volts", text, retained=retained)
        if not retained:
            self.model.heard.append(turn.now)
        queued = turn.readings[0].late
        assert retained or rightly_doubted(self.model.heard, turn.now, queued, self.model.heard[:-1], self.model.ages)
        self.model.seen.append(Seen(turn.now, None if text == "?" else Decimal(text), retained, queued))

    @invariant()
    def it_was_raised_and_cleared_when_it_should_be(self) -> None:
        for turn in self.boat.turns[self.judged :]:
            for written in turn.entries:
                body = written.entry.body
                if written.entry.kind == "alarm-step" and body["event"] == "raise":
                    self.raised(written.entry.now)
                elif written.entry.kind == "alarm-step" and body["event"] == "clear":
                    self.cleared(written.entry.now)
        self.judged = len(self.boat.turns)

    def raised(self, at: Ms) -> None:
        newest = self.model.before(at)[-1]
        assert self.model.newest_is_low(at)
        since = self.model.low_since(at)
        by_delay = since is not None and at - since >= ON_DELAY and self.model.fresh(at)
        assert by_delay or (newest.retained and newest.at == at), "raised before its delay"
        self.turned.append((at, True))

    def cleared(self, at: Ms) -> None:
        since = self.model.good_since(at)
        assert since is not None, "cleared inside its deadband"
        assert at - since >= OFF_DELAY, "cleared before its delay"
        assert self.model.fresh(at), "cleared by silence"
        self.turned.append((at, False))

    @invariant()
    def it_is_never_later_than_allowed(self) -> None:
        now = self.boat.desk.state.now
        active = self.boat.desk.state.standing.is_active(LOW.id)
        low, good = self.model.low_since(now), self.model.good_since(now)
        if not active and self.model.fresh(now) and self.model.newest_is_low(now) and low is not None:
            assert now - max(low, self.last_turn()) < ON_DELAY, "should have been raised"
        if active and self.model.fresh(now) and good is not None:
            assert now - max(good, self.last_turn()) < OFF_DELAY, "should have been cleared"

    def last_turn(self) -> Ms:
        return self.turned[-1][0] if self.turned else 0

    @invariant()
    def a_new_fold_gives_the_same_state(self) -> None:
        assert len(self.boat.turns) % 7 or self.boat.rebuilt() == self.boat.bytes()


TestDelays = Delays.TestCase
TestDelays.settings = settings(max_examples=tries(60), stateful_step_count=25, deadline=None)
