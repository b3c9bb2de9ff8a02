"""What the steps of the trial do with a node: command it, wait for what it says, and bring its relay back to rest."""

from dataclasses import dataclass, replace

from gateway.conforming.bench import Bench, NotFollowed, Said, Windows
from gateway.conforming.report import Verdict
from gateway.requests.carrying_out import command
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import MINUTE, SECOND, Ms

TRIES_TO_REST = 2
"""Commands by which the relay is brought back to rest before a person must take the power away (our choice)."""


class Silence(Exception):
    """The node said nothing within the window, so nothing about it is known."""


class Stuck(Exception):
    """The relay could not be brought back to rest by command."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How one step ended."""

    verdict: Verdict
    seen: str


class Handling:
    """One node in hand. bench: the world. piece: the equipment as the installation has it."""

    def __init__(self, bench: Bench, piece: Equipment, windows: Windows) -> None:
        self._bench, self._piece, self._windows = bench, piece, windows
        self._rest = False
        self._last: Said | None = None
        self._obeyed = ""
        self._sent: list[str] = []

    async def to_rest(self) -> None:
        """Bring the relay back to rest by command. Raises Silence, or Stuck when it does not obey."""
        for _ in range(TRIES_TO_REST):
            last = await self._fresh()
            if last.running is self._rest:
                return
            await self._publish(self._made(last.count, returning=True))
            if await self._moved(self._windows.moves, to=self._rest):
                return
        raise Stuck(f"did not come back to rest by {TRIES_TO_REST} commands")

    async def _rest_if(self, said: Said) -> None:
        if said.running is not self._rest:
            await self.to_rest()

    async def _begin_run(self, length: Ms) -> bool:
        last = await self._fresh()
        await self._publish(self._made(last.count, run=length))
        return await self._moved(self._windows.moves)

    async def _leaves(self, *payloads: str) -> Outcome:
        for payload in payloads:
            await self._publish(payload)
            left = await self._left_alone(self._bench.now())
            if left.verdict is not Verdict.KEPT:
                return replace(left, seen=f"{left.seen} on {payload}")
        return kept(f"{len(payloads)} left alone; count {self._seen().count}, feedback {word(self._rest)}")

    async def _left_alone(self, since: Ms) -> Outcome:
        """Watch until a state message proves that nothing was switched."""
        until = since + self._windows.settle + self._windows.silence
        while True:
            said = await self._bench.next_state(until)
            if said is None:
                raise Silence
            self._last = said
            if said.running is not self._rest:
                return broken(f"switched: feedback {word(said.running)} {seconds(said.at - since)} later,")
            if said.at >= since + self._windows.settle:
                return kept(f"left alone; count {said.count}, feedback {word(said.running)}")

    async def _moved(self, within: Ms, *, to: bool | None = None) -> bool:
        """Whether the feedback comes to stand so within that time; without `to`: away from rest."""
        wanted = not self._rest if to is None else to
        until = self._bench.now() + within
        while (said := await self._bench.next_state(until)) is not None:
            self._last = said
            if said.running is wanted:
                return True
        return False

    async def _fresh(self) -> Said:
        """A state message that is said from now on."""
        self._bench.forget_states()
        return await self._next(self._windows.silence)

    async def _back(self) -> Said:
        """The first state message that is said from now on, by a node that is still finding its way back."""
        self._bench.forget_states()
        try:
            return await self._next(self._windows.back + self._windows.silence)
        except Silence:
            raise Stuck(f"no state message within {seconds(self._windows.back + self._windows.silence)}") from None

    async def _next(self, within: Ms) -> Said:
        said = await self._bench.next_state(self._bench.now() + within)
        if said is None:
            raise Silence
        self._last = said
        return said

    def _seen(self) -> Said:
        if self._last is None:
            raise Silence
        return self._last

    async def _whole(self) -> str:
        return self._made((await self._fresh()).count)

    def _made(self, seen: int | None, *, run: Ms = MINUTE, returning: bool = False, wall: Ms | None = None) -> str:
        """A command as the gateway makes it: away from rest for `run`, or back to it."""
        first, second = self._piece.pair
        leaves, returns = (second, first) if self._rest else (first, second)
        return command(
            id_=self._bench.new_id(),
            broker="",
            topic=self._piece.topic,
            do=returns if returning else leaves,
            run=None if returning else run,
            seen=seen,
            valid=self._piece.command_valid,
            wall=self._bench.wall() if wall is None else wall,
        ).payload

    async def _publish(self, payload: str, *, retain: bool = False) -> None:
        self._sent.append(payload)
        if not await self._bench.publish(payload, retain=retain):
            raise NotFollowed("the broker did not take the message: is it up, and may this user write to the topic?")


def kept(seen: str) -> Outcome:
    """The step went as it must."""
    return Outcome(verdict=Verdict.KEPT, seen=seen)


def broken(seen: str) -> Outcome:
    """The node broke the rule."""
    return Outcome(verdict=Verdict.BROKEN, seen=seen)


def not_tried(why: str) -> Outcome:
    """Nothing is known of this step."""
    return Outcome(verdict=Verdict.NOT_TRIED, seen=why)


def word(running: bool) -> str:
    """A contact as it is said."""
    return "on" if running else "off"


def seconds(length: Ms) -> str:
    """A length of time (ms) as it is said."""
    if length < MINUTE:
        return f"{length / SECOND:.1f} s"
    minutes, rest = divmod(length, MINUTE)
    return f"{minutes} min {rest // SECOND} s" if rest >= SECOND else f"{minutes} min"
