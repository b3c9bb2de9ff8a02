"""A replay: the record is taken in again by the very same desk, and what comes of it is held against what came then.

As long as nothing is different, everything that came in then comes in again: readings, texts of people, the carrier's
answers. From the first difference on nobody can know what people and carrier would have done; then it is assumed that
nobody answers, that every text is delivered after 20 s, and that the boat went on as it did.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from heapq import heappop, heappush

from gateway.desk.hub import Desk
from gateway.desk.trouble import MOST_APART
from gateway.desk.turn import Turn
from gateway.rehearsal.lines import Line, lines_of, same
from gateway.rehearsal.recalled import fresh, recalled
from gateway.rehearsal.recorded import Lost, Taken, happening_of
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.happenings import (
    CarrierTimeSeen,
    DeliveryReported,
    Happening,
    InstallationCame,
    MailAnswered,
    OptFlagCame,
    PublishAnswered,
    SendAnswered,
    SendDelayed,
    Started,
    TextCame,
    TimeCame,
)
from gateway.vocabulary.moments import SECOND, Ms
from gateway.vocabulary.orders import PublishCommand, SendText

DELIVERED_AFTER: Ms = 20 * SECOND
"""Assumed from the first difference on (our choice: what carriers' texts usually take, on the slow side)."""

WOKEN_WITHIN: Ms = 5 * SECOND
"""What fell due was done by the gateway no later than this; so a happening of the record that follows within it is the
one that did it (our choice: its clock sweeps every few seconds)."""

OF_PEOPLE = (
    TextCame,
    OptFlagCame,
    SendAnswered,
    SendDelayed,
    MailAnswered,
    DeliveryReported,
    PublishAnswered,
    TimeCame,
)
"""What is not taken from the record any more once something was different. Time goes by itself then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Where the replay left the record. now: instant (ms UTC). why: in words."""

    now: Ms
    why: str


@dataclass(slots=True)
class Replay:
    """One replay. desk: as it stood before the first happening; it is used up. own: by the files that were in use
    then, so that every instant of the record is kept exactly.

    was, would: what people noticed then, and what they would have noticed. different: None while nothing is.
    taken: happenings of the record so far. turns: of the desk so far; exact: all of its entries were those of the
    record, hash for hash, and its readings marked alike.
    """

    desk: Desk
    own: bool
    was: list[Line] = field(default_factory=list)
    would: list[Line] = field(default_factory=list)
    different: Difference | None = None
    taken: int = 0
    turns: int = 0
    exact: bool = True
    _open: dict[str, Ms] = field(default_factory=dict)
    _assumed: list[tuple[Ms, int, Happening]] = field(default_factory=list)
    _assumptions: int = 0

    def begin(self, at: Ms) -> None:
        """Have the desk use its own files from this instant on, where others were in use before."""
        if self.desk.state.fingerprint not in ("", self.desk.bundle.fingerprint):
            self._free(self._installation(), at)

    def run(self, record: Iterable[Taken], until: Ms) -> None:
        """Take in these happenings, then let time go by up to `until` (instant, ms UTC)."""
        for one in record:
            self.taken += 1
            was = lines_of(one.entries)
            self.was += was
            happening = happening_of(one, self.desk.state.clock_offset, self._number)
            if not self.own or self.different is not None:
                self._wait(self._woken_until(one, happening))
            if self.different is None:
                self._again(one, happening, was)
            elif happening is not None and not isinstance(happening, (Lost, *OF_PEOPLE)):
                self._free(self._with_own_files(happening), one.now)
        if not self.own or self.different is not None:
            self._wait(until)

    def _number(self, person: str) -> str:
        known = self.desk.bundle.people.get(person)
        return known.number if known is not None else ""

    # ------------------------------------------------------------ as it came then

    def _again(self, one: Taken, happening: Happening | Lost | None, was: tuple[Line, ...]) -> None:
        if isinstance(happening, Lost):
            self._differ(one.now, happening.why)
            return
        if isinstance(happening, SendAnswered):
            self._open.pop(happening.order, None)
        at = one.now
        if happening is None:
            happening, at = self._nothing(), self._instant_of_nothing(one)
        turn = self._take(self._with_own_files(happening), at, recalled(one, self.turns, self._code_words))
        self.exact = self.exact and turn.entries == one.entries and turn.readings == one.readings
        would = lines_of(turn.entries)
        self.would += would
        if len(was) != len(would) or not all(map(same, was, would)):
            self._differ(one.now, "what came of it is not what came of it then")

    @property
    def _code_words(self) -> tuple[str, ...]:
        return self.desk.bundle.code_words

    def _instant_of_nothing(self, one: Taken) -> Ms:
        """A happening that left no entry of its own was taken 1 ms behind what fell due before it; or in the very
        millisecond, when that fell due just then."""
        first, last = one.entries[0].entry.now, one.entries[-1].entry.now
        due = self.desk.next_due()
        return last if first < last or (due is not None and due >= last) else last + 1

    def _nothing(self) -> Happening:
        """A happening that changes nothing: the carrier's clock, as far from ours as it is known to be."""
        state = self.desk.state
        return CarrierTimeSeen(ahead=state.clock_offset + (MOST_APART + 1 if state.clock_doubtful else 0))

    def _with_own_files(self, happening: Happening) -> Happening:
        """Whatever files came into use then, here it is always those of the replay."""
        if not isinstance(happening, InstallationCame) or happening.fingerprint == self.desk.bundle.fingerprint:
            return happening
        return self._installation()

    def _installation(self) -> InstallationCame:
        people = sorted(self.desk.bundle.people.values(), key=lambda person: person.key)
        return InstallationCame(fingerprint=self.desk.bundle.fingerprint, people=tuple(one.id for one in people))

    # ------------------------------------------------------------ as it would have gone on

    def _differ(self, now: Ms, why: str) -> None:
        if self.different is None:
            self.different, self.exact = Difference(now=now, why=why), False
            for order, due in self._open.items():
                self._assume(order, due)
            self._open.clear()

    def _assume(self, order: str, due: Ms) -> None:
        accepted = SendAnswered(order=order, accepted=True, message=f"assumed {order}")
        for happening in (accepted, DeliveryReported(order=order, status="delivered")):
            self._expect(due, happening)

    def _expect(self, at: Ms, happening: Happening) -> None:
        self._assumptions += 1
        heappush(self._assumed, (at, self._assumptions, happening))

    def _woken_until(self, one: Taken, happening: Happening | Lost | None) -> Ms:
        """Up to when the gateway woke by itself before this happening: not while it did not run."""
        if isinstance(happening, Started):
            return min(one.now, happening.stopped_at or 0)
        return one.now if self.different is not None else one.now - WOKEN_WITHIN

    def _wait(self, until: Ms) -> None:
        """Let time go by, up to `until` and not then: what falls due, and what is assumed."""
        while True:
            due, assumed = self.desk.next_due(), self._assumed[0] if self._assumed else None
            if assumed is not None and (due is None or assumed[0] <= due):
                at, happening = assumed[0], assumed[2]
            elif due is not None:
                at, happening = due, TimeCame()
            else:
                return
            at = max(at, self.desk.state.now + 1)
            if at >= until:
                return
            if assumed is not None and happening is assumed[2]:
                heappop(self._assumed)
            self._free(happening, at)

    def _free(self, happening: Happening, at: Ms) -> None:
        """Something that the record does not tell of: whatever people would notice of it is a difference."""
        turn = self._take(happening, at, Draws(fresh(self.turns)))
        found = lines_of(turn.entries)
        self.would += found
        if found:
            self._differ(turn.now, "something fell due that did not then")

    def _take(self, happening: Happening, at: Ms, draws: Draws) -> Turn:
        self.turns += 1
        turn = self.desk.take(happening, max(at, self.desk.state.now + 1), draws)
        for order in turn.orders:
            due = turn.now + DELIVERED_AFTER
            if isinstance(order, SendText) and self.different is None:
                self._open[order.id] = due
            elif isinstance(order, SendText):
                self._assume(order.id, due)
            elif isinstance(order, PublishCommand) and self.different is not None:
                self._expect(turn.now + 1, PublishAnswered(order=order.id, taken=True))
        return turn


def before(record: Iterable[Taken], desk: Desk, until: Ms, kept_from: Ms = 0) -> Taken | None:
    """Fold the happenings before an instant (ms UTC) into the desk; the first one at or after it, None for none.

    kept_from: readings taken before this instant are no longer there; then the desk knows no more of the time before
    than after a start at that instant, and an off value or a silence must last from there on. Raises DoesNotFollow,
    ValueError or TypeError.
    """
    for one in record:
        if one.now >= until:
            desk.state.started = max(desk.state.started, kept_from)
            return one
        for reading in one.readings:
            desk.apply_reading(one.happening, one.now, reading)
        for written in one.entries:
            desk.apply(written)
    return None
