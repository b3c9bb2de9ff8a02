"""Every kind of threshold against a plain model: none raises before its delay, none clears inside its deadband, none is
later than it may be.

Each kind gives its sentence, and beside it in plain Python when it is met and when it is gone. The model keeps all that
was seen in a list and looks back over it from scratch; the steps that the real desk made are judged against it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from statistics import linear_regression

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from tests.conditions.kinds_with_edges import KINDS, Values
from tests.desk.small_boat import Small
from tests.desk.watched_boat import cleared, comes, raised, said, value, watched
from tests.effort import tries

ON, OFF = 100 * SECOND, 200 * SECOND
"""The delays of every sentence here."""


@dataclass
class Judged:
    """The desk and the model side by side. verdicts: when something came, whether it was met then and whether gone."""

    boat: Small
    verdicts: list[tuple[Ms, bool, bool]] = field(default_factory=list)

    def came(self, met: bool, gone: bool) -> None:
        self.verdicts.append((self.boat.turns[-1].now - self.boat.began, met, gone))

    def since(self, column: int, at: Ms) -> Ms | None:
        """Since when all that came until an instant said so."""
        found = None
        for verdict in reversed(self.verdicts):
            if verdict[0] > at:
                continue
            if not verdict[column]:
                break
            found = verdict[0]
        return found

    def every_step_was_due(self) -> None:
        for _, at in raised(self.boat):
            since = self.since(1, at)
            assert since is not None, "raised by nothing"
            assert at - since >= ON, "raised before its delay"
        for _, at in cleared(self.boat):
            since = self.since(2, at)
            assert since is not None, "cleared inside its deadband"
            assert at - since >= OFF, "cleared before its delay"

    def none_is_late(self) -> None:
        now = self.boat.now - self.boat.began
        ups, downs = raised(self.boat), cleared(self.boat)
        last = max((at for _, at in (*ups, *downs)), default=0)
        active = len(ups) > len(downs)
        since = self.since(2 if active else 1, now)
        delay = OFF if active else ON
        assert since is None or now - max(since, last) <= delay, "later than it may be"


@st.composite
def runs_of(draw: st.DrawFn, shown: Mapping[str, Sequence[str]]) -> list[tuple[Values, int, Ms]]:
    """The same values some times over, so far apart that the signal is fresh all the time (stale after 90 s)."""
    values = st.fixed_dictionaries({key: st.sampled_from(some) for key, some in shown.items()})
    return draw(
        st.lists(
            st.tuples(values, st.integers(1, 4), st.sampled_from([SECOND, 33 * SECOND, 50 * SECOND, 90 * SECOND])),
            min_size=2,
            max_size=7,
        )
    )


@pytest.mark.parametrize("name", KINDS)
def test_no_kind_raises_before_its_delay_or_clears_inside_its_deadband_or_is_late(name: str) -> None:
    kind = KINDS[name]

    @settings(max_examples=tries(10), deadline=None, database=None)
    @given(runs=runs_of(kind.shown))
    def holds(runs: list[tuple[Values, int, Ms]]) -> None:
        judged = Judged(watched(said("it", f"({kind.when}) for 100 s", "gone for 200 s")))
        for values, times, apart in runs:
            for _ in range(times):
                comes(judged.boat, *(value(key, text) for key, text in values.items()))
                judged.came(kind.met(values), kind.gone(values))
                judged.boat.wait(apart)
                judged.none_is_late()
        judged.every_step_was_due()

    holds()


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_does_raise_and_clear(name: str) -> None:
    kind = KINDS[name]
    first = [{}]
    for key, some in kind.shown.items():
        first = [{**one, key: text} for one in first for text in some]
    boat = watched(said("it", f"({kind.when}) for 100 s", "gone for 200 s"))
    for wanted, times in ((kind.met, 3), (kind.gone, 5)):
        values = next(one for one in first if wanted(one))
        for _ in range(times):
            comes(boat, *(value(key, text) for key, text in values.items()))
            boat.wait(50 * SECOND)
    assert [key for key, _ in raised(boat)] == ["it"]
    assert [key for key, _ in cleared(boat)] == ["it"]


# ---------------------------------------------------------------- rates

WINDOW, APART = 40 * MINUTE, 75 * SECOND
RISES, RESTS = 2.0, 1.0
NEAR = 1e-6
"""C an hour by which two sums of the same line may differ (float)."""


def slope(samples: Sequence[tuple[Ms, float]]) -> float:
    """C an hour by least squares over the window up to the newest."""
    inside = [(at / HOUR, one) for at, one in samples if at > samples[-1][0] - WINDOW]
    return linear_regression(*zip(*inside, strict=True)).slope


@settings(max_examples=tries(6), deadline=None, database=None)
@given(
    pieces=st.lists(st.tuples(st.sampled_from([-1.0, 0.5, 1.5, 2.5, 6.0]), st.integers(15, 40)), min_size=2, max_size=3)
)
@example(pieces=[(6.0, 40), (0.0, 40)])
def test_no_rate_raises_before_its_delay_or_clears_before_it_is_back_under_its_lower_limit(
    pieces: list[tuple[float, int]],
) -> None:
    clears = f"(not (cabin rising faster than {RESTS} C an hour over 40 min)) for 200 s"
    judged = Judged(watched(said("it", f"cabin rising faster than {RISES} C an hour over 40 min for 100 s", clears)))
    samples: list[tuple[Ms, float]] = []
    shown = Decimal(10)
    for steepness, times in pieces:
        for _ in range(times):
            comes(judged.boat, value("cabin", str(shown)))
            samples.append((judged.boat.turns[-1].now, float(shown)))
            known = len(samples) > 1
            judged.came(known and slope(samples) > RISES - NEAR, known and slope(samples) <= RESTS + NEAR)
            shown += Decimal(str(steepness)) * APART / HOUR
            shown = shown.quantize(Decimal("0.0001"))
            judged.boat.wait(APART)
    judged.every_step_was_due()
    if pieces == [(6.0, 40), (0.0, 40)]:
        assert (len(raised(judged.boat)), len(cleared(judged.boat))) == (1, 1)
