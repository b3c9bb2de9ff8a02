"""The whole trial over real brokers, on the reference node as a program, in quick time."""

import asyncio
import itertools
from collections.abc import Iterator

import pytest

from gateway.boat.settings import Carries, Signal
from gateway.conforming.at_broker import AtBroker, NodeTopics
from gateway.conforming.bench import Windows
from gateway.conforming.report import Finding, Verdict
from gateway.conforming.trial import Trial
from gateway.demo.broker import HOST, EmbeddedBroker, Kind, kinds_here
from gateway.demo.relay_node import Outcome, RelayNode
from gateway.demo.relay_program import RelayProgram, wall_clock
from gateway.doors.faces import BrokerSettings
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from tests.conforming.test_trial import GENERATOR
from tests.demo.test_boat_link import Shore
from tests.doors.brokers import HURRIED, WITHIN, until
from tests.effort import some_of

QUICK = 1200
"""The node's minutes pass so many times faster: its 6 min take 0.3 s."""

STATE = "grey-wagtail/node/generator/state"
TOPICS = NodeTopics(
    command=GENERATOR.topic,
    feedback=Signal(
        id=GENERATOR.feedback, boat="grey-wagtail", key="r", topic=STATE, pointer="/running", carries=Carries.CONTACT
    ),
    count=Signal(id=GENERATOR.count, boat="grey-wagtail", key="c", topic=STATE, pointer="/count"),
)
WINDOWS = Windows(moves=15 * SECOND, silence=20 * SECOND, settle=60, minute=MINUTE // QUICK, margin=5 * MINUTE // QUICK)


@pytest.fixture(params=some_of(kinds_here(), 2))
def broker(request: pytest.FixtureRequest) -> Iterator[EmbeddedBroker]:
    kind: Kind = request.param
    with EmbeddedBroker(kind) as running:
        yield running


class SystemTime:
    def now(self) -> Ms:
        return wall_clock()


class Hands:
    """Somebody who does to the program what the trial asks, and looks at its relay."""

    def __init__(self, program: RelayProgram) -> None:
        self._program = program

    async def do(self, instruction: str) -> None:
        if "power away" in instruction:
            await asyncio.to_thread(self._program.restart)
        elif instruction.startswith("Pull"):
            await asyncio.to_thread(self._program.cut)
        else:
            await asyncio.to_thread(self._program.join)

    async def saw(self, question: str) -> bool:
        assert "Has it let go?" in question
        await until(lambda: not self._program.holds, lambda: "the node's own timer to let go")
        return True


def tried(broker: EmbeddedBroker, node: RelayNode) -> dict[str, Finding]:
    ids = itertools.count(1)
    began = wall_clock()
    program = RelayProgram(
        node,
        HOST,
        broker.port,
        command=GENERATOR.topic,
        state=STATE,
        now=lambda: began + (wall_clock() - began) * QUICK,
        every=40,
    )

    async def whole() -> tuple[Finding, ...]:
        settings = BrokerSettings(name="quay", host=HOST, port=broker.port, client_id="heavingline-quay")
        bench = AtBroker(
            settings,
            TOPICS,
            clock=SystemTime(),
            new_id=lambda: f"c-{next(ids)}",
            hands=Hands(program),
            patience=HURRIED,
        )
        async with bench:
            return await Trial(bench, GENERATOR, WINDOWS).run(lambda _: None, lambda _: None)

    with program:
        return {finding.step: finding for finding in asyncio.run(whole())}


def test_the_reference_program_conforms_over_a_real_broker(broker: EmbeddedBroker) -> None:
    found = tried(broker, RelayNode(actions=("start", "stop"), longest=240))
    said = {name: (f.verdict.value, f.seen) for name, f in found.items()}
    assert {name: f.verdict for name, f in found.items() if f.verdict is not Verdict.KEPT} == {
        "late": Verdict.REMARK
    }, said


class TakesRetained(RelayNode):
    """Looks neither at the retain mark nor at the count."""

    def take(self, payload: bytes, *, retained: bool, now: Ms) -> Outcome:  # noqa: ARG002
        return super().take(payload, retained=False, now=now)

    def _in_sight(self, seen: int) -> bool:  # noqa: ARG002
        return True


def test_a_node_that_obeys_a_retained_command_is_found_over_a_real_broker_and_the_command_is_cleared(
    broker: EmbeddedBroker,
) -> None:
    found = tried(broker, TakesRetained(actions=("start", "stop"), longest=240))
    assert found["waited"].verdict is Verdict.BROKEN, found["waited"].seen
    assert found["out of sight"].verdict is Verdict.BROKEN
    with Shore(broker.port, GENERATOR.topic) as newcomer:
        newcomer.publish(GENERATOR.topic, "first")
        assert newcomer.came.get(timeout=WITHIN) == (GENERATOR.topic, b"first", False)
