"""The command itself: made once, with an expiry of its own and what the boat's node needs to refuse a stale one."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

import orjson

from gateway.requests.answers import NotSent
from gateway.requests.asking import end_of
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.interlocks import Checked
from gateway.requests.life import UNDER_WAY, RequestEvent, RequestState
from gateway.requests.measured import feedback_says
from gateway.requests.run_facts import Over, RunBegan, RunEnded, StopAnswered
from gateway.requests.runs import Run
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import stepped, told_to_all
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import MINUTE, Ms, rfc3339
from gateway.vocabulary.orders import PublishCommand


def send(request: Request, equipment: Equipment, checked: Checked, world: World, draws: Draws) -> Decision:
    """The confirmed request goes out. A timed one is due to end from this instant, whatever becomes of its proof."""
    now = world.now
    broker = world.boat(equipment.boat).broker
    ends = end_of(request, now)
    order = command(
        id_=draws.hex_for("command"),
        broker=broker,
        topic=equipment.topic,
        do=request.action,
        run=None if ends is None else ends - now,
        seen=seen_count(equipment.count, world),
        valid=equipment.command_valid,
        wall=world.wall(now),
    )
    sent = replace(
        stepped(request, RequestEvent.SEND, checked),
        order=order.id,
        prove_by=now + proof_takes(equipment, request.action),
    )
    decision = noted(request.boat, sent)
    if ends is not None:
        decision += noted(request.boat, _run(request, equipment, broker, ends))
    return decision + Decision(orders=(order,))


def published(state: Requests, order: str, taken: bool, equipment: Mapping[str, Equipment], world: World) -> Decision:
    """The broker took a command (order's id), or it did not. Not taken: nothing was switched, and it is not sent again;
    but an end that is due goes on being due."""
    for run in state.runs.values():
        if run.order == order:
            return noted(run.boat, StopAnswered(equipment=run.equipment, order=order, taken=taken))
    request = next((r for r in state.open.values() if r.order == order and r.state in UNDER_WAY), None)
    if request is None or request.state is RequestState.TAKEN:
        return NOTHING  # nobody waits for this word any more
    if taken or request.state is RequestState.SEEN:
        event = RequestEvent.TAKE if taken else RequestEvent.NOT_TAKE
        return noted(request.boat, stepped(request, event))
    shown = feedback_says(equipment.get(request.equipment), world)
    decision = noted(request.boat, stepped(request, RequestEvent.NOT_TAKE, measured=shown))
    run_of_it = state.runs.get(request.equipment)
    if run_of_it is not None and run_of_it.request == request.id:
        decision += noted(request.boat, RunEnded(equipment=request.equipment, because=Over.NEVER_SENT))
    answer = NotSent(person=request.person, boat=request.boat, equipment=request.equipment, action=request.action)
    return decision + told(*told_to_all(request, answer))


def proof_takes(equipment: Equipment, action: str) -> Ms:
    """How long its proof may take (ms): a stop goes on through the equipment's own cool-down first (handbook 5.2)."""
    return equipment.prove_within + (0 if action == equipment.pair[0] else equipment.cool_down)


def send_end(run: Run, world: World, draws: Draws) -> PublishCommand:
    """The command that ends a timed run, with an id of its own at each try."""
    return command(
        id_=draws.hex_for("command"),
        broker=run.broker,
        topic=run.topic,
        do=run.ends_with,
        run=None,
        seen=seen_count(run.count, world),
        valid=run.valid,
        wall=world.wall(world.now),
    )


def command(
    *, id_: str, broker: str, topic: str, do: str, run: Ms | None, seen: int | None, valid: Ms, wall: Ms
) -> PublishCommand:
    """One command. Its payload is compact JSON, keys in this order: id, do, issued_at and valid_until (RFC 3339, UTC),
    run_minutes (whole, rounded up, so that the node's own timer never comes first; null without end), seen (the count
    in the node's latest state message, null when it has sent none)."""
    payload = {
        "id": id_,
        "do": do,
        "issued_at": rfc3339(wall),
        "valid_until": rfc3339(wall + valid),
        "run_minutes": None if run is None else -(-run // MINUTE),
        "seen": seen,
    }
    return PublishCommand(
        id=id_, broker=broker, topic=topic, payload=orjson.dumps(payload).decode(), expires_after=valid
    )


def seen_count(signal: str, world: World) -> int | None:
    """The node's message count as last received; None when none came or it is no whole number."""
    latest = world.latest(signal)
    value = latest.value if latest is not None else None
    return int(value) if isinstance(value, Decimal) and value == value.to_integral_value() else None


def _run(request: Request, equipment: Equipment, broker: str, ends: Ms) -> RunBegan:
    first, second = equipment.pair
    starts = request.action == first
    return RunBegan(
        request=request.id,
        boat=request.boat,
        equipment=equipment.id,
        person=request.person,
        ends_with=second if starts else first,
        wanted=not starts,
        repeats=starts,
        due=ends,
        broker=broker,
        topic=equipment.topic,
        feedback=equipment.feedback,
        count=equipment.count,
        valid=equipment.command_valid,
        prove_within=proof_takes(equipment, second if starts else first),
        cool_down=equipment.cool_down if starts else 0,
    )
