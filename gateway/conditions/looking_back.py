"""What the kept past of a signal says: how long it was on, how often it started, how fast it moves, where it was.

Every answer has two ends where something is not known: what is certain, and what may be besides. All instants are the
signal's own, windows are open at their begin: (at - window, at].
"""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from gateway.boat.settings import Signal
from gateway.conditions.past import Need, Past, Span, position_in
from gateway.conditions.verdicts import Verdict
from gateway.reckoning.answers import NoEnd, Reckoned
from gateway.reckoning.distance import Position, metres_between
from gateway.reckoning.lines import Sample, rate_per_hour
from gateway.vocabulary.moments import DAY, HOUR, Ms
from grammar.meanings import FixesAway, HasChanged, IsMoving, RanLonger, StartedOften, StartsGrow, Trend

STEP_IN_A_LINE = 1.5
"""One single step in the middle of evenly taken samples lets their line of least squares rise by 6 p (1 - p) steps over
all of them, p being the share of samples behind it: at most one and a half. Less than that is no movement."""


class OnTime(NamedTuple):
    """ms in a window: at least so long, at most so long (what is not known included)."""

    least: Ms
    most: Ms


def time_on(past: Past, need: Need, window: Ms, wanted: bool, at: Ms) -> OnTime:
    """How long a contact was on (or off, by `wanted`) in the window up to an instant."""
    least = most = known = 0
    for span in _spans(past, need, at):
        inside = min(span.end, at) - max(span.begin, at - window)
        if inside <= 0:
            continue
        so = span.on if wanted else span.length - span.on
        least += max(0, so - (span.length - inside))
        most += min(so, inside)
        known += inside
    return OnTime(least, most + window - known)


def _spans(past: Past, need: Need, at: Ms) -> Iterator[Span]:
    yield from past.spans
    going_on = past.open_span(need, at)
    if going_on is not None:
        yield going_on


def ran(condition: RanLonger, past: Past, need: Need, at: Ms) -> Verdict:
    """Whether it was on for more than so long altogether."""
    on = time_on(past, need, condition.window, condition.wanted, at)
    if on.least > condition.more_than:
        return Verdict.HOLDS
    return Verdict.DOES_NOT if on.most <= condition.more_than else Verdict.UNKNOWN


def ran_enough_at(condition: RanLonger, past: Past, need: Need, after: Ms) -> Ms | None:
    """The first instant later than `after` at which it will have been on for more than that if nothing more comes; None
    when it will not. It counts on only while the newest value is fresh; between the instants at which a span's end
    leaves the window the time on grows evenly, so one step leads to the crossing."""
    if past.newest is None:
        return None
    until = past.newest.at + need.stale_after
    corners = {after, until}
    for span in past.spans:
        so = span.on if condition.wanted else span.length - span.on
        corners |= {edge + condition.window for edge in (span.begin, span.end, span.begin + so)}
    corners.add(past.newest.at + condition.window)
    ordered = sorted(corner for corner in corners if after <= corner <= until)
    for begin, end in pairwise(ordered):
        lacking = condition.more_than - time_on(past, need, condition.window, condition.wanted, begin).least
        if lacking < 0:
            return begin
        if lacking + 1 <= end - begin and _exceeds(condition, past, need, begin + lacking + 1):
            return begin + lacking + 1
    return until if ordered and _exceeds(condition, past, need, until) else None


def _exceeds(condition: RanLonger, past: Past, need: Need, at: Ms) -> bool:
    return ran(condition, past, need, at) is Verdict.HOLDS


MOST_STARTS = 1_000
"""Starts kept for a mean (our choice: six an hour for a week; with more of them the mean is that of the last ones)."""
SHORTEST_FOR_A_MEAN: Ms = DAY
"""So long it must have been read without a break before its mean is compared with (our choice: a day and a night)."""


def started_oftener(condition: StartedOften, past: Past, at: Ms) -> Verdict:
    """Whether it started so many times as often as in the mean before the window (handbook 3, P03). What was not read
    for a day without a break has no mean; neither has what began to be read within the window."""
    if past.known_since is None or past.known_since > at - SHORTEST_FOR_A_MEAN:
        return Verdict.UNKNOWN
    window_begins = at - condition.window
    since = max(past.known_since, at - condition.mean_of)
    if len(past.instants) >= MOST_STARTS:
        since = max(since, past.instants[0])
    if since >= window_begins:
        return Verdict.UNKNOWN
    before = sum(1 for instant in past.instants if since < instant <= window_begins)
    count = times_started(condition.window, past, at)
    mean = before * condition.window / (window_begins - since)
    return Verdict.HOLDS if count > condition.more_than * mean else Verdict.DOES_NOT


def mean_turns_after(condition: StartedOften, past: Past, after: Ms) -> list[Ms]:
    """When it may turn by time alone: as a start leaves the window or the time of the mean, and as the mean begins to
    count. Between these the mean changes evenly and little, and the next value decides."""
    turns = [] if past.known_since is None else [past.known_since + SHORTEST_FOR_A_MEAN]
    for length in (condition.window, condition.mean_of):
        turns += [at + length for at in past.instants if at + length > after][:1]
    return turns


