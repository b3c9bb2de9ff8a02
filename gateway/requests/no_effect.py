"""Words that came back and do nothing: locked, too old, or of a code that is dead. Kept and answered, never counted."""

from gateway.people.settings import Person
from gateway.requests.answers import CodeAnswer, CodeTrouble
from gateway.requests.authority import locked_until, too_old, waits_until
from gateway.requests.codes import mark_of
from gateway.requests.decision import Decision, noted, told
from gateway.requests.facts import CodeRefused
from gateway.requests.state import Request, Requests
from gateway.requests.tries import DeadCode
from gateway.requests.world import World
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import Ms


def known_again(state: Requests, person: str, said: tuple[str, str]) -> DeadCode | None:
    """The person's dead code that has these words, the newest first; None when there is none."""
    found = (dead for dead in reversed(state.dead.get(person, ())) if dead.mark == mark_of(dead.request, said))
    return next(found, None)


def barred(state: Requests, person: Person, request: Request | None, age: Ms | None, world: World) -> Decision | None:
    """Nothing is done when the phone is lost, the person locked, a wrong code too fresh or the text too old; None when
    its words count."""
    if state.numbers.is_lost(person.id):
        return nothing_done(person, CodeTrouble.LOST, request)
    if state.locked(person.id, world.now):
        return nothing_done(person, CodeTrouble.LOCKED, request, until=locked_until(state, person.id))
    waits = waits_until(state, person.id) - world.now
    if waits > 0:
        return nothing_done(person, CodeTrouble.WAITS, request, wait=waits)
    if too_old(age) is not None:
        again = request.expires if request is not None and world.now <= request.expires else None
        return nothing_done(person, CodeTrouble.TOO_OLD, request, age=age, until=again)
    return None


def nothing_done(
    person: Person,
    trouble: CodeTrouble,
    request: Request | None,
    *,
    until: Ms | None = None,
    age: Ms | None = None,
    drop: bool = False,
    line: int | None = None,
    wait: Ms | None = None,
) -> Decision:
    """A code did nothing and is not counted; that is kept and answered. request: the open one of the person, if any.
    line: of the paper list that is asked for."""
    fact = CodeRefused(
        person=person.id, trouble=trouble, request=request.id if request is not None else "", drop=drop, age=age
    )
    return noted(INSTALLATION, fact) + told(
        CodeAnswer(
            person=person.id,
            trouble=trouble,
            boat=request.boat if request is not None else "",
            equipment=request.equipment if request is not None else None,
            until=until,
            age=age,
            line=line,
            wait=wait,
        )
    )
