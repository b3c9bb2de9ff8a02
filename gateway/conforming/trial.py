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

from gateway.conforming.bench import NotFollowed
from gateway.conforming.handling import Handling, Outcome, Silence, Stuck, broken, kept, not_tried, seconds, word
from gateway.conforming.report import Finding, Verdict
from gateway.vocabulary.moments import MINUTE, Ms

GARBAGE: tuple[str, ...] = ("start", "on", "1", "{", "[]", '{"id":"x"}', "null")
"""No commands: words that some relay takes for one, broken JSON, JSON of another shape (our choice)."""

OLDER = 3
"""How many state messages before the latest is out of sight: a command may cross one of them, not more (the node's
guide)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """name: in one or two words. asked: what a node must do, as a sentence."""

    name: str
    asked: str
    tried: Callable[["Trial"], Awaitable[Outcome]]


class Trial(Handling):
    """One node, tried once. bench: the world. piece: the equipment as the installation has it."""

    async def run(self, told: Callable[[Finding], None], begins: Callable[[Step], None]) -> tuple[Finding, ...]:
        """Try every step; begins, told: hear of each step and of its finding at once. Never raises for what a node or
        a person does."""
        findings: list[Finding] = []
        over = ""
        for step in STEPS:
            self._sent = []
            if not over:
                begins(step)
            outcome = not_tried(over) if over else await self._one(step)
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
            return broken(f"no state message within {seconds(self._windows.silence)}")
        except NotFollowed as nobody:
            return not_tried(str(nobody))
        except Stuck as stuck:
            return broken(str(stuck))

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
            return broken(f"counts {first.count}, then {second.count}: the count does not grow")
        if second.running is not first.running:
            return broken("its feedback changed with nobody commanding: is the load isolated, the relay wired to it?")
        self._rest = first.running
        return kept(f"counts {first.count} and {second.count}; at rest its feedback is {word(self._rest)}")

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
        return kept("left alone: it has a clock and uses it")

    async def obeys_a_whole_command(self) -> Outcome:
        self._obeyed = await self._whole()
        began = self._bench.now()
        await self._publish(self._obeyed)
        if not await self._moved(self._windows.moves):
            return broken(f"its feedback did not change within {seconds(self._windows.moves)}")
        took = self._bench.now() - began
        await self.to_rest()
        return kept(f"feedback {word(not self._rest)} after {seconds(took)}, and back by a second command")

    async def obeys_once(self) -> Outcome:
        if not self._obeyed:
            return not_tried("it never obeyed a command")
        last = await self._fresh()
        return await self._leaves(self._obeyed, _json({**orjson.loads(self._obeyed), "seen": last.count}))

    async def ends_a_run_without_the_link(self) -> Outcome:
        if self._piece.run_limit is None:
            return Outcome(verdict=Verdict.REMARK, seen="no run limit in the installation, so nothing to end by itself")
        if not await self._begin_run(MINUTE):
            return broken("it did not begin the run")
        due = self._bench.now() + self._windows.minute + self._windows.margin + self._windows.slack
        await self._bench.do("Pull the node's network lead, or switch its access point off. Leave its power on.")
        self._bench.forget_states()
        in_time, seen = await self._let_go_by(due)
        await self._heard_nothing(self._bench.now())
        await self._bench.do("Put the network back.")
        after = await self._back()
        if not in_time:
            await self._rest_if(after)
            return broken(f"{seen} with the link cut")
        if after.running is not self._rest:
            return broken(f"seen to let go, but its feedback is {word(after.running)} when the link is back")
        return kept(f"{seen}; count {after.count} when the link was back")

    async def _let_go_by(self, due: Ms) -> tuple[bool, str]:
        """Whether the person saw the relay let go by `due`, and in words. No answer is taken for more than it says: a
        "no" before that time is asked again when it has come, a "yes" after it must say that it was in time."""
        latest = self._windows.minute + self._windows.margin + self._windows.slack
        began = due - latest
        question = (
            f"With the lead out the relay must let go by itself, at the latest {seconds(latest)} after its start. "
            "Watch it. Has it let go?"
        )
        let_go = await self._bench.saw(question)
        if not let_go and self._bench.now() < due:
            await self._heard_nothing(due)
            if await self._bench.saw(f"The {seconds(latest)} are over. Had it let go before this was asked?"):
                return True, f"let go by itself within {seconds(latest)}"
        now = self._bench.now()
        if not let_go:
            return False, f"still held after {seconds(now - began)}"
        if now <= due:
            return True, f"let go by itself within {seconds(now - began)}"
        if await self._bench.saw(f"It was due {seconds(now - due)} ago. Had it let go by then?"):
            return True, f"let go by itself within {seconds(latest)}, as the person at the bench says"
        return False, f"let go only after more than {seconds(latest)}"

    async def _heard_nothing(self, until: Ms) -> None:
        """Wait until then. Raises NotFollowed at a state message: what its link told cannot be a run without it."""
        if await self._bench.next_state(until) is not None:
            raise NotFollowed("state messages went on coming, so the link was not cut")

    async def stands_open_after_a_restart(self) -> Outcome:
        last = await self._fresh()
        payload = self._made(last.count, run=5 * MINUTE)
        await self._publish(payload)
        if not await self._moved(self._windows.moves):
            return broken("it did not begin the run")
        before = self._seen().count
        await self._bench.do("Take the node's power away for some seconds, then give it back.")
        after = await self._back()
        if after.running is not self._rest:
            return broken(f"its feedback is {word(after.running)} after the restart: it went on with the run")
        if after.count <= before:
            return broken(f"its count went from {before} to {after.count}: an old command could be in sight again")
        found = await self._leaves(payload)
        return replace(
            found, seen=f"{word(self._rest)} after the restart, count {before} to {after.count}; {found.seen}"
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
                return broken(f"switched: feedback {word(first.running)} when the link was back")
            return await self._left_alone(self._bench.now())
        finally:
            await self._bench.publish("", retain=True)  # nothing of a trial may wait at the broker for anybody


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


def _json(fields: dict[str, object]) -> str:
    return orjson.dumps(fields).decode()
