"""A restart at any instant of any kind's delay: none fewer, none cleared earlier, none raised later than allowed.

Design rule 3: an on-delay goes on from its recorded beginning if the first reading afterwards still agrees, else it
begins anew; an off-delay always begins anew.

The model is a list of what was reported and when, and walks over it from scratch; it knows nothing of facts, watches or
timers. The instants of the restart are aimed: at the begin of each delay, in its middle, and at both sides of its end.
"""

from collections.abc import Callable, Sequence
from itertools import product

import pytest

from gateway.vocabulary.happenings import ReadingsCame
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from tests.conditions.kinds_with_edges import KINDS, Kind, Values
from tests.conditions.test_edges_of_every_kind import fix
from tests.desk.small_boat import Small
from tests.desk.watched_boat import cleared, comes, raised, said, value, watched
from tests.effort import some_of

ON, OFF, OFTEN = 100 * SECOND, 200 * SECOND, 25 * SECOND

Report = tuple[Ms, Values]
"""An instant (ms since the begin) and what was reported then."""


class Told:
    """A boat that reports every 25 s with its own time, and what it reported."""

    def __init__(self, kind: Kind) -> None:
        self.boat: Small = watched(said("it", f"({kind.when}) for 100 s", "gone for 200 s"))
        self.reports: list[Report] = []
        self.stops: list[tuple[Ms, Ms]] = []

    @property
    def now(self) -> Ms:
        return self.boat.now - self.boat.began

    def keeps(self, values: Values, until: Ms) -> None:
        """These values every 25 s, the first at once, up to an instant (ms since the begin)."""
        while self.now < until:
            at = max(self.boat.now, self.boat.desk.state.now + 1)
            some = [value(key, text, own_time=at) for key, text in values.items()]
            self.boat.take(ReadingsCame(readings=tuple(some)))
            self.reports.append((at - self.boat.began, values))
            self.boat.wait(min(OFTEN, until - self.now))

    def restarts(self, length: Ms) -> None:
        stopped = self.now
        self.boat.restarts(length)
        self.stops.append((stopped, self.boat.desk.state.started - self.boat.began))


def expected(kind: Kind, reports: Sequence[Report], stops: Sequence[tuple[Ms, Ms]], end: Ms) -> list[tuple[str, Ms]]:
    """When it must be raised and cleared, by what was reported alone."""
    found: list[tuple[str, Ms]] = []
    active, since = False, None
    for place, (at, values) in enumerate(reports):
        until = reports[place + 1][0] if place + 1 < len(reports) else end
        runs_until = min((stop for stop, start in stops if at < start <= until), default=until)
        broken = active and place > 0 and any(reports[place - 1][0] < start <= at for _, start in stops)
        holds = kind.gone(values) if active else kind.met(values)
        since = (at if since is None or broken else since) if holds else None
        if since is None:
            continue
        due = max(at, since + (OFF if active else ON))
        if due < until and due <= runs_until:
            found.append(("clear" if active else "raise", due))
            active = not active
            since = None
            if kind.gone(values) if active else kind.met(values):
                since = due
    return found


def steps(boat: Small) -> list[tuple[str, Ms]]:
    both = [("raise", at) for _, at in raised(boat)] + [("clear", at) for _, at in cleared(boat)]
    return sorted(both, key=lambda step: step[1])


def one_of_each(kind: Kind) -> list[Values]:
    """A set of values that meets it, one that is gone, and one in between where there is one."""
    every = [dict(zip(kind.shown, texts, strict=True)) for texts in product(*kind.shown.values())]
    tests: list[Callable[[Values], bool]] = [
        kind.met,
        kind.gone,
        lambda one: not kind.met(one) and not kind.gone(one),
    ]
    return [found for test in tests if (found := next((one for one in every if test(one)), None)) is not None]


