"""What waits is taken by the desk, one after the other; what it falls over is set aside, so that all else goes on; and
everything is taken again when it could not be kept."""

from collections import deque
from collections.abc import Awaitable, Callable

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.desk.left_alone import FellOver
from gateway.doors.faces import Clock
from gateway.service.faults import log, shown
from gateway.service.items import Gathered, Item
from gateway.service.texts_taken import TextsTaken
from gateway.vocabulary.happenings import Happening, LinkChanged, StoreRecovered, TextCame, TimeCame
from gateway.vocabulary.moments import MINUTE, Ms

SIGN_OF_LIFE: Ms = 5 * MINUTE
"""While nothing comes that is recorded, the record says so often that the gateway runs. Else a restart would take a
silent boat's quiet hours for hours without a gateway (our choice: half of the blind time that is told)."""


class Taking:
    """Used on the loop's thread. waiting: what is still to be taken. gathered: what was taken since the last commit.
    now: the instant (ms UTC) of the last taking; recorded_at: of the last one that left something to record.

    draw: fresh bytes for a happening. load: the desk as it stands on disk. woken: called when something is to be done
    at once. link_seen: called with each change of a link that was taken.
    """

    def __init__(
        self,
        bundle: Bundle,
        clock: Clock,
        texts: TextsTaken,
        *,
        draw: Callable[[Happening], bytes],
        load: Callable[[], Awaitable[Desk]],
        woken: Callable[[], None],
        link_seen: Callable[[LinkChanged], None],
    ) -> None:
        self.desk = Desk(bundle)
        self.waiting: deque[Item] = deque()
        self.gathered = Gathered()
        self.now: Ms = 0
        self.recorded_at: Ms = 0
        self._clock, self._texts = clock, texts
        self._draw, self._load, self._woken, self._link_seen = draw, load, woken, link_seen
        self._faulty: tuple[Item, Exception] | None = None

    @property
    def is_still(self) -> bool:
        """Whether nothing waits and nothing is to be set aside."""
        return not self.waiting and self._faulty is None

    def begin(self, desk: Desk, last_now: Ms | None) -> None:
        """Go on from this desk. last_now: the latest instant recorded anywhere."""
        self.desk = desk
        self.now = self.recorded_at = max(desk.state.now, last_now or 0)

    def next_due(self) -> Ms | None:
        """When something falls due. Where not even that can be found it is a fault like any other, to be set aside."""
        try:
            return self.desk.next_due()
        except FellOver as fault:
            self._faulty = Item(TimeCame()), fault
            self._woken()
            return None

    def take_waiting(self) -> None:
        """Take what waits, then what is due by itself; up to the first fault, which is `set_faults_aside`'s."""
        while self.waiting:
            if not self._taken(self.waiting.popleft()):
                return
        now, due = self._clock.now(), self.next_due()
        if self._faulty is not None:
            return
        if (due is not None and due <= now) or now - self.recorded_at >= SIGN_OF_LIFE:
            self._taken(Item(TimeCame()))

    def take(self, item: Item) -> None:
        """Have the desk decide. The time of a first taking moves on by at least a millisecond; a second taking keeps
        that of the first, as far as the desk's time allows."""
        self.now = max(self.now + 1, self._clock.now())
        at = self.now if item.taken_at is None else max(item.taken_at, self.desk.state.now + 1)
        item.taken_at = at
        turn = self.desk.take(item.happening, at, self._draw(item.happening))
        self.gathered.add(item, turn)
        if turn.entries or turn.readings:
            self.recorded_at = turn.now
        if isinstance(item.happening, LinkChanged):
            self._link_seen(item.happening)

    async def take_again(self, gap: Callable[[], StoreRecovered]) -> None:
        """Throw the state away that could not be kept, rebuild it from the store, and take everything again behind a
        first entry that says what is missing from the record. Raises StoreTrouble and StoreUnreadable while the store
        cannot even be read, and then nothing has changed."""
        items, aside = self.gathered.items, self.desk.aside
        self.desk = await self._load()
        self.desk.leave(aside)
        self.gathered = Gathered()
        first = Item(gap(), taken_at=self.desk.state.now + 1, told=True)
        again = deque([first, *(item.again() for item in items if not isinstance(item.happening, StoreRecovered))])
        while again and self._taken(again.popleft()):
            pass
        if self._faulty is not None:  # what fell over then must not keep the rest from the record
            self.waiting.extendleft(reversed(again))
            await self.set_faults_aside()

    async def set_faults_aside(self) -> None:
        """Go on in spite of faults of ours, each recorded, shown and left alone."""
        while self._faulty is not None:
            await self._set_aside(*self._faulty)
            self.take_waiting()

    def _taken(self, item: Item) -> bool:
        """Whether the desk could decide on it. Its faults are ours: one must not keep all else from being told."""
        try:
            self.take(item)
        except Exception as fault:
            self._faulty = item, fault
        return self._faulty is None

    async def _set_aside(self, item: Item, fault: Exception) -> None:
        """The desk could not decide: a fault of ours. Its half-made changes are thrown away with the state, the rest is
        taken again, and the fault is recorded and shown. What had fallen due is left alone for a while."""
        again = [*(other.again() for other in self.gathered.items), shown(item, fault)]
        aside = self.desk.aside
        if isinstance(fault, FellOver):
            aside.put(fault.what, self.now)
            again.append(item)
        elif isinstance(item.happening, TextCame):
            self._texts.pass_over(item.happening.message, self.now)
        self.desk = await self._load()
        self.desk.leave(aside)
        self.gathered, self._faulty = Gathered(), None
        self.waiting.extendleft(reversed(again))
        log(fault)
