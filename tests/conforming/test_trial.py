"""What a trial of a relay node finds: nothing wrong with the reference node, and each habit that a node may lack."""

import asyncio

import pytest

from gateway.conforming.bench import Windows
from gateway.conforming.report import Finding, Sheet, Verdict
from gateway.conforming.trial import STEPS, Trial
from gateway.demo.relay_node import Obeyed, Outcome, RelayNode
from gateway.requests.settings import Equipment, Sort
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from tests.conforming.quick_bench import QuickBench

WINDOWS = Windows(moves=90 * SECOND, silence=MINUTE)


def piece(key: str, sort: Sort, pair: tuple[str, str], run_limit: Ms | None) -> Equipment:
    return Equipment(
        id=f"grey-wagtail/{key}",
        boat="grey-wagtail",
        key=key,
        name=key,
        spoken_names=(key,),
        sort=sort,
        pair=pair,
        topic=f"grey-wagtail/command/{key}",
        feedback=f"grey-wagtail/{key}-running",
        count=f"grey-wagtail/{key}-count",
        run_limit=run_limit,
    )


GENERATOR = piece("generator", Sort.ENGINE, ("start", "stop"), 4 * HOUR)
REFRIGERATION = piece("refrigeration", Sort.REFRIGERATION, ("on", "off"), 12 * HOUR)
LIGHTS = piece("deck-lights", Sort.LIGHTS, ("on", "off"), None)


def generator(kind: type[RelayNode] = RelayNode, *, clock: bool = True) -> RelayNode:
    return kind(actions=("start", "stop"), longest=240, knows_the_time=clock)


def tried(bench: QuickBench, tried_piece: Equipment = GENERATOR) -> dict[str, Finding]:
    findings = asyncio.run(Trial(bench, tried_piece, WINDOWS).run(lambda _: None, lambda _: None))
    assert [finding.step for finding in findings] == [step.name for step in STEPS]
    return {finding.step: finding for finding in findings}


def broken(found: dict[str, Finding]) -> set[str]:
    return {name for name, finding in found.items() if finding.verdict is Verdict.BROKEN}


def sheet(found: dict[str, Finding]) -> Sheet:
    return Sheet(
        boat="GREY WAGTAIL",
        equipment="generator",
        topic=GENERATOR.topic,
        by="Ruth Okell",
        began=0,
        ended=MINUTE,
        findings=tuple(found.values()),
    )


@pytest.mark.parametrize(
    ("node", "thing"),
    [
        (generator(), GENERATOR),
        (RelayNode(actions=("on", "off"), runs_at_rest=True, knows_the_time=True), REFRIGERATION),
    ],
    ids=["open at rest", "running at rest"],
)
def test_the_reference_node_keeps_every_step_and_ends_at_rest(node: RelayNode, thing: Equipment) -> None:
    bench = QuickBench(node)
    found = tried(bench, thing)
    assert {finding.verdict for finding in found.values()} == {Verdict.KEPT}, list(sheet(found).lines())
    assert found["whole command"].seen.startswith(
        ("feedback on after 0.0 s", "feedback off after 0.0 s")
    )  # at once here
    assert node.ends_at is None
    assert bench.retained == ""
    assert sheet(found).conforms


def test_a_node_without_a_clock_gets_a_remark_and_conforms() -> None:
    found = tried(QuickBench(generator(clock=False)))
    assert found["late"].verdict is Verdict.REMARK
    assert broken(found) == set()
    assert sheet(found).conforms


class ObeysWords(RelayNode):
    """Takes a bare word for a command."""

    def take(self, payload: bytes, *, retained: bool, now: Ms) -> Outcome:
        if payload in (b"start", b"on"):
            self._held = True
            return Obeyed(id="", action="start", ends_at=None)
        return super().take(payload, retained=retained, now=now)


class NeedsNoCount(RelayNode):
    def _in_sight(self, seen: int) -> bool:  # noqa: ARG002
        return True


class ForgetsIds(RelayNode):
    def take(self, payload: bytes, *, retained: bool, now: Ms) -> Outcome:
        self._taken.clear()
        return super().take(payload, retained=retained, now=now)


class LooksAtNoRetainMark(RelayNode):
    def take(self, payload: bytes, *, retained: bool, now: Ms) -> Outcome:  # noqa: ARG002
        return super().take(payload, retained=False, now=now)


class HasNoTimer(RelayNode):
    def time_came(self, now: Ms) -> bool:  # noqa: ARG002
        self._ends_at = None
        return False


class GoesOnAfterARestart(RelayNode):
    def restart(self) -> None:
        held, ends = self._held, self._ends_at
        super().restart()
        self._held, self._ends_at = held, ends


class CountsFromNothing(RelayNode):
    def restart(self) -> None:
        self._begin(0)


class AnyActionStarts(RelayNode):
    def take(self, payload: bytes, *, retained: bool, now: Ms) -> Outcome:
        return super().take(payload.replace(b"heavingline-conform", b"start"), retained=retained, now=now)


class CountStandsStill(RelayNode):
    @property
    def count(self) -> int:
        return 7


@pytest.mark.parametrize(
    ("kind", "steps"),
    [
        (ObeysWords, {"no command"}),
        (NeedsNoCount, {"out of sight", "restart"}),
        (ForgetsIds, {"once"}),
        (LooksAtNoRetainMark, {"waited"}),
        (HasNoTimer, {"link cut"}),
        (GoesOnAfterARestart, {"restart"}),
        (CountsFromNothing, {"restart"}),
        (AnyActionStarts, {"not its own"}),
        (CountStandsStill, {"state"}),
    ],
)
def test_a_node_that_lacks_one_habit_is_found_by_the_step_for_it(kind: type[RelayNode], steps: set[str]) -> None:
    found = tried(QuickBench(generator(kind)))
    assert broken(found) == steps
    assert not sheet(found).conforms
    assert ", ".join(sorted(steps)) in list(sheet(found).lines())[-1]


