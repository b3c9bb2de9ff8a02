"""The loop: gather, take, commit, acknowledge, act. In this order, always."""

import asyncio
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.doors.faces import Marks, StoreTrouble, StoreUnreadable
from gateway.service.acting import Acting
from gateway.service.arriving import directories_of, items_of, link_items
from gateway.service.balances import Balances
from gateway.service.beginning import first_happenings
from gateway.service.end_values import EndValues
from gateway.service.following import Following
from gateway.service.incoming import Incoming
from gateway.service.items import Gathered, Item, batch_of
from gateway.service.keeping import KeepingDaily
from gateway.service.mailing import Mailing
from gateway.service.memory import FromMemory, is_alarm
from gateway.service.parts import Doors, Habits
from gateway.service.restoring import Restoring
from gateway.service.sending import Sending
from gateway.service.taking import SIGN_OF_LIFE, Taking
from gateway.service.texts_taken import TextsTaken
from gateway.service.trouble_topic import TroubleTopic
from gateway.vocabulary.happenings import (
    Happening,
    LinkChanged,
    MailAnswered,
    PublishAnswered,
    SendAnswered,
    TextCame,
    TimeCame,
    WallClockStepped,
)
from gateway.vocabulary.moments import SECOND, Ms

T = TypeVar("T")

HALF_WINDOW = 250
"""Unacknowledged messages at which the commit waits no longer: half of what a broker sends ahead (design 3)."""

ENDS = (SendAnswered, MailAnswered, PublishAnswered)
"""Ends of our own orders: put on disk before the gateway stops."""


