"""The loop: gather, take, commit, acknowledge, act. In this order, always."""

import asyncio
import json
from collections import deque
from collections.abc import Callable, Coroutine, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TypeVar

from gateway.boat.directory import Directory, directory_of
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.desk.state import STATE_VERSION
from gateway.doors.faces import Bus, Carrier, Clock, Loaded, Snapshot, Store, StoreTrouble, StoreUnreadable
from gateway.service.arriving import items_of, link_items
from gateway.service.items import Gathered, Item, batch_of
from gateway.service.memory import FromMemory
from gateway.service.polling import POLL_EVERY, Polling
from gateway.service.sending import Sending
from gateway.vocabulary.happenings import (
    Happening,
    InstallationCame,
    LinkChanged,
    PublishAnswered,
    Started,
    StoreRecovered,
    TextCame,
    TimeCame,
    WallClockStepped,
)
from gateway.vocabulary.moments import SECOND, Ms
from gateway.vocabulary.orders import Order, PublishCommand, SendText

T = TypeVar("T")

QUIET_COMMIT: Ms = SECOND
"""Readings that made no entry wait this long for company before they are committed (design 3)."""

HALF_WINDOW = 250
"""Unacknowledged messages at which the commit waits no longer: half of what a broker sends ahead (design 3)."""

TRY_STORE_EVERY: Ms = 5 * SECOND
"""Between two tries of a store that could not commit (our choice)."""

SNAPSHOT_EVERY = 2_000
"""Entries between two snapshots: a restart folds at most so many (our choice: well under a second)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """The world, ready made. buses and carriers: by their names in the installation. draw: 32 bytes for a happening.

    topics: what to subscribe to, by broker. client_ids: by broker, for the topics of our own.
    """

    store: Store
    clock: Clock
    buses: Mapping[str, Bus]
    carriers: Mapping[str, Carrier]
    draw: Callable[[Happening], bytes]
    topics: Mapping[str, Sequence[str]]
    client_ids: Mapping[str, str]
    new_people: Sequence[tuple[str, str]] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How the loop behaves; the demo and tests have no time to wait for company. apart: topics of our own whose
    payloads go to a callback."""

    quiet_commit: Ms = QUIET_COMMIT
    poll_every: Ms = POLL_EVERY
    snapshot_every: int = SNAPSHOT_EVERY
    apart: Mapping[str, Callable[[bytes], None]] = field(default_factory=dict)
    on_step: Callable[[str], None] | None = None


