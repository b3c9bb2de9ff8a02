"""Judging watches that more than one newest value decides: several signals, their past, silence among other things."""

from collections.abc import Sequence
from dataclasses import dataclass

from gateway.boat.latest import Latest
from gateway.boat.settings import Signal
from gateway.conditions.facts import ConditionBegan, ConditionEnded
from gateway.conditions.saying import measured
from gateway.conditions.turning import due_at, late_verdict, ripe, side_verdict, unseen
from gateway.conditions.verdicts import Verdict
from gateway.conditions.watching import CLEARS, RAISES, Watch
from gateway.desk.bundle import Bundle
from gateway.desk.moment import Moment
from gateway.desk.state import State
from gateway.desk.stepping import clear_point, raise_point
from gateway.desk.turn import Recorder
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True)
class Came:
    """A signal whose newest value has changed in this moment, and what was its newest before."""

    signal: Signal
    before: Latest | None


def judge_together(rec: Recorder, watch: Watch, at: Ms, came: Sequence[Came] = ()) -> None:
    """Judge one watch on the side that its point is watched on.

    at: the instant from which what is found counts: that of arrival, or the one at which it turned by time alone.
    came: what has changed in this moment. A retained value raises at once, as it does by itself; a late one raises at
    once where it would by itself.
    """
    state = rec.state
    sight = Moment(state, rec.bundle, rec.now).sight(watch.boat)
    found = side_verdict(watch, sight, at)
    latest = [(one, state.seen.latest[one.signal.id]) for one in came]
    raising = watch.side == RAISES
    if raising and found is not Verdict.HOLDS and not watch.lasting:
        for one, value in latest:
            if value.reading.late and late_verdict(watch.condition, one.signal.key, value) is Verdict.HOLDS:
                found = Verdict.HOLDS
    retained = raising and any(value.reading.retained for _, value in latest)
    if found is Verdict.HOLDS and (retained or not watch.lasting):
        _step(rec, watch, state.held.since.get(watch.id, at), latest)
        return
    blind = any(unseen(watch, one.before, value, one.signal.stale_after) for one, value in latest)
    _follow(rec, watch, found, at, blind, measured(watch.condition, sight, at))
    since = state.held.since.get(watch.id)
    if since is not None:
        due = ripe(watch, sight, since, at)
        if due is not None and due <= rec.now:
            _step(rec, watch, since, latest)


def _follow(rec: Recorder, watch: Watch, found: Verdict, at: Ms, blind: bool, said: str) -> None:
    """What a verdict changes about a watch with a delay: unknown leaves an on-delay and breaks an off-delay."""
    since = rec.state.held.since.get(watch.id)
    if found is Verdict.HOLDS and (since is None or blind):
        rec.note(watch.boat, ConditionBegan(watch=watch.id, since=at, measured=said))
    elif since is not None and (found is Verdict.DOES_NOT or (found is Verdict.UNKNOWN and watch.side == CLEARS)):
        rec.note(watch.boat, ConditionEnded(watch=watch.id, at=max(at, since), measured=said))


def _step(rec: Recorder, watch: Watch, since: Ms, latest: Sequence[tuple[Came, Latest]]) -> None:
    point = rec.bundle.points[watch.point]
    said = measured(watch.condition, Moment(rec.state, rec.bundle, rec.now).sight(watch.boat), rec.now)
    if watch.side == RAISES:
        late = bool(latest) and all(value.reading.late for _, value in latest)
        retained = any(value.reading.retained for _, value in latest)
        raise_point(rec, point, at=since, measured=said, late=late, found=retained)
    else:
        clear_point(rec, point, at=since, measured=said)


def next_turn(state: State, bundle: Bundle, watch: Watch) -> Ms | None:
    """The next instant at which this watch must be judged if nothing more comes; None for the side that is not
    watched, and when only a reading can tell."""
    if state.standing.is_active(watch.point) is (watch.side == RAISES):
        return None
    sight = Moment(state, bundle, state.now).sight(watch.boat)
    return due_at(watch, sight, state.held.since.get(watch.id), state.now)
