"""The trial: what a relay node must do and must leave, one step after the other, judged by what it says itself.

The gateway's promises about engines and heaters rest on five habits of the node at the boat (handbook 5.1 G7, and the
rules for commands on the bus): it carries a command out once; only one that was made in sight of its latest state;
never one that was kept for it; a timed run ends by its own timer; and its relay is open after a start. A silent node
proves nothing, so every "left alone" is shown by a state message that came later.

The relay node's own words are the only measurement. On the bench its feedback input must follow its relay.
"""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, replace

import orjson

from gateway.conforming.bench import Bench, NotFollowed, Said, Windows
from gateway.conforming.report import Finding, Verdict
from gateway.requests.carrying_out import command
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import MINUTE, SECOND, Ms

TRIES_TO_REST = 2
"""Commands by which the relay is brought back to rest before a person must take the power away (our choice)."""

GARBAGE: tuple[str, ...] = ("start", "on", "1", "{", "[]", '{"id":"x"}', "null")
"""No commands: words that some relay takes for one, broken JSON, JSON of another shape (our choice)."""

OLDER = 3
"""How many state messages before the latest is out of sight: a command may cross one of them, not more (the node's
guide)."""


class Silence(Exception):
    """The node said nothing within the window, so nothing about it is known."""


class Stuck(Exception):
    """The relay could not be brought back to rest by command."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How one step ended."""

    verdict: Verdict
    seen: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """name: in one or two words. asked: what a node must do, as a sentence."""

    name: str
    asked: str
    tried: Callable[["Trial"], Awaitable[Outcome]]


