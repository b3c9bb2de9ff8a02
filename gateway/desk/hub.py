"""The desk: takes one happening after the other, decides, and keeps the one state."""

from collections.abc import Callable

from gateway.desk import (
    accounts,
    duty_ends,
    grouping,
    keeping,
    left_alone,
    practising,
    regular,
    switching,
    texts_out,
    trouble,
)
from gateway.desk.aftermath import aftermath_of
from gateway.desk.applying import absorb, apply_fact
from gateway.desk.bundle import Bundle
from gateway.desk.by_time import ByTime
from gateway.desk.facts import TimeFell
from gateway.desk.inbound import text_came
from gateway.desk.intake import break_clearing, readings_came, unknown_topic
from gateway.desk.kinds import BY_KIND
from gateway.desk.left_alone import Aside, FellOver
from gateway.desk.new_files import files_came, keep_past
from gateway.desk.rounds import call_out, callouts_of
from gateway.desk.standing_due import next_standing_due, standing_due
from gateway.desk.state import State
from gateway.desk.turn import Recorder, Turn
from gateway.desk.watchers import watchers_of
from gateway.logbook.chains import REFERENCE, accept
from gateway.requests.falling_due import next_due as next_request
from gateway.telling.rounds import next_due as next_round
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import INSTALLATION, Written
from gateway.vocabulary.facts import fact_of
from gateway.vocabulary.happenings import (
    DamageFound,
    Happening,
    InstallationCame,
    PartsExpired,
    PublishAnswered,
    ReadingsCame,
    ReadingsExpired,
    RestoreFound,
    Started,
    TextCame,
    TimeCame,
    UnknownTopicCame,
)
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading

MOST_STEPS_DUE = 1_000
"""Rounds of "what is due now" in one turn. Each changes what is due next, so a handful is enough; more would be a
fault of ours, and then it is better to go on with what comes in than to stand still for ever."""

BEFORE_ALL = (Started, InstallationCame, RestoreFound, DamageFound)
"""What is taken before that which fell due."""