def test_a_node_for_which_the_broker_keeps_messages_starts_by_what_waited_for_it() -> None:
    assert broken(tried(QuickBench(generator(), is_kept_for=True))) == {"waited"}


def test_what_was_retained_for_the_trial_is_cleared_whatever_happens() -> None:
    bench = QuickBench(generator(LooksAtNoRetainMark))
    tried(bench)
    assert bench.retained == ""


def test_a_silent_node_is_not_tried_any_further() -> None:
    bench = QuickBench(generator(), connected=False)
    found = tried(bench)
    assert broken(found) == {"state"}
    assert {f.verdict for name, f in found.items() if name != "state"} == {Verdict.NOT_TRIED}
    assert bench.instructions == []


class NeverLetsGo(RelayNode):
    """Its relay is welded."""

    @property
    def asks_to_run(self) -> bool:
        return self._count > 2


def test_when_the_relay_does_not_come_back_to_rest_nothing_more_is_asked_of_it() -> None:
    bench = QuickBench(generator(NeverLetsGo))
    found = tried(bench)
    assert found["no command"].verdict is Verdict.BROKEN
    after = [finding for name, finding in found.items() if name not in ("state", "no command")]
    assert all("TAKE ITS POWER AWAY" in finding.seen for finding in after)
    assert bench.instructions == []


def test_without_anybody_at_the_bench_the_steps_that_need_hands_are_not_tried_and_nothing_is_proved() -> None:
    bench = QuickBench(generator(), blind=True)
    found = tried(bench)
    assert not bench.node.asks_to_run  # the run that was begun for the cut was ended
    assert bench.node.ends_at is None
    assert {name for name, f in found.items() if f.verdict is Verdict.NOT_TRIED} == {"link cut", "restart", "waited"}
    assert broken(found) == set()
    assert not sheet(found).conforms
    assert list(sheet(found).lines())[-1] == "Not proved: link cut, restart, waited."


def test_a_link_that_was_not_really_cut_proves_nothing() -> None:
    class LeadIn(QuickBench):
        async def do(self, instruction: str) -> None:
            if not instruction.startswith("Pull"):
                await super().do(instruction)

    found = tried(LeadIn(generator()))
    assert found["link cut"].verdict is Verdict.NOT_TRIED
    assert "the link was not cut" in found["link cut"].seen


def lets_go_later_by(length: Ms) -> type[RelayNode]:
    """A node whose timer is so much slower than the reference node's."""

    class Late(RelayNode):
        def time_came(self, now: Ms) -> bool:
            return super().time_came(now - length)

    return Late


@pytest.mark.parametrize("looks", [0, 10 * SECOND, 6 * MINUTE, 30 * MINUTE])
def test_a_node_that_lets_go_at_the_limit_keeps_the_step_whenever_the_person_answers(looks: Ms) -> None:
    found = tried(QuickBench(generator(), looks=looks))
    assert found["link cut"].verdict is Verdict.KEPT, found["link cut"].seen


def test_a_no_before_the_time_is_over_is_asked_again_when_it_is() -> None:
    bench = QuickBench(generator(), looks=0)
    tried(bench)
    assert [line for line in bench.instructions if "let go" in line] == [
        "With the lead out the relay must let go by itself, at the latest 6 min 20 s after its start. "
        "Watch it. Has it let go?",
        "The 6 min 20 s are over. Had it let go before this was asked?",
    ]


@pytest.mark.parametrize("looks", [0, 7 * MINUTE, 30 * MINUTE])
@pytest.mark.parametrize(
    ("late", "verdict"),
    [(20 * SECOND, Verdict.KEPT), (25 * SECOND, Verdict.BROKEN), (2 * MINUTE, Verdict.BROKEN)],
    ids=["one report interval late", "some seconds more", "two minutes late"],
)
def test_a_node_may_be_one_report_interval_late_and_no_more_however_long_the_person_watches(
    late: Ms, verdict: Verdict, looks: Ms
) -> None:
    found = tried(QuickBench(generator(lets_go_later_by(late)), looks=looks))
    assert found["link cut"].verdict is verdict, found["link cut"].seen


def test_somebody_slow_to_answer_is_asked_whether_it_was_in_time() -> None:
    bench = QuickBench(generator(), dawdles=3 * MINUTE)
    found = tried(bench)
    assert bench.instructions[2].startswith("It was due 2 min ")
    assert found["link cut"].verdict is Verdict.KEPT
    assert "let go by itself within 6 min 20 s, as the person at the bench says" in found["link cut"].seen


def test_a_node_that_reports_seldom_may_not_overrun_for_as_long() -> None:
    assert Windows(moves=SECOND, silence=30 * MINUTE).slack == 30 * SECOND


def test_a_node_may_take_its_time_to_come_back_when_its_network_or_its_power_was_away() -> None:
    found = tried(QuickBench(generator(), boots=110 * SECOND))
    assert broken(found) == set()


def test_equipment_without_a_timed_run_has_nothing_to_end_by_itself() -> None:
    found = tried(QuickBench(RelayNode(actions=("on", "off"), knows_the_time=True)), LIGHTS)
    assert found["link cut"].verdict is Verdict.REMARK
    assert broken(found) == set()


def test_the_sheet_holds_every_payload_that_was_sent() -> None:
    found = tried(QuickBench(generator()))
    assert len(found["no command"].sent) == 7
    assert all('"seen":' in payload for payload in found["out of sight"].sent)
