"""What time alone brings: codes expire, proofs are overdue, ends of timed runs are due; and what a restart means."""

from collections.abc import Iterator, Mapping

from gateway.people.settings import Person
from gateway.requests.answers import CodeTrouble, NotProved
from gateway.requests.codes import LATEST
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.life import UNDER_WAY, WITH_A_CODE, RequestEvent
from gateway.requests.measured import result_says
from gateway.requests.proof import number_is_late, proved
from gateway.requests.proving_numbers import words_expired
from gateway.requests.second_person import ended_by_second
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import code_ended, stepped, told_to_all
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
        if request.state in WITH_A_CODE:
            if world.now > request.expires + LATEST:
                decision += code_ended(request, RequestEvent.EXPIRE, CodeTrouble.EXPIRED)
                decision += ended_by_second(request, CodeTrouble.EXPIRED)
            elif request.equipment not in equipment or not {request.person, request.asked_last} <= people.keys():
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
    if request.state in WITH_A_CODE:
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
    wanted = piece is not None and request.action == piece.pair[0]
    measured = result_says(piece, request.sent, wanted, world)
    until = world.now if event is RequestEvent.RESTART or request.prove_by is None else request.prove_by
    answer = NotProved(
        person=request.person,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        waited=until - (request.sent if request.sent is not None else until),
        measured=measured,
        restarted=event is RequestEvent.RESTART,
    )
    return noted(request.boat, stepped(request, event, measured=measured)) + told(*told_to_all(request, answer))