class Trial:
    """One node, tried once. bench: the world. piece: the equipment as the installation has it."""

    def __init__(self, bench: Bench, piece: Equipment, windows: Windows) -> None:
        self._bench, self._piece, self._windows = bench, piece, windows
        self._rest = False
        self._last: Said | None = None
        self._obeyed = ""
        self._sent: list[str] = []

    async def run(self, told: Callable[[Finding], None], begins: Callable[[Step], None]) -> tuple[Finding, ...]:
        """Try every step; begins, told: hear of each step and of its finding at once. Never raises for what a node or
        a person does."""
        findings: list[Finding] = []
        over = ""
        for step in STEPS:
            self._sent = []
            if not over:
                begins(step)
            outcome = _not_tried(over) if over else await self._one(step)
            if not over:
                over = await self._over_after(step, outcome.verdict)
            findings.append(
                Finding(
                    step=step.name,
                    asked=step.asked,
                    verdict=outcome.verdict,
                    seen=outcome.seen,
                    sent=tuple(self._sent),
                )
            )
            told(findings[-1])
        return tuple(findings)

    async def _one(self, step: Step) -> Outcome:
        try:
            return await step.tried(self)
        except Silence:
            return _broken(f"no state message within {_seconds(self._windows.silence)}")
        except NotFollowed as nobody:
            return _not_tried(str(nobody))
        except Stuck as stuck:
            return _broken(str(stuck))

    async def _over_after(self, step: Step, verdict: Verdict) -> str:
        """Why nothing more can be tried after this step; "" when the relay is at rest and the trial goes on. Whatever
        ended a step, and be it that the person walked away, no relay is left as the step had put it."""
        if step is STEPS[0]:
            return "without its state nothing can be judged" if verdict is Verdict.BROKEN else ""
        try:
            if verdict is Verdict.BROKEN or self._seen().running is not self._rest:
                await self.to_rest()
        except (Silence, Stuck):
            return "the relay does not come back to rest. TAKE ITS POWER AWAY"
        return ""

    # ------------------------------------------------------------ the steps

    async def says_its_state(self) -> Outcome:
        first = await self._fresh()
        second = await self._next(self._windows.silence)
        if second.count <= first.count:
            return _broken(f"counts {first.count}, then {second.count}: the count does not grow")
        if second.running is not first.running:
            return _broken("its feedback changed with nobody commanding: is the load isolated, the relay wired to it?")
        self._rest = first.running
        return _kept(f"counts {first.count} and {second.count}; at rest its feedback is {_word(self._rest)}")

    async def leaves_garbage(self) -> Outcome:
        return await self._leaves(*GARBAGE)

    async def leaves_what_is_not_its_own(self) -> Outcome:
        whole = await self._whole()
        fields = orjson.loads(whole)
        without = [_json({k: v for k, v in fields.items() if k != left_out}) for left_out in ("id", "do", "seen")]
        other = _json({**fields, "id": self._bench.new_id(), "do": "heavingline-conform"})
        return await self._leaves(other, *without)

    async def leaves_what_is_out_of_sight(self) -> Outcome:
        last = await self._fresh()
        return await self._leaves(self._made(last.count - OLDER), self._made(last.count + 1000), self._made(None))

    async def weighs_its_time(self) -> Outcome:
        last = await self._fresh()
        late = self._made(last.count, wall=self._bench.wall() - 10 * MINUTE)
        await self._publish(late)
        if (await self._left_alone(self._bench.now())).verdict is Verdict.BROKEN:
            await self.to_rest()
            return Outcome(
                verdict=Verdict.REMARK,
                seen="obeyed: it looks at no clock, so its count and the broker's expiry alone keep late commands off",
            )
        return _kept("left alone: it has a clock and uses it")

    async def obeys_a_whole_command(self) -> Outcome:
        self._obeyed = await self._whole()
        began = self._bench.now()
        await self._publish(self._obeyed)
        if not await self._moved(self._windows.moves):
            return _broken(f"its feedback did not change within {_seconds(self._windows.moves)}")
        took = self._bench.now() - began
        await self.to_rest()
        return _kept(f"feedback {_word(not self._rest)} after {_seconds(took)}, and back by a second command")

    async def obeys_once(self) -> Outcome:
        if not self._obeyed:
            return _not_tried("it never obeyed a command")
        last = await self._fresh()
        return await self._leaves(self._obeyed, _json({**orjson.loads(self._obeyed), "seen": last.count}))

    async def ends_a_run_without_the_link(self) -> Outcome:
        if self._piece.run_limit is None:
            return Outcome(verdict=Verdict.REMARK, seen="no run limit in the installation, so nothing to end by itself")
        if not await self._begin_run(MINUTE):
            return _broken("it did not begin the run")
        due = self._bench.now() + self._windows.minute + self._windows.margin + self._windows.slack
        await self._bench.do("Pull the node's network lead, or switch its access point off. Leave its power on.")
        self._bench.forget_states()
        in_time, seen = await self._let_go_by(due)
        await self._heard_nothing(self._bench.now())
        await self._bench.do("Put the network back.")
        after = await self._back()
        if not in_time:
            await self._rest_if(after)
            return _broken(f"{seen} with the link cut")
        if after.running is not self._rest:
            return _broken(f"seen to let go, but its feedback is {_word(after.running)} when the link is back")
        return _kept(f"{seen}; count {after.count} when the link was back")

    async def _let_go_by(self, due: Ms) -> tuple[bool, str]:
        """Whether the person saw the relay let go by `due`, and in words. No answer is taken for more than it says: a
        "no" before that time is asked again when it has come, a "yes" after it must say that it was in time."""
        latest = self._windows.minute + self._windows.margin + self._windows.slack
        began = due - latest
        question = (
            f"With the lead out the relay must let go by itself, at the latest {_seconds(latest)} after its start. "
            "Watch it. Has it let go?"
        )
        let_go = await self._bench.saw(question)
        if not let_go and self._bench.now() < due:
            await self._heard_nothing(due)
            if await self._bench.saw(f"The {_seconds(latest)} are over. Had it let go before this was asked?"):
                return True, f"let go by itself within {_seconds(latest)}"
        now = self._bench.now()
        if not let_go:
            return False, f"still held after {_seconds(now - began)}"
        if now <= due:
            return True, f"let go by itself within {_seconds(now - began)}"
        if await self._bench.saw(f"It was due {_seconds(now - due)} ago. Had it let go by then?"):
            return True, f"let go by itself within {_seconds(latest)}, as the person at the bench says"
        return False, f"let go only after more than {_seconds(latest)}"

    async def _heard_nothing(self, until: Ms) -> None:
        """Wait until then. Raises NotFollowed at a state message: what its link told cannot be a run without it."""
        if await self._bench.next_state(until) is not None:
            raise NotFollowed("state messages went on coming, so the link was not cut")

    async def stands_open_after_a_restart(self) -> Outcome:
        last = await self._fresh()
        payload = self._made(last.count, run=5 * MINUTE)
        await self._publish(payload)
        if not await self._moved(self._windows.moves):
            return _broken("it did not begin the run")
        before = self._seen().count
        await self._bench.do("Take the node's power away for some seconds, then give it back.")
        after = await self._back()
        if after.running is not self._rest:
            return _broken(f"its feedback is {_word(after.running)} after the restart: it went on with the run")
        if after.count <= before:
            return _broken(f"its count went from {before} to {after.count}: an old command could be in sight again")
        found = await self._leaves(payload)
        return replace(
            found, seen=f"{_word(self._rest)} after the restart, count {before} to {after.count}; {found.seen}"
        )

    async def leaves_what_waited_for_it(self) -> Outcome:
        last = await self._fresh()
        kept, queued = self._made(last.count), self._made(last.count)
        await self._bench.do("Pull the node's network lead once more. Leave its power on.")
        self._bench.forget_states()
        try:
            await self._publish(queued)
            await self._publish(kept, retain=True)
            await self._bench.do("Put the network back.")
            first = await self._back()
            if first.running is not self._rest:
                return _broken(f"switched: feedback {_word(first.running)} when the link was back")
            return await self._left_alone(self._bench.now())
        finally:
            await self._bench.publish("", retain=True)  # nothing of a trial may wait at the broker for anybody

    # ------------------------------------------------------------ the means

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
        return _kept(f"{len(payloads)} left alone; count {self._seen().count}, feedback {_word(self._rest)}")

    async def _left_alone(self, since: Ms) -> Outcome:
        """Watch until a state message proves that nothing was switched."""
        until = since + self._windows.settle + self._windows.silence
        while True:
            said = await self._bench.next_state(until)
            if said is None:
                raise Silence
            self._last = said
            if said.running is not self._rest:
                return _broken(f"switched: feedback {_word(said.running)} {_seconds(said.at - since)} later,")
            if said.at >= since + self._windows.settle:
                return _kept(f"left alone; count {said.count}, feedback {_word(said.running)}")

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
            raise Stuck(f"no state message within {_seconds(self._windows.back + self._windows.silence)}") from None

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