class Desk:
    """One installation's brain. Not safe for several threads; the service calls it from one.

    Live, what-if and replay are the same class: the difference is who calls it and what becomes of the orders.
    """

    def __init__(self, bundle: Bundle, state: State | None = None) -> None:
        self.state = State() if state is None else state
        self.aside = Aside()
        self.use(bundle)

    def leave(self, aside: Aside) -> None:
        """Leave alone what a desk before this one fell over."""
        self.aside = self._by_time.aside = aside
        self._by_time.forget()

    def use(self, bundle: Bundle) -> None:
        """Put new settings in place. The service then takes an `InstallationCame` before anything else."""
        self.bundle = bundle
        self._watchers = watchers_of(bundle)
        self._by_time = ByTime(self.state, bundle, self._watchers, self.aside)
        self._callouts = callouts_of(bundle)
        self._aftermath = aftermath_of(bundle)
        self._followed = 0

    def take(self, happening: Happening, now: Ms, draw: bytes | Draws) -> Turn:
        """Decide on one happening. now: instant, ms UTC, later than any before; draw: 32 fresh bytes, or in a replay
        draws that remember.

        What fell due before `now` is done first, then the happening, then what falls due exactly at `now`. The state
        has changed when this returns; the orders must wait until the entries are on disk, and if they cannot be put
        there this desk must be thrown away and rebuilt from the store. So it must when this raises: FellOver when what
        fell due was at fault, which is then left alone (`leave`), anything else for the happening. A happening that
        leaves neither entry nor reading (a topic that is known to be nobody's) has not been: its number goes to the
        next one.

        A start and a new installation come before what fell due, which must be judged by what holds from then on. All
        of these but the start leave it to the next happening: a start may follow, else the desk is woken at once.
        """
        if now <= self.state.now:
            raise ValueError(f"time must move on: {now} after {self.state.now}")
        draws = draw if isinstance(draw, Draws) else Draws(draw)
        rec = Recorder(state=self.state, bundle=self.bundle, draws=draws, now=now)
        self._followed = 0
        if self.aside.over(now):
            self._by_time.forget()
        before = self.state.happening, self.state.now
        self.state.happening += 1
        if not isinstance(happening, BEFORE_ALL):
            rec.now = now - 1
            self._fall_due(rec)
            rec.now = now
        self.state.now = now
        self._handle(rec, happening)
        self._follow(rec)
        if not isinstance(happening, BEFORE_ALL) or isinstance(happening, Started):
            self._fall_due(rec)
        self._by_time.look_at(rec)
        turn = rec.turn()
        if not turn.readings and not turn.entries:
            self.state.happening, self.state.now = before
        elif not turn.readings:
            self.state.now = turn.entries[-1].entry.now
        return turn

    def apply(self, written: Written) -> None:
        """Fold one entry of the logbook in. Raises DoesNotFollow, ValueError or TypeError when it cannot be."""
        entry = written.entry
        accept(self.state.heads, written)
        self.state.happening = entry.happening
        self.state.now = max(self.state.now, entry.now)
        if entry.kind == REFERENCE:
            return
        if entry.kind not in BY_KIND:
            raise ValueError(f"entry {entry.n}: kind {entry.kind!r} is not known to this version")
        self._by_time.forget()
        fact = fact_of(BY_KIND[entry.kind], entry.version, entry.body)
        apply_fact(self.state, fact, entry.now, written.parts)

    def apply_reading(self, happening: int, now: Ms, reading: Reading) -> None:
        """Fold one kept reading in."""
        self._by_time.forget()
        self.state.happening, self.state.now = happening, max(self.state.now, now)
        boat = reading.signal.partition("/")[0]
        absorb(self.state, reading, boat, now, self.bundle.signals.get(reading.signal))

    def next_due(self) -> Ms | None:
        """The next instant at which something falls due by itself; None when nothing will. Raises FellOver."""
        rec = self._looking()
        parts: tuple[tuple[str, Callable[[], Ms | None]], ...] = (
            (left_alone.LINKS, lambda: min(trouble.long_down(rec).values(), default=None)),
            (left_alone.STANDING, lambda: next_standing_due(self.state, self.bundle)),
            (left_alone.GROUPS, lambda: grouping.next_due(rec)),
            (left_alone.REGULAR, lambda: regular.next_due(rec)),
            (left_alone.TEXTS, lambda: texts_out.next_overdue(rec)),
            (left_alone.DUTY, lambda: duty_ends.next_due(rec)),
            (left_alone.ACCOUNTS, lambda: accounts.next_due(rec)),
            (left_alone.PRACTICE, lambda: practising.next_due(rec)),
            (left_alone.REQUESTS, lambda: next_request(self.state.requests)),
        )
        dues = [self.aside.next(), self._next_call(), self._by_time.next_due()]
        for what, next_of in parts:
            if not self.aside.has(what):
                with left_alone.named(what):
                    dues.append(next_of())
        return min((at for at in dues if at is not None), default=None)

    def _next_call(self) -> Ms | None:
        callouts, telling, matters = self._callouts, self.state.telling, self.bundle.matters
        if self.aside.has(left_alone.CALLS):
            return None
        if self.aside.next() is not None:  # hardly ever: with many boats nothing here may go through every point
            has = self.aside.has
            callouts = {point: one for point, one in callouts.items() if not has(left_alone.call(point))}
        try:
            return next_round(telling, callouts, matters)
        except Exception as fault:
            for point, one in callouts.items():  # whose it was, so that the others go on
                with left_alone.named(left_alone.call(point)):
                    next_round(telling, {point: one}, matters)
            raise FellOver(left_alone.CALLS) from fault

    def _looking(self) -> Recorder:
        return Recorder(state=self.state, bundle=self.bundle, draws=Draws(bytes(32)), now=self.state.now)

    def _handle(self, rec: Recorder, happening: Happening) -> None:
        match happening:
            case ReadingsCame(readings=readings):
                switching.seen(rec, readings_came(rec, self._watchers, readings))
            case TextCame():
                text_came(rec, happening)
            case PublishAnswered():
                trouble.command_published(rec, happening)
                switching.handed_over(rec, happening.order, happening.taken)
            case TimeCame():
                rec.note(INSTALLATION, TimeFell())
            case InstallationCame():
                files_came(rec, self._watchers, happening)
            case Started():
                trouble.started(rec, happening)
                break_clearing(rec)
                keep_past(rec, self._watchers)
                switching.restarted(rec)
            case UnknownTopicCame():
                unknown_topic(rec, happening)
            case RestoreFound():
                keeping.restored(rec, happening)
            case DamageFound():
                keeping.replaced(rec, happening)
            case ReadingsExpired():
                keeping.readings_expired(rec, happening)
            case PartsExpired():
                keeping.parts_expired(rec, happening)
            case _:
                trouble.noted(rec, happening)

    def _fall_due(self, rec: Recorder) -> None:
        """Do what is due up to the moment of `rec`, until nothing is."""
        for _ in range(MOST_STEPS_DUE):
            self._by_time.look_at(rec)
            due = self.next_due()
            if due is None or due > rec.now:
                break
            found = self._by_time.fall_due(rec) | self._do(left_alone.STANDING, standing_due, rec)
            found |= self._do(left_alone.GROUPS, grouping.due, rec)
            found |= self._do(left_alone.REGULAR, regular.due, rec) | self._do(left_alone.TEXTS, texts_out.overdue, rec)
            found |= self._do(left_alone.DUTY, duty_ends.due, rec)
            found |= self._do(left_alone.ACCOUNTS, accounts.due, rec)
            found |= self._do(left_alone.PRACTICE, practising.due, rec)
            self._follow(rec)  # before anybody is told
            found |= call_out(rec, self.aside) | self._do(left_alone.REQUESTS, switching.due, rec)
            if not (self._do(left_alone.LINKS, trouble.links_due, rec) | found):
                break
            self._follow(rec)

    def _do(self, what: str, work: Callable[[Recorder], bool], rec: Recorder) -> bool:
        """One kind of what may be due, unless it is left alone. True when there was any."""
        if self.aside.has(what):
            return False
        with left_alone.named(what):
            return work(rec)

    def _follow(self, rec: Recorder) -> None:
        """Draw the consequences of what was noted since the last time in this turn."""
        self._aftermath.follow(rec, self._followed)
        self._followed = len(rec.facts)
