"""The last stage: what was measured, never what was sent (handbook G6).

A command is proved by its feedback contact, seen in the wanted state in a live reading that arrived after the command
went out. A number that goes with it ("231 V") is waited for a little. One that speaks against the contact ("on", and
0 V) proves nothing, and another is waited for until the time for the proof is over.
"""

from collections.abc import Mapping

from gateway.boat.settings import Senses
from gateway.requests.answers import Proved
from gateway.requests.boat_interlocks import NOT_SET, lock_said
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.facts import LastSwitched, LockOutSeen
from gateway.requests.life import UNDER_WAY, RequestEvent
from gateway.requests.measured import number_since, shows
from gateway.requests.run_facts import Over, RunEnded, RunProved
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import after, stepped, told_to_all
from gateway.requests.timed_runs import follow_runs
from gateway.requests.world import World
from gateway.vocabulary.moments import SECOND, Ms

NUMBER_WAITS = 5 * SECOND
"""How long after the contact the number that goes with it is waited for (our choice: a node that measures both sends
them together or in its next message; without it the contact alone is told)."""


def readings_changed(
    state: Requests, signals: frozenset[str], equipment: Mapping[str, Equipment], world: World
) -> Decision:
    """New values came for these signals (ids). Only those of feedback contacts and proof numbers matter here, and any
    of a boat whose timed stop waits to be sent."""
    decision = NOTHING
    for piece in equipment.values():
        if piece.feedback in signals and (piece.minimum_off or piece.minimum_on or piece.attempts or piece.cooling_off):
            decision += _switched(state, piece, world)
    for signal in sorted(signals):
        decision += _lock_out(state, signal, world)
    for request in state.open.values():
        known = equipment.get(request.equipment)
        if known is not None and request.state in UNDER_WAY and not signals.isdisjoint((known.feedback, known.proof)):
            decision += _follow(state, request, known, world)
    return decision + follow_runs(state, signals, equipment, world)


def number_is_late(request: Request) -> Ms | None:
    """When a request whose contact was seen is proved without its number; None when no contact was seen."""
    return None if request.seen is None else request.seen + NUMBER_WAITS


def proved(state: Requests, request: Request, seen: Ms, measured: str) -> Decision:
    """The request is proved. seen: arrival of the reading that showed it. A timed run counts from here; a run that this
    command has ended is over."""
    decision = noted(request.boat, stepped(request, RequestEvent.PROVE, seen_at=seen, measured=measured))
    run = state.runs.get(request.equipment)
    stops_at: Ms | None = None
    if run is not None and run.request == request.id:
        stops_at = request.until if request.until is not None else seen + (request.run or 0)
        decision += noted(request.boat, RunProved(equipment=request.equipment, due=stops_at))
    elif run is not None and run.ends_with == request.action:
        decision += noted(request.boat, RunEnded(equipment=request.equipment, because=Over.ASKED, measured=measured))
    answer = Proved(
        person=request.person,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        measured=measured,
        after=seen - (request.sent if request.sent is not None else seen),
        stops_at=stops_at,
    )
    return decision + told(*told_to_all(request, answer))


def _switched(state: Requests, piece: Equipment, world: World) -> Decision:
    """Since when it is on or off, for the minimum times: a change that was seen, or the first sight of all."""
    latest = world.latest(piece.feedback)
    if latest is None or not latest.sure:
        return NOTHING
    on = latest.value is True
    last = state.switched.get(piece.id)
    if last is not None and last.on is on:
        return NOTHING
    return noted(piece.boat, LastSwitched(equipment=piece.id, on=on, at=latest.arrived))


def _lock_out(state: Requests, signal: str, world: World) -> Decision:
    """Since when the boat's lock-out is set, and by whom as far as she says so, for the refusal (CHK-37). Nothing rests
    on it: whether it is set now is asked of the reading itself."""
    settings = world.signal(signal)
    if settings.senses is not Senses.LOCK_OUT:
        return NOTHING
    latest, known = world.latest(signal), state.lock_outs.get(signal)
    if latest is None or not latest.sure:
        return NOTHING
    value = lock_said(latest, settings)
    if value == (NOT_SET if known is None else known.value):
        return NOTHING
    return noted(settings.boat, LockOutSeen(signal=signal, value=value, at=latest.arrived))


def _follow(state: Requests, request: Request, piece: Equipment, world: World) -> Decision:
    contact = world.latest(piece.feedback)
    wanted = request.action == piece.pair[0]
    if request.seen is not None:
        number = number_since(piece, request.seen, wanted, world)
        if shows(contact, request.seen, not wanted) or (number is not None and not number.agrees):
            return noted(request.boat, stepped(request, RequestEvent.LOSE))
        return NOTHING if number is None else proved(state, request, request.seen, number.said)
    if contact is None or request.sent is None or not shows(contact, request.sent, wanted):
        return NOTHING
    number = number_since(piece, contact.arrived, wanted, world)
    if number is not None and not number.agrees:
        return NOTHING
    decision = noted(request.boat, stepped(request, RequestEvent.SEE, seen_at=contact.arrived))
    if piece.proof is not None and number is None:
        return decision
    measured = "" if number is None else number.said
    return decision + proved(state, after(request, RequestEvent.SEE), contact.arrived, measured)
