"""Runs the demo in quick time: moves the boat and the phones, and lets time jump only when the world is still.

Still means: the service has nothing waiting, under way or due; the carrier has no call open; a fence has come back
through the broker behind all that the boat said, and one has reached the boat behind all that the gateway commanded.
"""

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from gateway.demo.boat import DemoBoat, Message
from gateway.demo.boat_link import FENCE_TO_BOAT, BoatLink, Received
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.held_bus import HeldBus
from gateway.demo.quick_clock import QuickClock
from gateway.demo.relay_node import Obeyed
from gateway.service.running import Service
from gateway.vocabulary.moments import Ms

LOOK_EVERY = 0.0005
"""Seconds between two looks at whether the world is still; real time, and what the demo's speed hangs on."""

TURNS_STILL = 10
"""Turns of the loop over which the world must be still. A sleeper that was woken is under way after at most four (the
sleep ends, its task, whoever waited for it, the call it makes); the rest is room (our choice)."""

PATIENCE = 20.0
"""Seconds of real time after which the world should have become still (our choice: on loopback it takes some ms)."""


class NeverStill(Exception):
    """The world did not come to rest: a fault in the demo or the service. Says what was still moving."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cue:
    """Something that somebody does at an instant (ms UTC)."""

    at: Ms
    does: Callable[[], None]


@dataclass(slots=True)
class Director:
    """One performance. Everything runs on the loop's thread but the boat's own link, which is waited for."""

    service: Service
    bus: HeldBus
    clock: QuickClock
    boat: DemoBoat
    link: BoatLink
    carrier: CarrierStandIn
    after_moment: Callable[[Ms], None]
    _fence: int = 0
    commands_seen: int = 0
    obeyed: list[str] = field(default_factory=list)

    async def play(self, cues: Sequence[Cue], until: Ms) -> None:
        """Play all cues, in order of their instants, and everything that falls due up to `until`."""
        waiting = sorted(cues, key=lambda cue: cue.at)
        while True:
            moments = [self.boat.next_due(), self.clock.next_moment(), waiting[0].at if waiting else None]
            at = min((moment for moment in moments if moment is not None), default=until + 1)
            at = max(at, self.clock.now())
            if at > until:
                return
            while waiting and waiting[0].at <= at:
                waiting.pop(0).does()
            await self._moment(at)

    async def _moment(self, at: Ms) -> None:
        """Everything that happens at one instant, until the world is still."""
        await self._say(self.boat.due(at))
        self.clock.jump(at)
        while True:
            self.bus.release()
            self.service.wake()
            await self._settle()
            commands = await self._commands()
            for command in commands:
                outcome = self.boat.command(command.topic, command.payload, command.retained, at)
                if isinstance(outcome, Obeyed):
                    self.obeyed.append(f"{command.topic.rpartition('/')[2]} {outcome.action}")
            said = self.boat.due(at)
            if not said and not commands:
                break
            await self._say(said)
        self.after_moment(at)

    async def _say(self, messages: list[Message]) -> None:
        """Publish what the boat says, and wait until it has come to the gateway's door."""
        if not messages:
            return
        self._fence += 1
        number = self._fence
        await asyncio.to_thread(self.link.publish_fence, number, messages)

        def has_come() -> bool:
            self.bus.look()
            return self.bus.fence_seen >= number

        await self._until(has_come, "the boat's messages did not come through the broker")

    async def _settle(self) -> None:
        """Until the world has been still for some turns of the loop on end: what a jump of the clock has woken needs a
        few of them before it can be seen to move."""
        for _ in range(TURNS_STILL):
            await asyncio.sleep(0)
            await self._until(self._is_still, "the service is not still")

    def _is_still(self) -> bool:
        return self.service.is_still and self.carrier.quiet() and self.bus.is_empty

    async def _commands(self) -> list[Received]:
        """Commands that have reached the boat; asked for only when the gateway has published any."""
        if self.bus.published == self.commands_seen:
            return []
        self.commands_seen = self.bus.published
        self._fence += 1
        if not await self.bus.publish(FENCE_TO_BOAT, str(self._fence), retain=False, expires_after=None):
            raise NeverStill("the broker did not take a fence")
        self.commands_seen = self.bus.published
        if not await asyncio.to_thread(self.link.wait_for_fence, self._fence):
            raise NeverStill("a fence did not reach the boat")
        return self.link.commands()

    async def _until(self, met: Callable[[], bool], otherwise: str) -> None:
        loop = asyncio.get_running_loop()
        end = loop.time() + PATIENCE
        while not met():
            if loop.time() > end:
                raise NeverStill(otherwise)
            await asyncio.sleep(LOOK_EVERY)

    async def until_listening(self) -> None:
        """Wait until the gateway's door has been granted its subscriptions."""
        await self._until(lambda: self.bus.is_listening, "the gateway did not reach the broker")
        await self._settle()
