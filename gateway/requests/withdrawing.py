"""A person takes a request back before it is confirmed."""

from gateway.people.settings import Person
from gateway.requests.answers import CodeTrouble, Dropped
from gateway.requests.authority import locked_until, too_old
from gateway.requests.codes import same_words
from gateway.requests.decision import Decision, told
from gateway.requests.life import RequestEvent
from gateway.requests.no_effect import known_again, nothing_done
from gateway.requests.state import Requests
from gateway.requests.steps import code_ended
from gateway.requests.world import World
from gateway.vocabulary.moments import Ms


def withdraw(state: Requests, person: Person, said: tuple[str, str], age: Ms | None, world: World) -> Decision:
    """Decide on `drop teapot marble`. It switches nothing: so a late one with the right words still counts, and wrong
    words are not held against the person, because guessing with it gains nothing."""
    request = state.waiting(person.id)
    if request is not None and same_words(request.words, said):
        return code_ended(request, RequestEvent.WITHDRAW, CodeTrouble.USED) + told(
            Dropped(person=person.id, boat=request.boat, equipment=request.equipment, action=request.action)
        )
    if state.locked(person.id, world.now):
        return nothing_done(person, CodeTrouble.LOCKED, request, until=locked_until(state, person.id), drop=True)
    if too_old(age) is not None:
        return nothing_done(person, CodeTrouble.TOO_OLD, request, age=age, drop=True)
    dead = known_again(state, person.id, said)
    if dead is not None:
        return nothing_done(person, dead.trouble, request, drop=True)
    return nothing_done(person, CodeTrouble.NOTHING_OPEN if request is None else CodeTrouble.WRONG, request, drop=True)
