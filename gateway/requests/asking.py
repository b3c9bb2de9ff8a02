"""The first stage: a person asks for a switch, and gets all that stands against it, or the caution and a code."""

from collections.abc import Mapping, Sequence

from gateway.people.settings import Person
from gateway.requests.answers import CautionAndCode, CodeTrouble, NotDone
from gateway.requests.asked import Asked
from gateway.requests.authority import never_from_afar, objection_to_person, proof_is_missing
from gateway.requests.codes import GOOD_FOR, draw_code
from gateway.requests.decision import NOTHING, Decision, Noted, noted, told
from gateway.requests.facts import CodeMade
from gateway.requests.interlocks import Checked, check
from gateway.requests.life import RequestEvent, RequestState
from gateway.requests.paper_lists import PaperList, needs_line, next_line, no_paper
from gateway.requests.proving_numbers import ask_for_proof
from gateway.requests.second_person import no_second
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import code_ended, stepped, told_to_all
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import MINUTE, Ms
from grammar.meanings import Switch

LIFE = frozenset({"start", "on", "open"})
"""Words that bring a thing to life; each means the first of its pair (the language of texts reads them alike)."""

REST = frozenset({"stop", "off", "close"})
"""Words that bring it to rest; each means the second of its pair."""


def ask(
    state: Requests,
    equipment: Equipment,
    person: Person,
    switch: Switch,
    age: Ms | None,
    world: World,
    draws: Draws,
    words: Sequence[str],
    people: Mapping[str, Person],
    lists: Mapping[str, PaperList],
) -> Decision:
    """Decide on `generator start for 2 h` and the like.

    age: of the text, ms, None when not known. words: those that codes are drawn from. people: by random id, of whom a
    second one may be needed. lists: on paper, by the same id. A newer request voids the person's open code, whether it
    is granted or not; a text that may not command at all (rights, lock, age, number not proved) voids nothing. Raises
    ValueError for an action that no equipment has.
    """
    request = asked_request(equipment, person, switch, world, draws)
    barred = (
        objection_to_person(state, equipment, request.action, person, age, world)
        or never_from_afar(equipment, request.action)
        or no_paper(state.papers, equipment, request.action, person.id, lists)
        or no_second(state, equipment, request.action, person.id, people, lists, world)
    )
    if barred is not None:
        return refused(request, Checked(values=(), objections=(barred,)))
    if proof_is_missing(state, person, equipment, request.action):
        return ask_for_proof(state, request, person, world, draws, words)
    older = state.waiting(person.id)
    if older is not None and world.now > older.expires:
        over, older = code_ended(older, RequestEvent.EXPIRE, CodeTrouble.EXPIRED), None
    elif older is not None:
        over = code_ended(older, RequestEvent.REPLACE, CodeTrouble.REPLACED)
    else:
        over = NOTHING
    checked = check(asked_of(request, equipment, person, world.now), state, world)
    if checked.objections:
        return over + refused(request, checked, None if older is None else older.equipment)
    line = next_line(state.papers, lists.get(person.id)) if needs_line(equipment, request.action) else None
    return over + _offered(request, checked, draw_code(draws, words), line, world.now)


def asked_request(equipment: Equipment, person: Person, switch: Switch, world: World, draws: Draws) -> Request:
    """The request that these words amount to, as it stands before anything is decided."""
    action = action_of(equipment, switch.action)
    until = None if switch.until is None else world.next_clock_time(equipment.boat, switch.until)
    run = None if switch.minutes is None else switch.minutes * MINUTE
    if run is None and until is None and action == equipment.pair[0]:
        run = equipment.default_run if equipment.default_run is not None else equipment.run_limit
    return Request(
        id=draws.hex_for("request"),
        person=person.id,
        boat=equipment.boat,
        equipment=equipment.id,
        action=action,
        state=RequestState.NEW,
        run=run,
        until=until,
    )


def action_of(equipment: Equipment, said: str) -> str:
    """Which of the equipment's two actions a word means."""
    if said in equipment.pair:
        return said
    if said in LIFE:
        return equipment.pair[0]
    if said in REST:
        return equipment.pair[1]
    raise ValueError(f'"{said}" is no action; {equipment.name} takes {equipment.pair[0]} and {equipment.pair[1]}')


def asked_of(request: Request, equipment: Equipment, person: Person, now: Ms) -> Asked:
    """The request as the interlocks look at it at this moment."""
    return Asked(
        equipment=equipment,
        action=request.action,
        asker=person.id,
        role=person.role,
        ends=end_of(request, now),
        request=request.id,
    )


def end_of(request: Request, now: Ms) -> Ms | None:
    """When the run would end if it began now; None when it has no end."""
    if request.until is not None:
        return request.until
    return None if request.run is None else now + request.run


def refused(request: Request, checked: Checked, voided: str | None = None) -> Decision:
    """Nothing is switched, and the person is told everything that stands against it. voided: id of the equipment whose
    code, of an older request, is void now."""
    answer = NotDone(
        person=request.person,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        objections=checked.objections,
        confirming=request.state is RequestState.CONFIRMED,
        voided=voided,
    )
    return noted(request.boat, stepped(request, RequestEvent.REFUSE, checked)) + told(*told_to_all(request, answer))


def _offered(request: Request, checked: Checked, words: tuple[str, str], line: int | None, now: Ms) -> Decision:
    expires = now + GOOD_FOR
    offer = stepped(request, RequestEvent.OFFER, checked)
    made = Noted(
        fact=CodeMade(request=request.id, expires=expires), chain=request.boat, sealed=({"words": list(words)},)
    )
    question = CautionAndCode(
        person=request.person,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        words=words,
        expires=expires,
        run=None if request.until is not None else request.run,
        until=request.until,
        line=line,
    )
    return noted(request.boat, offer) + Decision(notes=(made,), answers=(question,))