STEPS: tuple[Step, ...] = (
    Step(name="state", asked="says its state again and again, with a growing count", tried=Trial.says_its_state),
    Step(name="no command", asked="leaves what is no whole command", tried=Trial.leaves_garbage),
    Step(
        name="not its own",
        asked="leaves an action that it does not have, and a command without id, action or seen",
        tried=Trial.leaves_what_is_not_its_own,
    ),
    Step(
        name="out of sight",
        asked="leaves a command whose sender had not seen its latest state",
        tried=Trial.leaves_what_is_out_of_sight,
    ),
    Step(name="late", asked="leaves a command after its valid_until, if it has a clock", tried=Trial.weighs_its_time),
    Step(
        name="whole command", asked="carries out a whole command, and its opposite", tried=Trial.obeys_a_whole_command
    ),
    Step(name="once", asked="carries a command out once, and no other with the same id", tried=Trial.obeys_once),
    Step(
        name="link cut",
        asked="ends a timed run by its own timer while the link is cut",
        tried=Trial.ends_a_run_without_the_link,
    ),
    Step(
        name="restart",
        asked="stands open after a start, with a count that was never said before",
        tried=Trial.stands_open_after_a_restart,
    ),
    Step(
        name="waited",
        asked="leaves what waited for it: a retained command, and one published while it was away",
        tried=Trial.leaves_what_waited_for_it,
    ),
)
"""In this order: nothing that could hold a relay closed is asked before what it leaves is known."""


def _kept(seen: str) -> Outcome:
    return Outcome(verdict=Verdict.KEPT, seen=seen)


def _broken(seen: str) -> Outcome:
    return Outcome(verdict=Verdict.BROKEN, seen=seen)


def _not_tried(why: str) -> Outcome:
    return Outcome(verdict=Verdict.NOT_TRIED, seen=why)


def _word(running: bool) -> str:
    return "on" if running else "off"


def _seconds(length: Ms) -> str:
    if length < MINUTE:
        return f"{length / SECOND:.1f} s"
    minutes, rest = divmod(length, MINUTE)
    return f"{minutes} min {rest // SECOND} s" if rest >= SECOND else f"{minutes} min"


def _json(fields: dict[str, object]) -> str:
    return orjson.dumps(fields).decode()
