"""The recent past of signals, as far as a condition looks back: runs, starts, changes, samples, positions.

Part of the state. It is fed by every newest reading, live and in the fold alike, and by nothing else; what is kept of
which signal is a fact of its own, so that the fold of a logbook does not depend on the settings of today. Everything
here runs along the signal's own times. Bounded: see the figures below.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from gateway.conditions.facts import PastKept
from gateway.reckoning.distance import Position
from gateway.reckoning.drift import APART, Fix, is_usable
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Grade, Reading

MOST_SPANS = 256
"""Spans kept of a signal that is on and off by turns (our choice). Exact up to there; beyond, short ones are joined."""

FINEST = 100
"""Parts of the window up to which they are joined (our choice): what the window's begin cuts through is counted as
little as it may be, so that an alarm may come late by one part in a hundred of the window, and never early."""

SAMPLES_A_WINDOW = 120
"""Samples kept of a window (our choice): a line through more of them is the same line, and each costs memory."""


class Keeps(StrEnum):
    """What is kept of a signal."""

    RUNS = "runs"
    STARTS = "starts"
    CHANGES = "changes"
    SAMPLES = "samples"
    FIXES = "fixes"


@dataclass(frozen=True, slots=True)
class Need:
    """What some condition looks back upon. signal: id. amount: ms of the window for runs and samples; how many for
    starts and fixes; 1 for changes. stale_after: ms, the signal's own."""

    signal: str
    keeps: Keeps
    amount: int
    stale_after: Ms

    @property
    def written(self) -> str:
        """As it stands in the logbook."""
        return f"{self.signal} {self.keeps} {self.amount} {self.stale_after}"

    @property
    def key(self) -> str:
        """Under which its past is kept. Lines over several windows need each its own samples."""
        window = f" {self.amount}" if self.keeps is Keeps.SAMPLES else ""
        return f"{self.signal} {self.keeps}{window}"


@dataclass(frozen=True, slots=True)
class Span:
    """A time (instants, ms UTC) through which a contact was known. on: ms of it that it was on."""

    begin: Ms
    end: Ms
    on: Ms

    @property
    def length(self) -> Ms:
        """ms."""
        return self.end - self.begin

    @property
    def plain(self) -> bool:
        """All on or all off."""
        return self.on in (0, self.length)


@dataclass(frozen=True, slots=True)
class Kept:
    """One value that is kept: when measured (instant) and its text."""

    at: Ms
    text: str


