"""The command itself: made once, with an expiry of its own and what the boat's node needs to refuse a stale one."""

from dataclasses import replace
from decimal import Decimal

import orjson

from gateway.requests.asking import end_of
from gateway.requests.decision import Decision, noted
from gateway.requests.facts import RunBegan
from gateway.requests.interlocks import Checked
from gateway.requests.life import RequestEvent
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Run
from gateway.requests.steps import stepped
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
        now=now,
    )
    sent = replace(
        stepped(request, RequestEvent.SEND, checked),
        order=order.id,
        prove_by=now + equipment.prove_within,
    )
    decision = noted(request.boat, sent)
    if ends is not None:
        decision += noted(request.boat, _run(request, equipment, broker, ends))
    return decision + Decision(orders=(order,))


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
        now=world.now,
    )


def command(
    *, id_: str, broker: str, topic: str, do: str, run: Ms | None, seen: int | None, valid: Ms, now: Ms
) -> PublishCommand:
    """One command. Its payload is compact JSON, keys in this order: id, do, issued_at and valid_until (RFC 3339, UTC),
    run_minutes (whole, rounded up, so that the node's own timer never comes first; null without end), seen (the count
    in the node's latest state message, null when it has sent none)."""
    payload = {
        "id": id_,
        "do": do,
        "issued_at": rfc3339(now),
        "valid_until": rfc3339(now + valid),
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
        prove_within=equipment.prove_within,
    )
