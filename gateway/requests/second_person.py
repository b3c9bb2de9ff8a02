"""A second person whose word is needed as well, where the installer has named some for an action.

Two people who each look at the question are common practice before what is grave; which actions need it is the
installer's choice. The second code is drawn anew, bound to that person, and every interlock is asked again at its end.
"""

from collections.abc import Mapping, Sequence

from gateway.people.settings import Person
from gateway.requests.answers import CautionAndCode, CodeTrouble, Objection, Rule, SecondDidNot, WaitsForSecond
from gateway.requests.authority import no_right, proof_is_missing
from gateway.requests.codes import GOOD_FOR, draw_code
from gateway.requests.decision import Decision, Noted, told
from gateway.requests.facts import SecondAsked
from gateway.requests.interlocks import Checked
from gateway.requests.life import RequestEvent
from gateway.requests.paper_lists import PaperList, no_paper
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import code_ended
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import Ms


def second_of(
    state: Requests,
    equipment: Equipment,
    action: str,
    asker: str,
    people: Mapping[str, Person],
    lists: Mapping[str, PaperList],
    world: World,
) -> Person | None:
    """Whom to ask as well: of those named for this action the first who did not ask, may switch it at this hour, whose
    number is proved, who is not locked, and has a line on paper left where one is needed. asker: random id. None when
    there is nobody, or when none is needed."""
    by_key = {person.key: person for person in people.values()}
    for key in equipment.second_persons.get(action, ()):
        other = by_key.get(key)
        if other is None or other.id == asker or state.locked(other.id, world.now):
            continue
        if no_paper(state.papers, equipment, action, other.id, lists) is not None:
            continue
        if no_right(equipment, action, other, world) is None and not proof_is_missing(state, other, equipment, action):
            return other
    return None


def no_second(
    state: Requests,
    equipment: Equipment,
    action: str,
    asker: str,
    people: Mapping[str, Person],
    lists: Mapping[str, PaperList],
    world: World,
) -> Objection | None:
    """What stands against an action that needs a second person when there is none to ask."""
    if (
        not equipment.second_persons.get(action)
        or second_of(state, equipment, action, asker, people, lists, world) is not None
    ):
        return None
    return Objection(
        rule=Rule.SECOND_PERSON,
        says=f"{action} needs a second person's word, and nobody else can give it now",
        cure="the installer names one more",
    )


def pass_on(
    request: Request, checked: Checked, second: Person, line: int | None, now: Ms, draws: Draws, words: Sequence[str]
) -> Decision:
    """The right words came and nothing stands against it: the second person gets the same question and an own code.
    line: of the own list on paper that is needed as well, None when none is."""
    drawn, expires = draw_code(draws, words), now + GOOD_FOR
    asked = Noted(
        fact=SecondAsked(request=request.id, person=second.id, expires=expires),
        chain=request.boat,
        sealed=({"words": list(drawn)},),
    )
    question = CautionAndCode(
        person=second.id,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        words=drawn,
        expires=expires,
        run=None if request.until is not None else request.run,
        until=request.until,
        who=request.person,
        line=line,
    )
    waits = WaitsForSecond(
        person=request.person,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        who=second.id,
        expires=expires,
    )
    spent = code_ended(request, RequestEvent.PASS_ON, CodeTrouble.USED, checked)
    return spent + Decision(notes=(asked,), answers=(waits, question))


def ended_by_second(request: Request, trouble: CodeTrouble) -> Decision:
    """Whoever asked hears that the second person's code came to nothing; nothing when none was asked."""
    if not request.second:
        return Decision()
    return told(
        SecondDidNot(
            person=request.person,
            boat=request.boat,
            equipment=request.equipment,
            action=request.action,
            who=request.second,
            trouble=trouble,
        )
    )