@dataclass(slots=True)
class Past:
    """What is kept for one need.

    known_since: since when the signal has been read without a break (instant), None while it is not known. newest: the
    last live value that could be read. spans: for runs. instants: of starts, or of the last change. values: samples
    or fixes.
    """

    known_since: Ms | None = None
    newest: Kept | None = None
    spans: list[Span] = field(default_factory=list)
    instants: list[Ms] = field(default_factory=list)
    values: list[Kept] = field(default_factory=list)

    def lose(self, need: Need, at: Ms) -> None:
        """From this instant on nothing is known: unreadable, or a state of unknown age."""
        if need.keeps is Keeps.RUNS:
            self._close(need, at)
        self.known_since = None

    def take(self, need: Need, reading: Reading, at: Ms) -> None:
        """Take in a live value that can be read."""
        before = self.newest
        unbroken = self.known_since is not None and before is not None and at - before.at <= need.stale_after
        match need.keeps:
            case Keeps.RUNS:
                self._close(need, at)
                self.spans = [span for span in self.spans if span.end > at - need.amount]
            case Keeps.STARTS if before is not None and (before.text, reading.text) == ("off", "on"):
                self.instants = [*self.instants, at][-need.amount :]
            case Keeps.CHANGES if before is not None and _differ(before, reading):
                self.instants = [at]
            case Keeps.SAMPLES if not self.values or at - self.values[-1].at >= need.amount // SAMPLES_A_WINDOW:
                self.values = [one for one in self.values if one.at >= at - need.amount] + [Kept(at, reading.text)]
            case Keeps.FIXES if _counts(self.values, reading.text, at):
                self.values = [*self.values, Kept(at, reading.text)][-need.amount :]
        if not unbroken:
            self.known_since = at
        self.newest = Kept(at, reading.text)

    def _close(self, need: Need, at: Ms) -> None:
        span = self.open_span(need, at)
        if span is None:
            return
        last = self.spans[-1] if self.spans else None
        alike = last is not None and last.plain and (last.on > 0) == (span.on > 0)
        if last is not None and last.end == span.begin and alike and last.length:
            self.spans[-1] = Span(last.begin, span.end, last.on + span.on)
        else:
            self.spans.append(span)
        if len(self.spans) > MOST_SPANS:
            self.spans = _coarser(self.spans, need.amount // FINEST)

    def open_span(self, need: Need, at: Ms) -> Span | None:
        """From the newest value to an instant: it counts on while it is fresh. None when nothing is known."""
        if self.known_since is None or self.newest is None:
            return None
        end = min(at, self.newest.at + need.stale_after)
        if end <= self.newest.at:
            return None
        return Span(self.newest.at, end, end - self.newest.at if self.newest.text == "on" else 0)


@dataclass(slots=True)
class Pasts:
    """Of all signals. needs: by boat's key and signal's id. past: by the need's key."""

    needs: dict[str, dict[str, list[Need]]] = field(default_factory=dict)
    past: dict[str, Past] = field(default_factory=dict)

    def apply(self, fact: PastKept) -> None:
        """From now on this is kept of the boat's signals. What is kept already goes on."""
        wanted = needs_in(fact)
        for need in wanted:
            self.past.setdefault(need.key, Past())
        for key in {need.key for need in self.of_boat(fact.boat)} - {need.key for need in wanted}:
            del self.past[key]
        self.needs.pop(fact.boat, None)
        for need in wanted:
            self.needs.setdefault(fact.boat, {}).setdefault(need.signal, []).append(need)

    def absorb(self, reading: Reading, measured: Ms) -> None:
        """Take in a reading that became the newest of its signal. measured: instant."""
        for need in self.of_signal(reading.signal):
            past = self.past[need.key]
            if reading.retained or reading.grade is Grade.UNREADABLE:
                past.lose(need, measured)
            else:
                past.take(need, reading, measured)

    def of_signal(self, signal: str) -> Sequence[Need]:
        """What is kept of one signal (id)."""
        return self.needs.get(signal.partition("/")[0], {}).get(signal, ())

    def of_boat(self, boat: str) -> tuple[Need, ...]:
        """What is kept of this boat's signals, in order."""
        return tuple(need for some in self.needs.get(boat, {}).values() for need in some)


def kept_fact(boat: str, needs: tuple[Need, ...]) -> PastKept:
    """The fact that from now on this is kept."""
    return PastKept(boat=boat, needs=tuple(need.written for need in needs))


def needs_in(fact: PastKept) -> tuple[Need, ...]:
    """What a fact says is kept."""
    parts = (written.split(" ") for written in fact.needs)
    return tuple(Need(signal, Keeps(keeps), int(amount), int(stale)) for signal, keeps, amount, stale in parts)


def position_in(text: str) -> Position:
    """The position that a reading's text holds."""
    lat, lon = text.split()
    return Position(float(lat), float(lon))


def _differ(before: Kept, reading: Reading) -> bool:
    if reading.grade is Grade.NUMBER:
        return Decimal(before.text) != Decimal(reading.text)
    return before.text != reading.text


def _counts(values: list[Kept], text: str, at: Ms) -> bool:
    """Whether a fix counts: one in 15 s, and none that a receiver gives before it has one (handbook 4.9)."""
    apart = not values or at - values[-1].at >= APART
    return apart and is_usable(Fix(at, position_in(text)))


def _coarser(spans: list[Span], widest: Ms) -> list[Span]:
    """Spans that touch become one as long as that is no longer than `widest`. Where so many do not touch that it does
    not help, the oldest are given up and count as not known."""
    found = spans[:1]
    for span in spans[1:]:
        last = found[-1]
        if last.end == span.begin and span.end - last.begin <= widest:
            found[-1] = Span(last.begin, span.end, last.on + span.on)
        else:
            found.append(span)
    return found[-MOST_SPANS:]
