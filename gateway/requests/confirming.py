"""The second stage: two words come back; every interlock is asked again; the command goes out, or nothing does."""

from collections.abc import Mapping

from gateway.people.settings import Person
from gateway.requests.answers import CodeAnswer, CodeTrouble, Objection, Rule
from gateway.requests.asked import line_of
from gateway.requests.asking import asked_of, refused
from gateway.requests.authority import NOT_PROVED, no_right, not_carried_out, proof_is_missing, wrong_words
from gateway.requests.carrying_out import send
from gateway.requests.codes import same_words, sent_in_time
from gateway.requests.decision import Decision, told
from gateway.requests.interlocks import Checked, check
from gateway.requests.life import RequestEvent
from gateway.requests.no_effect import barred, known_again, nothing_done
from gateway.requests.settings import Equipment, Sort
from gateway.requests.state import Request, Requests
from gateway.requests.steps import after, code_ended
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import Ms


def confirm(
    state: Requests,
    person: Person,
    said: tuple[str, str],
    age: Ms | None,
    equipment: Mapping[str, Equipment],
    people: Mapping[str, Person],
    world: World,
    draws: Draws,
    carried_out: frozenset[Sort],
) -> Decision:
    """Decide on `go teapot marble`.

    age: of the text, ms, None when not known. equipment by id, people by random id. The code is bound to the person
    who asked and to what was asked: nothing else of the text is looked at. Once the words were right the code is used
    up, whatever follows. Words are compared only while the person may command and the text is young enough.
    """
    request = state.waiting(person.id)
    nothing = barred(state, person, request, age, world)
    if nothing is not None:
        return nothing
    if request is None or not same_words(request.words, said):
        ask = state.numbers.asked.get(person.id)
        if ask is not None and same_words(ask.words, said):
            return nothing_done(person, CodeTrouble.PROVES, request)
        dead = known_again(state, person.id, said)
        if dead is not None:
            return nothing_done(person, dead.trouble, request)
        return _wrong(state, person, request, people, world.now)
    if not sent_in_time(request.expires, world.now, age):
        return code_ended(request, RequestEvent.EXPIRE, CodeTrouble.EXPIRED) + nothing_done(
            person, CodeTrouble.EXPIRED, request
        )
    piece = equipment.get(request.equipment)
    if piece is None:
        return code_ended(request, RequestEvent.LAPSE, CodeTrouble.USED) + nothing_done(
            person, CodeTrouble.NOTHING_OPEN, request
        )
    return _confirmed(state, request, piece, person, world, draws, carried_out)


def _confirmed(
    state: Requests,
    request: Request,
    piece: Equipment,
    person: Person,
    world: World,
    draws: Draws,
    carried_out: frozenset[Sort],
) -> Decision:
    used = code_ended(request, RequestEvent.CONFIRM, CodeTrouble.USED)
    confirmed = after(request, RequestEvent.CONFIRM)
    checked = _checked_again(state, request, piece, person, world, carried_out)
    if checked.objections:
        return used + refused(confirmed, checked)
    return used + send(confirmed, piece, checked, world, draws)


def _checked_again(
    state: Requests,
    request: Request,
    piece: Equipment,
    person: Person,
    world: World,
    carried_out: frozenset[Sort],
) -> Checked:
    """Rights and interlocks of this moment: either may have changed since the question."""
    against = no_right(piece, request.action, person, world) or not_carried_out(piece, request.action, carried_out)
    if request.action not in piece.pair:
        against = Objection(rule=Rule.NOT_CARRIED_OUT, says=f"{piece.name} no longer knows {request.action}")
    elif against is None and proof_is_missing(state, person, piece, request.action):
        against = NOT_PROVED
    if against is not None:
        return Checked(values=(line_of(against),), objections=(against,))
    return check(asked_of(request, piece, person, world.now), state, world)


def _wrong(state: Requests, person: Person, request: Request | None, people: Mapping[str, Person], now: Ms) -> Decision:
    wrong = wrong_words(state, person, None if request is None else (request.id, request.wrong), people, now)
    decision = wrong.decision
    if request is not None and wrong.voids:
        decision += code_ended(request, RequestEvent.VOID, CodeTrouble.VOID)
    return decision + told(
        CodeAnswer(
            person=person.id,
            trouble=wrong.trouble,
            boat=request.boat if request is not None else "",
            equipment=request.equipment if request is not None else None,
            until=wrong.until,
            tries_left=wrong.left if wrong.trouble is CodeTrouble.WRONG else None,
        )
    )
