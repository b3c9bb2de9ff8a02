"""A number is proved before it commands: two words are sent to it, and come back from it.

Why: the number of a sender can be forged, mistyped by the installer, or given to somebody else after years (handbook
6.1). Proof is asked for what brings a thing to life. Stopping never needs it, and being told never does.
"""

from collections.abc import Mapping, Sequence

from gateway.people.settings import Person
from gateway.requests.answers import CodeAnswer, CodeTrouble
from gateway.requests.authority import NOT_PROVED, wrong_words
from gateway.requests.codes import GOOD_FOR, LATEST, draw_code, mark_of, same_words, sent_in_time
from gateway.requests.decision import NOTHING, Decision, Noted, noted, told
from gateway.requests.facts import CodeSpent
from gateway.requests.interlocks import Checked
from gateway.requests.life import RequestEvent
from gateway.requests.no_effect import barred, known_again, nothing_done
from gateway.requests.number_answers import NumberIsProved, ProveFirst
from gateway.requests.number_facts import NumberAsked, NumberProved, NumberUnproved, Unproved
from gateway.requests.numbers import SILENT_FOR, WordsAsked
from gateway.requests.state import Request, Requests
from gateway.requests.steps import code_ended, stepped
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import Ms


def ask_for_proof(
    state: Requests, request: Request, person: Person, world: World, draws: Draws, words: Sequence[str]
) -> Decision:
    """Nothing is switched; two words go to the number, and earlier ones are void. Nothing of the request is kept: what
    is wanted after the proof is asked for again, so that no proof ever switches anything."""
    step = stepped(request, RequestEvent.REFUSE, Checked(values=(), objections=(NOT_PROVED,)))
    older = state.numbers.asked.get(person.id)
    voided = NOTHING if older is None else _spent(older, person.id, CodeTrouble.REPLACED)
    ask, code, expires = draws.hex_for("request"), draw_code(draws, words), world.now + GOOD_FOR
    made = Noted(
        fact=NumberAsked(ask=ask, person=person.id, expires=expires),
        chain=INSTALLATION,
        sealed=({"words": list(code)},),
    )
    question = ProveFirst(
        person=person.id,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        words=code,
        expires=expires,
        silent=state.numbers.lapsed.get(person.id) is Unproved.SILENT,
    )
    return noted(request.boat, step) + voided + Decision(notes=(made,), answers=(question,))


def prove(
    state: Requests, person: Person, said: tuple[str, str], age: Ms | None, people: Mapping[str, Person], world: World
) -> Decision:
    """Decide on `prove teapot marble`. age: of the text, ms, None when not known. people by random id. Wrong words are
    counted as wrong codes are: three void the words, five in a row lock."""
    nothing = barred(state, person, None, age, world)
    if nothing is not None:
        return nothing
    ask = state.numbers.asked.get(person.id)
    if ask is not None and same_words(ask.words, said):
        if not sent_in_time(ask.expires, world.now, age):
            return _spent(ask, person.id, CodeTrouble.EXPIRED) + nothing_done(person, CodeTrouble.EXPIRED, None)
        proved = noted(INSTALLATION, NumberProved(person=person.id, at=world.now))
        return _spent(ask, person.id, CodeTrouble.USED) + proved + told(NumberIsProved(person=person.id))
    dead = known_again(state, person.id, said)
    if dead is not None:
        return nothing_done(person, dead.trouble, None)
    return _wrong(state, person, ask, people, world.now)


def words_expired(state: Requests, people: Mapping[str, Person], now: Ms) -> Decision:
    """Words whose time is over, or whose person is gone, prove nothing any more."""
    decision = NOTHING
    for person, ask in state.numbers.asked.items():
        if now > ask.expires + LATEST or person not in people:
            decision += _spent(ask, person, CodeTrouble.EXPIRED)
    return decision


def fell_silent(state: Requests, person: Person, now: Ms) -> Decision:
    """A text comes from a number that had sent nothing for 60 days: from now on it must be proved again."""
    if not state.numbers.is_silent(person.id, now):
        return NOTHING
    return noted(INSTALLATION, NumberUnproved(person=person.id, because=Unproved.SILENT))


def numbers_in_files(state: Requests, people: Mapping[str, Person], renumbered: Sequence[str], now: Ms) -> Decision:
    """What new files mean for the proofs. people by random id. renumbered: ids of those whose number is another now:
    what was proved was the number before, and a code that it got is void. An installer's word (`proved`) counts once,
    for 60 days, not when it is dated ahead, and gives a
    lost phone its commands back when it is later than the report. now: instant, ms UTC."""
    decision = NOTHING
    ids = {person.key: person.id for person in people.values()}
    for person in people.values():
        if person.id in renumbered:
            decision += _another_number(state, person.id)
        vouched, counted = person.proved, state.numbers.vouched.get(person.id)
        if vouched is None or not now - SILENT_FOR <= vouched <= now or (counted is not None and vouched <= counted):
            continue
        if vouched <= state.numbers.lost.get(person.id, vouched - 1):
            continue
        by = ids.get(person.proved_by, person.id)
        decision += noted(INSTALLATION, NumberProved(person=person.id, at=vouched, by=by))
    return decision


def _another_number(state: Requests, person: str) -> Decision:
    decision = noted(INSTALLATION, NumberUnproved(person=person, because=Unproved.CHANGED))
    ask, waiting = state.numbers.asked.get(person), state.waiting(person)
    if ask is not None:
        decision += _spent(ask, person, CodeTrouble.VOID)
    if waiting is not None:
        decision += code_ended(waiting, RequestEvent.LAPSE, CodeTrouble.VOID)
    return decision


def _spent(ask: WordsAsked, person: str, trouble: CodeTrouble) -> Decision:
    fact = CodeSpent(request=ask.id, person=person, trouble=trouble, mark=mark_of(ask.id, ask.words))
    return noted(INSTALLATION, fact)


def _wrong(state: Requests, person: Person, ask: WordsAsked | None, people: Mapping[str, Person], now: Ms) -> Decision:
    wrong = wrong_words(state, person, None if ask is None else (ask.id, ask.wrong), people, now)
    decision = wrong.decision
    if ask is not None and wrong.voids:
        decision += _spent(ask, person.id, CodeTrouble.VOID)
    answer = CodeAnswer(
        person=person.id,
        trouble=wrong.trouble,
        until=wrong.until,
        tries_left=wrong.left if wrong.trouble is CodeTrouble.WRONG else None,
        wait=wrong.wait,
    )
    return decision + told(answer)
