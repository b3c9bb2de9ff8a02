"""Readings come in: marked, kept, and judged; and what is nobody's reading is noted once."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from gateway.alarms.facts import PersonSeen, VisitEnded
from gateway.alarms.settings import Point
from gateway.boat.latest import Latest, is_sign_of_life, is_stale, marked
from gateway.boat.settings import Senses, Signal
from gateway.conditions.facts import ConditionEnded, SignalReadable, SignalUnreadable
from gateway.conditions.judging import said
from gateway.conditions.turning import late_verdict
from gateway.conditions.verdicts import Verdict
from gateway.conditions.watching import CLEARS, RAISES, Watch, follow, is_ripe, verdict
from gateway.desk.applying import absorb
from gateway.desk.facts import HourKept, UnknownTopic
from gateway.desk.stepping import clear_point, raise_point
from gateway.desk.timeless import noted, tell_times
from gateway.desk.together import Came, judge_together
from gateway.desk.turn import Recorder
from gateway.desk.watchers import Watchers
from gateway.logbook.kept_readings import hour_of
from gateway.telling.trouble_notices import SignalBad
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import UnknownTopicCame
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading

UNREADABLE_LASTS = 5
"""Unreadable payloads in a row after which somebody is told (our choice: one may be a sensor's hiccup)."""

MOST_UNKNOWN_TOPICS = 200
"""Remembered at most, so that a flood of made-up topics cannot fill the memory or the logbook (our choice)."""


@dataclass(slots=True)
class _Moment:
    """What has come and is not judged yet. came: signals whose newest value has changed, by id. heard: ids of signals
    and keys of boats from which there was news, whatever time it told of."""

    came: dict[str, Came] = field(default_factory=dict)
    heard: dict[str, None] = field(default_factory=dict)


def readings_came(rec: Recorder, watchers: Watchers, readings: tuple[Reading, ...]) -> frozenset[str]:
    """Take in what arrived together. Gives back the ids of the signals that changed.

    Different signals of one moment are set before anything is judged; a second value of one signal closes the moment
    and what has come so far is judged first.
    """
    changed: set[str] = set()
    moment, bad, timeless = _Moment(), list[SignalBad](), list[Signal]()
    for raw in readings:
        signal = rec.bundle.signals.get(raw.signal)
        if signal is None:
            continue
        if signal.id in moment.came:
            _judge(rec, watchers, moment)
            moment = _Moment()
        before = rec.state.seen.latest.get(signal.id)
        queued = raw.own_time is None and rec.state.seen.may_be_queued(signal, rec.now)
        reading = marked(raw, signal, before, rec.now, queued=queued)
        timeless_before = rec.state.seen.timeless.get(signal.id, 0)
        newest = _keep(rec, signal, reading, bad)
        if (reading.timeless or timeless_before) and noted(rec, signal, reading, timeless_before):
            timeless.append(signal)
        if newest:
            moment.came[signal.id] = Came(signal, before)
        else:
            _late_raise(rec, watchers, signal, reading)
        if not reading.retained:
            alive = is_sign_of_life(reading, signal)
            heard = (signal.boat, signal.id) if alive else (signal.id,)
            _news_came(rec, watchers, heard)
            moment.heard |= dict.fromkeys(heard)
        changed.add(signal.id)
    _judge(rec, watchers, moment)
    for notice in sorted(bad, key=lambda one: one.signal):  # whatever order they came in
        rec.tell(notice)
    if timeless:
        tell_times(rec, timeless)
    return frozenset(changed)


def _keep(rec: Recorder, signal: Signal, reading: Reading, bad: list[SignalBad]) -> bool:
    """Keep one reading, close the hour that it ends, and note what else it tells. True when it is the newest.
    bad: takes what is to be told of a signal that cannot be read."""
    state = rec.state
    known = state.hours.get(signal.boat)
    if known is not None and known.hour != hour_of(rec.now):
        rec.note(signal.boat, HourKept(boat=signal.boat, hour=known.hour, count=known.count, digest=known.digest))
    bad_before = state.seen.unreadable.get(signal.id, 0)
    before = state.seen.latest.get(signal.id)
    newest = absorb(state, reading, signal.boat, rec.now, signal)
    rec.readings.append(reading)
    if reading.grade is Grade.UNREADABLE or bad_before:
        bad += _readable(rec, signal, reading, bad_before)
    if reading.value is True and signal.senses is Senses.PERSON:
        _sign_of_person(rec, signal, reading)
    elif reading.value is True and newest and signal.senses is Senses.PANEL_VISIT_OVER:
        _panel_pressed(rec, signal, before)
    return newest


def _readable(rec: Recorder, signal: Signal, reading: Reading, bad_before: int) -> tuple[SignalBad, ...]:
    """Note what became of a signal that could not be read; what is to be told of it."""
    if reading.grade is not Grade.UNREADABLE:
        rec.note(signal.boat, SignalReadable(signal=signal.id))
        return ()
    in_a_row = bad_before + 1
    if in_a_row not in (1, UNREADABLE_LASTS):
        return ()
    rec.note(signal.boat, SignalUnreadable(signal=signal.id, in_a_row=in_a_row, sample=reading.text))
    if in_a_row != UNREADABLE_LASTS:
        return ()
    return tuple(
        SignalBad(person=person, boat=signal.boat, signal=signal.id, sample=reading.text, in_a_row=in_a_row)
        for person in rec.bundle.minders(signal.boat)
    )


def _sign_of_person(rec: Recorder, signal: Signal, reading: Reading) -> None:
    """Any sign counts, an old or overtaken one too: nobody knows whether that person has left."""
    if rec.state.standing.occupied.get(signal.boat) is None:
        at = rec.now if reading.own_time is None else reading.own_time
        rec.note(signal.boat, PersonSeen(boat=signal.boat, by=signal.id, at=at))


def _panel_pressed(rec: Recorder, signal: Signal, before: Latest | None) -> None:
    """Only a press that was seen to happen ends a visit: from off to on, both of them fresh. A button that is found
    pressed may have been so since before somebody came."""
    latest = rec.state.seen.latest[signal.id]
    seen_off = before is not None and before.value is False and not is_stale(before, signal, rec.now)
    if seen_off and latest.sure:
        rec.note(signal.boat, VisitEnded(boat=signal.boat, by=signal.id, at=latest.measured))


def _late_raise(rec: Recorder, watchers: Watchers, signal: Signal, reading: Reading) -> None:
    """A reading older than its signal's newest is kept, and may raise a latched or emergency point: better told late
    than not at all. It never clears one, and takes no part in delays."""
    measured = rec.now if reading.own_time is None else reading.own_time
    latest = Latest(reading, measured, rec.now)
    for watch in watchers.by_signal.get(signal.id, ()):
        point = rec.bundle.points[watch.point]
        grave = point.latching or point.priority is Priority.EMERGENCY
        waits = watch.side == RAISES and grave and not rec.state.standing.is_active(point.id)
        if waits and late_verdict(watch.condition, signal.key, latest) is Verdict.HOLDS:
            _raise(rec, point, latest, signal)


def _news_came(rec: Recorder, watchers: Watchers, heard: tuple[str, ...]) -> None:
    """Something live has come: silences of this boat or signal are over."""
    for key in heard:
        for watch in watchers.silences_of.get(key, ()):
            point = rec.bundle.points[watch.point]
            if point.clears is None and rec.state.standing.is_active(point.id):
                clear_point(rec, point, at=rec.now, measured="heard again")


def _judge(rec: Recorder, watchers: Watchers, moment: _Moment) -> None:
    """Judge every condition that these signals matter to, each on the side that its point is watched on, in the order
    of the installation: in which order the signals came makes no difference."""
    woken: dict[str, list[Came]] = {}
    for signal, came in moment.came.items():
        for watch in watchers.by_signal.get(signal, ()):
            woken.setdefault(watch.id, []).append(came)
    for key in moment.heard:
        for watch in watchers.by_boat.get(key, ()):
            woken.setdefault(watch.id, [])
        for watch in watchers.by_signal.get(key, ()):
            if not watch.by_value:
                woken.setdefault(watch.id, [])
    for watch_id in _in_order(woken, watchers):
        watch = watchers.by_id[watch_id]
        active = rec.state.standing.is_active(watch.point)
        if (watch.side == CLEARS) is not active:
            continue
        if watch.by_value:
            _judge_one(rec, watch, woken[watch_id][0])
        else:
            judge_together(rec, watch, rec.now, woken[watch_id])


def _in_order(woken: Iterable[str], watchers: Watchers) -> list[str]:
    return sorted(woken, key=lambda watch_id: watchers.place[watch_id])


def _judge_one(rec: Recorder, watch: Watch, came: Came) -> None:
    signal, latest = came.signal, rec.state.seen.latest[came.signal.id]
    point = rec.bundle.points[watch.point]
    if latest.reading.retained or not watch.lasting:
        if verdict(watch, latest) is Verdict.HOLDS:  # a retained value raises at once and never clears
            _step(rec, watch, point, latest, signal)
        return
    fact = follow(watch, rec.state.held, came.before, latest, signal, rec.now)
    if fact is not None:
        rec.note(point.boat, fact)
    since = rec.state.held.since.get(watch.id)
    if since is not None and is_ripe(watch, since, latest, signal, rec.state.started, rec.now):
        _step(rec, watch, point, latest, signal)


def ripen(rec: Recorder, watch: Watch) -> bool:
    """Step a point whose delay has passed by time alone. True when it did."""
    point, signal = rec.bundle.points[watch.point], rec.bundle.signals[watch.signal or ""]
    latest, since = rec.state.seen.latest.get(signal.id), rec.state.held.since[watch.id]
    if latest is None or not is_ripe(watch, since, latest, signal, rec.state.started, rec.now):
        return False
    _step(rec, watch, point, latest, signal)
    return True


def _step(rec: Recorder, watch: Watch, point: Point, latest: Latest, signal: Signal) -> None:
    if watch.side == RAISES:
        _raise(rec, point, latest, signal)
    else:
        since = rec.state.held.since.get(watch.id, latest.measured)
        clear_point(rec, point, at=since, measured=said(latest, signal))


def _raise(rec: Recorder, point: Point, latest: Latest, signal: Signal) -> None:
    since = rec.state.held.since.get(f"{point.id} {RAISES}", latest.measured)
    late, found = latest.reading.late, latest.reading.retained
    raise_point(rec, point, at=since, measured=said(latest, signal), late=late, found=found)


def break_clearing(rec: Recorder) -> None:
    """At a start every off-delay starts again: nobody saw what happened meanwhile."""
    for watch in [w for w in rec.state.held.since if w.endswith(f" {CLEARS}")]:
        point = rec.bundle.points.get(watch.rpartition(" ")[0])
        if point is not None:
            rec.note(
                point.boat, ConditionEnded(watch=watch, at=rec.now, measured="", because="the gateway was restarted")
            )


def unknown_topic(rec: Recorder, happening: UnknownTopicCame) -> None:
    """A message on a topic that no signal uses."""
    known = rec.state.unknown_topics
    if f"{happening.broker} {happening.topic}" not in known and len(known) < MOST_UNKNOWN_TOPICS:
        fact = UnknownTopic(broker=happening.broker, topic=happening.topic, sample=happening.sample)
        rec.note(INSTALLATION, fact)