class Service:
    """One installation, running. Create it, `run` it, `stop` it, all on the asyncio loop's thread."""

    def __init__(self, bundle: Bundle, doors: Doors, habits: Habits | None = None) -> None:
        self._bundle, self._doors, self._habits = bundle, doors, habits or Habits()
        self._clock, self._store = doors.clock, doors.store
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="writer")
        self._woken = asyncio.Event()
        self._waiting: deque[Item] = deque()
        self._gathered = Gathered()
        self._stopping = False
        self._now: Ms = 0
        self._taken: dict[str, Ms] = {}
        self._pass_over: list[tuple[str, Ms]] = []
        self._lapsed: Sequence[str] = ()
        self._new_people = doors.new_people
        self._from_memory: FromMemory | None = None
        self._try_store_at: Ms = 0
        self._last_snapshot_n = 0
        self._committing = False
        self._links: dict[str, str] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._sending = Sending(doors.carriers, self._clock, self._came)
        self._directories: dict[str, Directory] = {
            name: directory_of(s for s in bundle.signals.values() if bundle.boats[s.boat].broker == name)
            for name in doors.buses
        }
        self._pollings = [
            Polling(
                name,
                carrier,
                self._clock,
                came=self._came,
                unseen=self._unseen,
                pass_over=self._passed_over,
                every=self._habits.poll_every,
            )
            for name, carrier in doors.carriers.items()
        ]
        self.desk = Desk(bundle)

    # ------------------------------------------------------------ from outside

    def wake(self) -> None:
        """Something may have come. Doors call this, on the loop's thread."""
        self._woken.set()

    def stop(self) -> None:
        """End the run in order: what was taken is committed, the links are closed."""
        self._stopping = True
        self._woken.set()

    @property
    def is_still(self) -> bool:
        """Whether nothing is waiting, under way or due: quick time may move on."""
        due = self.desk.next_due()
        return (
            not self._waiting
            and not self._gathered.items
            and not self._committing
            and not self._woken.is_set()
            and not self._tasks
            and self._sending.is_still
            and not any(polling.is_open for polling in self._pollings)
            and (due is None or due > self._clock.now())
        )

    async def run(self) -> None:
        """Run until `stop`. Raises StoreUnreadable or StoreTrouble when the store cannot even be read at the start."""
        await self._begin()
        polls = [asyncio.create_task(p.run(self._ignore_texts_before)) for p in self._pollings]
        try:
            while not self._stopping:
                await self._wait()
                self._gather()
                await self._commit_if_ready(force=False)
                self._clock.wake_at(self.desk.next_due())
        finally:
            for task in polls:
                task.cancel()
            await asyncio.gather(*polls, return_exceptions=True)
            await self._end()

    # ------------------------------------------------------------ begin and end

    async def _begin(self) -> None:
        loaded = await self._in_writer(lambda: self._store.load(STATE_VERSION))
        await self._in_writer(lambda: self._rebuild(loaded))
        self._clock.start(self.wake, loaded.last_now)
        self._now = max(self.desk.state.now, loaded.last_now or 0)
        self._ignore_texts_before = self._clock.now() if loaded.last_now is None else None
        self._lapsed = loaded.open_commands
        self._sending.know(loaded.known_messages)
        self._last_snapshot_n = self.desk.state.heads.n
        if self.desk.state.fingerprint != self._bundle.fingerprint:
            people = tuple(p.id for p in sorted(self._bundle.people.values(), key=lambda p: p.key))
            self._came(InstallationCame(fingerprint=self._bundle.fingerprint, people=people))
        self._came(Started(stopped_at=loaded.last_now))
        for name, bus in self._doors.buses.items():
            topics = [*self._doors.topics.get(name, ()), *self._habits.apart]
            await bus.open(topics)
        for text in loaded.open_texts:
            self._sending.send(text.order, text.queued_at, look_first=True)

    def _rebuild(self, loaded: Loaded) -> None:
        rows = ((row.happening, row.now, row.reading) for row in loaded.readings)
        data = loaded.snapshot.data if loaded.snapshot is not None else None
        self.desk = rebuilt(self._bundle, data, loaded.entries, rows)

    async def _end(self) -> None:
        await self._sending.close()
        for task in list(self._tasks):
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        self._gather()
        await self._commit_if_ready(force=True, last=True)
        for bus in self._doors.buses.values():
            await bus.close()
        for polling in self._pollings:
            polling.close()
        self._clock.close()
        await self._in_writer(self._store.close)
        self._writer.shutdown(wait=True)

    # ------------------------------------------------------------ gather and take

    def _came(self, happening: Happening) -> None:
        self._waiting.append(Item(happening))
        self._woken.set()

    async def _wait(self) -> None:
        """Until something has come, or what was gathered must be committed, or the store is to be tried again."""
        pause: Ms | None = None
        if self._from_memory is not None:
            pause = max(0, self._try_store_at - self._clock.now())
        elif self._gathered.items:
            pause = max(0, self._gathered.since + self._habits.quiet_commit - self._clock.now())
        if pause is None:
            await self._woken.wait()
        else:
            with suppress(TimeoutError):
                await asyncio.wait_for(self._woken.wait(), pause / SECOND)
        self._woken.clear()

    def _gather(self) -> None:
        for name, bus in self._doors.buses.items():
            messages, changes = bus.take()
            self._waiting.extend(link_items(name, changes))
            self._waiting.extend(items_of(name, self._directories[name], messages, self._habits.apart))
        moved = self._clock.step()
        if moved is not None:
            self._waiting.append(Item(WallClockStepped(by=moved)))
        while self._waiting:
            self._take(self._waiting.popleft())
        due = self.desk.next_due()
        if due is not None and due <= self._clock.now():
            self._take(Item(TimeCame()))

    def _take(self, item: Item) -> None:
        """Have the desk decide. The time of a first taking moves on by at least a millisecond; a second taking keeps
        that of the first, as far as the desk's time allows."""
        self._now = max(self._now + 1, self._clock.now())
        at = self._now if item.taken_at is None else max(item.taken_at, self.desk.state.now + 1)
        item.taken_at = at
        if isinstance(item.happening, TextCame):
            self._taken[item.happening.message] = at
        turn = self.desk.take(item.happening, at, self._doors.draw(item.happening))
        self._gathered.add(item, turn)
        if isinstance(item.happening, LinkChanged):
            self._link_seen(item.happening)

    # ------------------------------------------------------------ commit, then act

    async def _commit_if_ready(self, *, force: bool, last: bool = False) -> None:
        gathered = self._gathered
        if not gathered.items and not self._pass_over and not self._lapsed:
            return
        if self._from_memory is not None and not force and self._clock.now() < self._try_store_at:
            self._tell_from_memory()
            return
        waited = self._clock.now() - gathered.since >= self._habits.quiet_commit
        ready = gathered.is_pressing or waited or gathered.messages >= HALF_WINDOW or not gathered.items
        if not (force or ready):
            return
        if self._from_memory is not None:
            await self._retake()
            gathered = self._gathered
        await self._commit(gathered, last)

    async def _commit(self, gathered: Gathered, last: bool) -> None:
        seen, lapsed, people = self._pass_over, self._lapsed, self._new_people
        batch = batch_of(gathered, people=people, lapsed=lapsed, seen=seen, snapshot=self._snapshot(last))
        self._step("before commit")
        self._committing = True
        try:
            await self._in_writer(lambda: self._store.commit(batch))
        except StoreTrouble as trouble:
            self._store_failed(str(trouble))
            return
        finally:
            self._committing = False
        self._step("committed")
        self._gathered = Gathered()
        self._pass_over, self._lapsed, self._new_people = self._pass_over[len(seen) :], (), ()
        if batch.snapshot is not None:
            self._last_snapshot_n = batch.snapshot.n
        if self._from_memory is not None:
            self._from_memory = None
            self._link_seen(LinkChanged(link="store", up=True))
        for name, bus in self._doors.buses.items():
            bus.acknowledge(m for item in gathered.items for broker, m in item.arrived if broker == name)
        self._step("acknowledged")
        for turn in gathered.turns:
            for order in turn.orders:
                self._act(order, turn.now)

    def _snapshot(self, last: bool) -> Snapshot | None:
        state = self.desk.state
        due = state.heads.n - self._last_snapshot_n >= self._habits.snapshot_every
        if not (due or last) or state.requests.open_code():  # code words stand only in a sealed part
            return None
        return Snapshot(
            n=state.heads.n, happening=state.happening, state_version=STATE_VERSION, data=state_bytes(state)
        )

    def _act(self, order: Order, decided_at: Ms) -> None:
        if isinstance(order, SendText):
            self._step("before send")
            self._sending.send(order, decided_at)
        elif isinstance(order, PublishCommand):
            self._start(self._publish(order))

    async def _publish(self, order: PublishCommand) -> None:
        bus = self._doors.buses[order.broker]
        seconds = -(-order.expires_after // SECOND)
        taken = await bus.publish(order.topic, order.payload, retain=False, expires_after=seconds)
        self._came(PublishAnswered(order=order.id, taken=taken))

    def _start(self, work: Coroutine[None, None, None]) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    # ------------------------------------------------------------ a store that cannot commit

    def _store_failed(self, detail: str) -> None:
        now = self._clock.now()
        if self._from_memory is None:
            self._from_memory = FromMemory(since=now)
            self._link_seen(LinkChanged(link="store", up=False, detail=detail))
        self._try_store_at = now + TRY_STORE_EVERY
        self._tell_from_memory()

    def _tell_from_memory(self) -> None:
        if self._from_memory is not None:
            for order in self._from_memory.to_send(self._gathered.turns, self._clock.now()):
                self._sending.send_unrecorded(order)

    async def _retake(self) -> None:
        """Throw the state away that could not be kept, rebuild it from the store, and take everything again; the
        first entry says what is missing from the record."""
        items, memory = self._gathered.items, self._from_memory
        assert memory is not None
        try:
            loaded = await self._in_writer(lambda: self._store.load(STATE_VERSION))
            await self._in_writer(lambda: self._rebuild(loaded))
        except (StoreTrouble, StoreUnreadable):
            return  # not even readable: go on from memory and try again later
        self._gathered = Gathered()
        gap = StoreRecovered(since=memory.since, until=self._clock.now(), told=tuple(memory.lines))
        self._take(Item(gap, taken_at=self.desk.state.now + 1))
        for item in items:
            if not isinstance(item.happening, StoreRecovered):
                self._take(item.again())

    # ------------------------------------------------------------ small things

    async def _unseen(self, messages: Sequence[str]) -> frozenset[str]:
        """Which of these texts have never been taken in."""
        asked = [m for m in messages if m not in self._taken]
        if not asked:
            return frozenset()
        try:
            seen = await self._in_writer(lambda: self._store.has_seen(asked))
        except StoreTrouble:
            return frozenset()  # better late than twice: asked again at the next poll
        self._taken.update(dict.fromkeys(seen, self._now))
        return frozenset(asked) - seen

    def _passed_over(self, message: str) -> None:
        self._pass_over.append((message, self._now))
        self._taken[message] = self._now
        self._woken.set()

    def _link_seen(self, change: LinkChanged) -> None:
        """Trouble with store, broker or carrier also stands retained on a topic of our own."""
        word = "up" if change.up else f"down: {change.detail}" if change.detail else "down"
        if self._links.get(change.link) == word:
            return
        self._links[change.link] = word
        payload = json.dumps(dict(sorted(self._links.items())))
        for name, bus in self._doors.buses.items():
            topic = f"heavingline/{self._doors.client_ids[name]}/trouble"
            self._start(self._say(bus, topic, payload))

    async def _say(self, bus: Bus, topic: str, payload: str) -> None:
        await bus.publish(topic, payload, retain=True, expires_after=None)

    async def _in_writer(self, work: Callable[[], T]) -> T:
        """Everything that touches the store happens in the writer's thread, one after the other."""
        return await asyncio.get_running_loop().run_in_executor(self._writer, work)

    def _step(self, name: str) -> None:
        """A tagged step, for tests that strike exactly there."""
        if self._habits.on_step is not None:
            self._habits.on_step(name)