def started(condition: StartedOften, past: Past, at: Ms) -> Verdict:
    """Whether it was seen to start more often than that. That it did not can be said only of a window without a gap."""
    if condition.mean_of:
        return started_oftener(condition, past, at)
    if times_started(condition.window, past, at) > condition.more_than:
        return Verdict.HOLDS
    return _does_not_if_seen(past, condition.window, at)


def times_started(window: Ms, past: Past, at: Ms) -> int:
    """Starts in the window, as far as they are kept."""
    return sum(1 for instant in past.instants if at - window < instant <= at)


def starts_by_the_hour(condition: StartsGrow, past: Past, at: Ms) -> list[int] | None:
    """How often it started in each of the hours that are compared, oldest first; None where they were not all read
    without a break, or more starts came than are kept."""
    begin = at - (condition.hours + 1) * HOUR
    if past.known_since is None or past.known_since > begin:
        return None
    if len(past.instants) >= MOST_STARTS and past.instants[0] > begin:
        return None
    counts = [0] * (condition.hours + 1)
    for instant in past.instants:
        if begin < instant <= at:
            counts[condition.hours - (at - instant) // HOUR] += 1
    return counts


def starts_grow(condition: StartsGrow, past: Past, at: Ms) -> Verdict:
    """Whether in each of the last hours it started so many times as often as in the hour before (handbook 3, P03).
    Hours are counted back from now, each open at its begin; of an hour without a start nothing is a multiple."""
    counts = starts_by_the_hour(condition, past, at)
    if counts is None:
        return Verdict.UNKNOWN
    grows = counts[0] > 0 and all(later >= condition.times * earlier for earlier, later in pairwise(counts))
    return Verdict.HOLDS if grows else Verdict.DOES_NOT


def growth_turns(condition: StartsGrow, past: Past, need: Need) -> list[Ms]:
    """When it may turn by time alone: as a start passes from one hour to the one before, and as the oldest hour is
    known, while the newest value is fresh (nothing is known of later)."""
    if past.newest is None or past.known_since is None:
        return []
    edges = [at + hour * HOUR for at in past.instants for hour in range(1, condition.hours + 2)]
    until = past.newest.at + need.stale_after
    return [at for at in (past.known_since + (condition.hours + 1) * HOUR, *edges) if past.newest.at < at <= until]


def changed(condition: HasChanged, past: Past, at: Ms) -> Verdict:
    """Whether it has changed: with its newest value, or within the window."""
    last = past.instants[-1] if past.instants else None
    if not condition.window:
        if past.newest is None or past.known_since is None:
            return Verdict.UNKNOWN
        return Verdict.HOLDS if last == past.newest.at else Verdict.DOES_NOT
    if last is not None and at - condition.window < last <= at:
        return Verdict.HOLDS
    return _does_not_if_seen(past, condition.window, at)


def _does_not_if_seen(past: Past, window: Ms, at: Ms) -> Verdict:
    seen = past.known_since is not None and past.known_since <= at - window
    return Verdict.DOES_NOT if seen else Verdict.UNKNOWN


def rate_of(condition: IsMoving, past: Past, signal: Signal) -> Reckoned | NoEnd | None:
    """How fast it moves, units an hour, by the line through the samples of the window up to the newest; "steady" where
    that is less than the sensor's own step; None where too little is known (handbook 4.6)."""
    if past.newest is None:
        return None
    samples = [Sample(one.at, float(one.text)) for one in past.values if one.at > past.newest.at - condition.window]
    found = rate_per_hour(samples, noise=STEP_IN_A_LINE * float(signal.step), unit=signal.unit)
    return found if isinstance(found, Reckoned | NoEnd) else None


def moves(condition: IsMoving, past: Past, signal: Signal) -> Verdict:
    """Whether it rises or falls faster than that."""
    rate = rate_of(condition, past, signal)
    if rate is None:
        return Verdict.UNKNOWN
    if isinstance(rate, NoEnd):
        return Verdict.DOES_NOT
    signed = rate.value if condition.trend is Trend.RISING else -rate.value
    return Verdict.HOLDS if signed > condition.faster_than else Verdict.DOES_NOT


def set_place(condition: FixesAway, signal: Signal) -> Position | None:
    """From where the distance counts."""
    if condition.lat is not None and condition.lon is not None:
        return Position(float(condition.lat), float(condition.lon))
    if signal.set_position is None:
        return None
    lat, lon = signal.set_position
    return Position(float(lat), float(lon))


def distances(condition: FixesAway, past: Past, signal: Signal) -> list[float]:
    """Metres of the last fixes from the place, oldest first."""
    place = set_place(condition, signal)
    if place is None:
        return []
    return [metres_between(place, position_in(one.text)) for one in past.values[-condition.of :]]


def fixes_away(condition: FixesAway, past: Past, signal: Signal, count: int) -> Verdict:
    """Whether at least `count` of the last fixes lie so. On the circle is within. Fixes that are still to come may lie
    anywhere."""
    found = distances(condition, past, signal)
    so = sum(1 for metres in found if (Decimal(metres) <= condition.metres) is condition.within)
    if so >= count:
        return Verdict.HOLDS
    return Verdict.DOES_NOT if so + condition.of - len(found) < count else Verdict.UNKNOWN
