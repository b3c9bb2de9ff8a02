"""What time alone brings: codes expire, proofs are overdue, ends of timed runs are due; and what a restart means."""

from collections.abc import Iterator, Mapping

from gateway.people.settings import Person
from gateway.requests.answers import CodeTrouble, NotProved
from gateway.requests.codes import LATEST
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.life import UNDER_WAY, RequestEvent, RequestState
from gateway.requests.measured import feedback_says
from gateway.requests.proof import number_is_late, proved
from gateway.requests.proving_numbers import words_expired
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import code_ended, stepped
from gateway.requests.timed_runs import run_due, run_falls_due
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import Ms


def next_due(state: Requests) -> Ms | None:
    """The next instant at which `fall_due` has something to do; None when nothing waits for time."""
    return min(_instants(state), default=None)


def fall_due(
    state: Requests, equipment: Mapping[str, Equipment], people: Mapping[str, Person], world: World, draws: Draws
) -> Decision:
    """Do all that is due at this moment. Equipment by id, people by random id: codes of what is no longer among them
    lapse here too. When its facts are applied, `next_due` lies later than now."""
    decision = words_expired(state, people, world.now)
    for request in state.open.values():
        if request.state is RequestState.WAITING:
            if world.now > request.expires + LATEST:
                decision += code_ended(request, RequestEvent.EXPIRE, CodeTrouble.EXPIRED)
            elif request.equipment not in equipment or request.person not in people:
                decision += code_ended(request, RequestEvent.LAPSE, CodeTrouble.EXPIRED)
        elif _due(request) <= world.now:
            decision += _result(state, request, equipment.get(request.equipment), world)
    for run in state.runs.values():
        at = run_due(run)
        if at is not None and at <= world.now:
            decision += run_falls_due(state, run, equipment, people, world, draws)
    return decision


def restarted(state: Requests, equipment: Mapping[str, Equipment], world: World) -> Decision:
    """The gateway began anew. A command that was out without a result is unproven, is told, and is never sent again
    (design 4, rule 2); timed ends stay due, open codes stay good until they expire."""
    decision = NOTHING
    for request in state.open.values():
        if request.state in UNDER_WAY:
            decision += _unproven(request, RequestEvent.RESTART, equipment.get(request.equipment), world)
    return decision


def _instants(state: Requests) -> Iterator[Ms]:
    yield from map(_due, state.open.values())
    for ask in state.numbers.asked.values():
        yield ask.expires + LATEST + 1
    for run in state.runs.values():
        at = run_due(run)
        if at is not None:
            yield at


def _due(request: Request) -> Ms:
    """One millisecond after the last instant at which words sent in time may come; with the contact seen, when its
    number is late."""
    if request.state is RequestState.WAITING:
        return request.expires + LATEST + 1
    late = number_is_late(request)
    if late is not None:
        return late
    return (request.prove_by if request.prove_by is not None else 0) + 1


def _result(state: Requests, request: Request, piece: Equipment | None, world: World) -> Decision:
    if request.seen is not None:
        return proved(state, request, request.seen, "")
    return _unproven(request, RequestEvent.OVERDUE, piece, world)


def _unproven(request: Request, event: RequestEvent, piece: Equipment | None, world: World) -> Decision:
    """Nobody knows whether it was carried out, and that is said."""
    measured = feedback_says(piece, world)
    until = world.now if event is RequestEvent.RESTART or request.prove_by is None else request.prove_by
    return noted(request.boat, stepped(request, event, measured=measured)) + told(
        NotProved(
            person=request.person,
            boat=request.boat,
            equipment=request.equipment,
            action=request.action,
            waited=until - (request.sent if request.sent is not None else until),
            measured=measured,
            restarted=event is RequestEvent.RESTART,
        )
    )