@pytest.mark.parametrize("length", some_of([5 * MINUTE, 1], 2))
@pytest.mark.parametrize("name", KINDS)
def test_a_restart_within_an_on_delay_leaves_none_out_and_makes_none_late(name: str, length: Ms) -> None:
    kind = KINDS[name]
    met = one_of_each(kind)[0]
    for after, then in product([1, ON // 2, ON - 1, ON + 1], one_of_each(kind)):
        told = Told(kind)
        told.keeps(met, after)
        told.restarts(length)
        told.keeps(then, told.now + 30 * SECOND)
        told.keeps(met, told.now + 2 * ON)
        want = expected(kind, told.reports, told.stops, told.now)
        assert steps(told.boat) == want, (after, then)
        assert want[0][0] == "raise"
        assert told.boat.rebuilt() == told.boat.bytes()


@pytest.mark.parametrize("length", some_of([5 * MINUTE, 1], 2))
@pytest.mark.parametrize("name", KINDS)
def test_a_restart_within_an_off_delay_clears_nothing_early(name: str, length: Ms) -> None:
    kind = KINDS[name]
    met, gone = one_of_each(kind)[:2]
    for after, then in product([1, OFF // 2, OFF - 1], one_of_each(kind)[1:]):
        told = Told(kind)
        told.keeps(met, ON + 1)
        told.keeps(gone, told.now + after)
        told.restarts(length)
        told.keeps(then, told.now + 30 * SECOND)
        told.keeps(gone, told.now + OFF + OFTEN)
        want = expected(kind, told.reports, told.stops, told.now)
        assert steps(told.boat) == want, (after, then)
        assert [step for step, _ in want] == ["raise", "clear"]
        assert want[1][1] >= told.stops[0][1] + OFF


# ---------------------------------------------------------------- kinds that look back or count

LOOKING_BACK: dict[str, tuple[str, str, list[str], Ms]] = {
    "unreadable": ("cabin unreadable 3 times", "cabin", ["20", "?", "?", "?", "20"], OFTEN),
    "fixes": (
        "3 of 5 fixes of position further than 25 m from its set position",
        "position",
        [fix(metres) for metres in ("0", "30", "0", "30", "30", "0", "0", "0", "0", "0")],
        OFTEN,
    ),
    "starts": (
        "pump started more than 2 times in the last 5 min",
        "pump",
        ["off", "on", "off", "on", "off", "on", "off", "off"],
        OFTEN,
    ),
    "runs": ("pump on for more than 2 min in the last 10 min", "pump", ["off", *["on"] * 7, "off"], OFTEN),
    "changes": ("not (heartbeat changed in the last 3 min)", "heartbeat", ["1", "2", *["2"] * 9, "3"], OFTEN),
    "rate": (
        "cabin rising faster than 2 C an hour over 40 min",
        "cabin",
        [f"{20 + number * 0.1:.1f}" for number in range(40)],
        75 * SECOND,
    ),
}


@pytest.mark.parametrize("name", LOOKING_BACK)
def test_a_restart_between_any_two_readings_raises_what_is_counted_or_looked_back_upon_no_later(name: str) -> None:
    sentence, key, shown, apart = LOOKING_BACK[name]

    def played(restart_behind: int | None) -> Small:
        boat = watched(said("it", sentence))
        for place, text in enumerate(shown):
            comes(boat, value(key, text))
            if place == restart_behind:
                boat.restarts(1)
            boat.wait(boat.began + (place + 1) * apart - boat.now)
        return boat

    whole = played(None)
    assert len(raised(whole)) == 1
    for place in range(0, len(shown), 1 + len(shown) // 12):
        boat = played(place)
        (_, want), *_ = raised(whole)
        (_, at), *more = raised(boat)
        assert not more, f"raised twice, restarted behind reading {place}"
        assert at <= want + apart, f"restarted behind reading {place}"
        assert at >= want, f"restarted behind reading {place}"
        assert not cleared(boat) or cleared(boat)[0] >= cleared(whole)[0]
        assert boat.rebuilt() == boat.bytes()


@pytest.mark.parametrize("sentence", ["no news from shore for 10 min", "no news for 10 min"])
@pytest.mark.parametrize("after", [1, 5 * MINUTE, 10 * MINUTE])
def test_a_silence_counts_anew_from_a_start_and_is_raised_at_its_full_length(sentence: str, after: Ms) -> None:
    boat = watched(said("it", sentence))
    comes(boat, value("shore", "on"))
    boat.wait(after)
    boat.restarts(HOUR)
    up = boat.desk.state.now - boat.began  # the link came up, 1 ms behind the start
    boat.wait(11 * MINUTE)
    assert raised(boat) == [("it", up + 10 * MINUTE + 1)]
    boat.restarts(HOUR)
    boat.wait(11 * MINUTE)
    assert len(raised(boat)) == 1, "a restart raises nothing twice"
    assert cleared(boat) == [], "and ends no silence"