class Service:
    """One installation, running. Create it, `run` it, `stop` it, all on the asyncio loop's thread."""

    def __init__(self, bundle: Bundle, doors: Doors, habits: Habits | None = None) -> None:
        self._bundle, self._doors, self._habits = bundle, doors, habits or Habits()
        self._clock, self._store, self._step = doors.clock, doors.store, self._habits.on_step
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="writer")
        self._woken = asyncio.Event()
        self._stopping = self._ending = self._first_ever = False
        self._wakes_at: Ms = 0
        self._lapsed: Sequence[str] = ()
        self._marks = Marks()
        self._new_people = doors.new_people
        self._memory = FromMemory()
        self._committing = False
        self._restoring = Restoring(bundle, doors.store, self._habits.snapshot_every)
        self._ends = EndValues(doors.buses, doors.client_ids, self._is_up)
        self._keeping = KeepingDaily(
            doors.store,
            self._clock,
            doors.keeping,
            in_writer=self._in_writer,
            state=lambda: self.desk.state,
            came=self._came,
            want_snapshot=self._restoring.want,
            daily=self._ends.publish,
        )
        self._texts = TextsTaken(lambda messages: self._in_writer(lambda: self._store.has_seen(messages)))
        self._sending = Sending(doors.carriers, self._clock, self._came, self._step)
        self._following = Following(
            doors.carriers,
            self._clock,
            state=lambda: self.desk.state,
            carrier_of=lambda text: bundle.carrier_for(text.person, text.boat),
            came=self._came,
        )
        self._balances = Balances(doors.carriers, self._clock, state=lambda: self.desk.state, came=self._came)
        self._mailing = Mailing(doors.mail, self._clock, self._came)
        self._acting = Acting(
            doors.buses, self._sending, self._mailing, self._keeping, self._clock, came=self._came, step=self._step
        )
        self._trouble = TroubleTopic(doors.buses, doors.client_ids, self._acting.start)
        self._directories = directories_of(bundle, doors.buses)
        self._incoming = Incoming(
            doors.carriers,
            doors.inboxes,
            doors.paces,
            self._clock,
            self._texts,
            every=self._habits.poll_every,
            state=lambda: self.desk.state,
            came=self._came,
            pass_over=self._passed_over,
        )
        self._taking = Taking(
            bundle,
            self._clock,
            self._texts,
            draw=doors.draw,
            load=self._loaded,
            woken=self._woken.set,
            link_seen=self._trouble.seen,
        )

    @property
    def desk(self) -> Desk:
        """The desk at present; another one after what it took could not be kept."""
        return self._taking.desk

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
        return (
            self._taking.is_still
            and (not self._taking.gathered.items or self._memory.since is not None)
            and not self._committing
            and not self._woken.is_set()
            and self._acting.is_still
            and self._sending.is_still
            and self._incoming.is_still
            and self._following.is_still
            and self._mailing.is_still
            and self._balances.is_still
            and not self._keeping.is_open
            and self._wakes_at > self._clock.now()
        )

    async def run(self) -> None:
        """Run until `stop`. Raises StoreUnreadable or StoreTrouble when the store cannot even be read at the start.

        When anything else ends the loop, nothing more is taken or put on disk: what was not committed comes again.
        """
        try:
            await self._begin()
            self._incoming.start(first_ever=self._first_ever, only_after=self._marks.texts_after)
            self._keeping.start(self._marks.thinned_at)
            self._balances.start()
            while not self._stopping:
                await self._woken.wait()
                self._woken.clear()
                self._gather()
                await self._taking.set_faults_aside()
                await self._commit_if_ready()
                self._wakes_at = self._next_wake()
                self._clock.wake_at(self._wakes_at)
            self._ending = True
        finally:
            await self._keeping.stop()
            await self._balances.stop()
            await self._following.stop()
            await self._incoming.stop()
            await self._end()

    # ------------------------------------------------------------ begin and end

    async def _begin(self) -> None:
        loaded, desk = await self._in_writer(lambda: self._restoring.begin(self._clock.now()))
        if loaded.marks.replaced is not None:
            self._new_people = [(person.id, person.key, person.number) for person in self._bundle.people.values()]
        self._marks = loaded.marks
        self._taking.begin(desk, loaded.last_now)
        self._ends.found(self.desk.state.heads.chains)
        self._clock.start(self.wake, loaded.last_now)
        self._first_ever = loaded.last_now is None
        self._lapsed = loaded.open_commands
        self._sending.know(loaded.known_messages)
        for happening in first_happenings(loaded, self._bundle, self.desk.state.fingerprint):
            self._came(happening)
        for name, bus in self._doors.buses.items():
            await bus.open([*self._doors.topics.get(name, ()), *self._habits.apart])
        for text in loaded.open_texts:
            self._sending.send(text.order, text.queued_at, look_first=True)
        for mail in loaded.open_mails:
            self._mailing.send(mail)

    async def _end(self) -> None:
        """Close everything. In order: with what the world has answered to our orders put on disk before, and nothing
        new begun. Texts and messages that wait come again, orders made now are carried out after the next start."""
        await self._sending.close()
        await self._mailing.close()
        await self._acting.close()
        if self._ending:
            answers = [item for item in self._taking.waiting if isinstance(item.happening, ENDS)]
            for item in answers:
                self._taking.take(item)
            if self._clock.now() - self._taking.recorded_at > SECOND:
                self._taking.take(Item(TimeCame()))  # so that the record says until when the gateway ran
            await self._commit_if_ready(last=True)
            await self._ends.publish_last()
        for bus in self._doors.buses.values():
            await bus.close()
        self._incoming.close()
        self._following.close()
        self._balances.close()
        self._keeping.close()
        self._clock.close()
        await self._in_writer(self._store.close)
        self._writer.shutdown(wait=True)

    # ------------------------------------------------------------ gather and take

    def _came(self, happening: Happening) -> None:
        if isinstance(happening, TextCame) and not self._texts.take(happening.message):
            return
        self._taking.waiting.append(Item(happening))
        self._woken.set()

    def _passed_over(self, message: str) -> None:
        self._texts.pass_over(message, self._taking.now)
        self._woken.set()

    def _next_wake(self) -> Ms:
        """When something is due by itself: for the desk, for the record, for a store that could not commit."""
        moments = [self._taking.recorded_at + SIGN_OF_LIFE]
        due = self._taking.next_due()
        if due is not None:
            moments.append(due)
        if self._memory.since is not None:
            moments.append(self._memory.try_at)
        elif self._taking.gathered.items:
            moments.append(self._taking.gathered.since + self._habits.quiet_commit)
        return min(moments)

    def _gather(self) -> None:
        for name, bus in self._doors.buses.items():
            messages, changes = bus.take()
            self._taking.waiting.extend(link_items(name, changes))
            self._taking.waiting.extend(items_of(name, self._directories[name], messages, self._habits.apart))
        moved = self._clock.step()
        if moved is not None:
            self._taking.waiting.append(Item(WallClockStepped(by=moved)))
            self._incoming.clock_moved()
        self._taking.take_waiting()

    # ------------------------------------------------------------ commit, then act

    async def _commit_if_ready(self, *, last: bool = False) -> None:
        """Commit what waits, when it is time to; `last`: at once."""
        gathered = self._taking.gathered
        if not (gathered.items or self._texts.passed_over or self._lapsed or last):
            return
        if self._memory.since is not None:
            if not last and self._clock.now() < self._memory.try_at:
                self._tell_from_memory()
                return
            if not await self._retake():
                return
        elif not last and gathered.items and not gathered.is_pressing:
            # Our time runs ahead of the clock when several things come in one millisecond.
            waited = max(self._taking.now, self._clock.now()) - gathered.since >= self._habits.quiet_commit
            if not waited and gathered.messages < HALF_WINDOW:
                return
        await self._commit(self._taking.gathered, last)

    async def _commit(self, gathered: Gathered, last: bool) -> None:
        batch = batch_of(
            gathered,
            people=self._new_people,
            lapsed=self._lapsed,
            seen=self._texts.passed_over,
            snapshot=self._restoring.snapshot(self.desk.state, last=last),
        )
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
        was_from_memory = self._memory.over()
        self._taking.gathered, self._lapsed, self._new_people = Gathered(), (), ()
        self._texts.on_disk(batch.seen)
        self._incoming.on_disk((item.happening for item in gathered.items), (message for message, _ in batch.seen))
        self._restoring.on_disk(batch)
        self._ends.on_disk(batch)
        if was_from_memory:
            self._trouble.seen(LinkChanged(link="store", up=True))
        for name, bus in self._doors.buses.items():
            bus.acknowledge(m for item in gathered.items for broker, m in item.arrived if broker == name)
        self._step("acknowledged")
        if not self._ending:
            self._following.look_after()
            for turn in gathered.turns:
                for order in turn.orders:
                    self._acting.act(order, turn.now, maybe_told=was_from_memory and is_alarm(order))
            if any(turn.orders for turn in gathered.turns):  # somebody may answer
                self._incoming.hurry()

    def _is_up(self, broker: str) -> bool:
        link = self.desk.state.links.get(f"broker:{broker}")
        return link is not None and link.up_since is not None

    # ------------------------------------------------------------ a store that cannot commit

    def _store_failed(self, detail: str) -> None:
        if self._memory.failed(self._clock.now()):
            print(f"{detail} Alarms are told from memory meanwhile.", file=sys.stderr, flush=True)
            self._trouble.seen(LinkChanged(link="store", up=False, detail=detail))
        self._tell_from_memory()

    def _tell_from_memory(self) -> None:
        for order in self._memory.to_send(self._taking.gathered, self._clock.now()):
            self._sending.send_unrecorded(order)

    async def _retake(self) -> bool:
        """Take everything again that could not be kept. False while the store cannot even be read."""
        try:
            await self._taking.take_again(lambda: self._memory.gap(self._clock.now()))
        except (StoreTrouble, StoreUnreadable) as trouble:
            self._store_failed(str(trouble))
            return False
        return True

    async def _loaded(self) -> Desk:
        _, desk = await self._in_writer(self._restoring.load)
        return desk

    async def _in_writer(self, work: Callable[[], T]) -> T:
        """Everything that touches the store happens in the writer's thread, one after the other."""
        return await asyncio.get_running_loop().run_in_executor(self._writer, work)
