"""The second stage: two words come back; every interlock is asked again; the command goes out, or nothing does."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gateway.people.settings import Person
from gateway.requests.answers import CodeAnswer, CodeTrouble, Objection, Rule
from gateway.requests.asked import line_of
from gateway.requests.asking import asked_of, refused
from gateway.requests.authority import NOT_PROVED, never_from_afar, no_right, proof_is_missing, to_be_told, wrong_words
from gateway.requests.carrying_out import send
from gateway.requests.codes import same_words, sent_in_time
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.interlocks import Checked, check
from gateway.requests.life import RequestEvent
from gateway.requests.no_effect import barred, known_again, nothing_done
from gateway.requests.number_answers import PaperRunsLow
from gateway.requests.paper_facts import PaperLineUsed
from gateway.requests.paper_lists import FEW_LEFT, PaperList, needs_line, next_line, no_paper, same_line
from gateway.requests.second_person import ended_by_second, no_second, pass_on, second_of
from gateway.requests.settings import Equipment
from gateway.requests.state import Request, Requests
from gateway.requests.steps import after, code_ended
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import Ms
from grammar.meanings import Confirm, PaperLine


def confirm(
    state: Requests,
    person: Person,
    said: Confirm,
    age: Ms | None,
    equipment: Mapping[str, Equipment],
    people: Mapping[str, Person],
    lists: Mapping[str, PaperList],
    world: World,
    draws: Draws,
    words: Sequence[str],
) -> Decision:
    """Decide on `go teapot marble` and `go teapot marble 7 lantern piccolo`.

    age: of the text, ms, None when not known. equipment by id, people and lists on paper by random id. words: those
    that a second person's code is drawn from, where one is needed. The code is bound to the person who was asked and to
    what was asked: nothing else of the text is looked at, but a line from paper where one is needed. Once the words
    were right the code is used up, whatever follows. Words are compared only while the person may command and the text
    is young enough.
    """
    request = meant(state, person.id, said.words)
    nothing = barred(state, person, request, age, world)
    if nothing is not None:
        return nothing
    if request is None or not same_words(request.words, said.words):
        ask = state.numbers.asked.get(person.id)
        if ask is not None and same_words(ask.words, said.words):
            return nothing_done(person, CodeTrouble.PROVES, request)
        dead = known_again(state, person.id, said.words)
        if dead is not None:
            return nothing_done(person, dead.trouble, request)
        return _wrong(state, person, request, people, world.now)
    if not sent_in_time(request.expires, world.now, age):
        expired = code_ended(request, RequestEvent.EXPIRE, CodeTrouble.EXPIRED)
        return (
            expired + ended_by_second(request, CodeTrouble.EXPIRED) + nothing_done(person, CodeTrouble.EXPIRED, request)
        )
    piece, asker = equipment.get(request.equipment), people.get(request.person) if request.second else person
    if piece is None or asker is None:
        return code_ended(request, RequestEvent.LAPSE, CodeTrouble.USED) + nothing_done(
            person, CodeTrouble.NOTHING_OPEN, request
        )
    word = _Word(state, request, piece, asker, person, people, lists, world)
    if needs_line(piece, request.action):
        against = _without_its_line(word, said.line)
        if against is not None:
            return against
        return _crossed_off(word) + _confirmed(word, draws, words)
    return _confirmed(word, draws, words)


def meant(state: Requests, person: str, said: tuple[str, str]) -> Request | None:
    """The open request whose code these words are; when they are none's, the one that they are held against."""
    found = state.codes_of(person)
    return next((one for one in found if same_words(one.words, said)), found[0] if found else None)


@dataclass(frozen=True, slots=True)
class _Word:
    """The right words for a request, and what is looked at before they count. asker: who asked for it. last: whose
    words came, the asker or a second person. people, lists: by random id."""

    state: Requests
    request: Request
    piece: Equipment
    asker: Person
    last: Person
    people: Mapping[str, Person]
    lists: Mapping[str, PaperList]
    world: World

    def second(self) -> Person | None:
        """Whose words are wanted as well, before anything is sent."""
        if self.request.second:
            return None
        action, asker = self.request.action, self.asker.id
        return second_of(self.state, self.piece, action, asker, self.people, self.lists, self.world)

    def line(self, person: str) -> int | None:
        """The line that is wanted next of this person's list on paper; None without one, or when none is needed."""
        if not needs_line(self.piece, self.request.action):
            return None
        return next_line(self.state.papers, self.lists.get(person))

    def against_persons(self) -> Objection | None:
        """What stands against the one who asked, or against the one whose words have come."""
        for one in (self.asker, self.last):
            right = no_right(self.piece, self.request.action, one, self.world)
            if right is not None:
                return right
            if proof_is_missing(self.state, one, self.piece, self.request.action):
                return NOT_PROVED
        if not self.request.second:
            action, asker = self.request.action, self.asker.id
            return no_second(self.state, self.piece, action, asker, self.people, self.lists, self.world)
        if self.state.locked(self.asker.id, self.world.now):
            return Objection(rule=Rule.LOCKED, says=f"commands of {self.asker.name}, who asked, are locked")
        return None


def _confirmed(word: _Word, draws: Draws, words: Sequence[str]) -> Decision:
    used = code_ended(word.request, RequestEvent.CONFIRM, CodeTrouble.USED)
    confirmed = after(word.request, RequestEvent.CONFIRM)
    checked = _checked_again(word)
    if checked.objections:
        return used + refused(confirmed, checked)
    second = word.second()
    if second is not None:
        return pass_on(word.request, checked, second, word.line(second.id), word.world.now, draws, words)
    return used + send(confirmed, word.piece, checked, word.world, draws)


def _checked_again(word: _Word) -> Checked:
    """Rights and interlocks of this moment: either may have changed since the question. Of two persons both must have
    the right and a proved number, and neither may be locked."""
    request, piece = word.request, word.piece
    against = (
        word.against_persons()
        or never_from_afar(piece, request.action)
        or no_paper(word.state.papers, piece, request.action, word.last.id, word.lists)
    )
    if request.action not in piece.pair:
        against = Objection(rule=Rule.NOT_CARRIED_OUT, says=f"{piece.name} no longer knows {request.action}")
    if against is not None:
        return Checked(values=(line_of(against),), objections=(against,))
    return check(asked_of(request, piece, word.asker, word.world.now), word.state, word.world)


def _without_its_line(word: _Word, said: PaperLine | None) -> Decision | None:
    """The words of the code were right: whether those from paper are, too. None: they are, or there is no list any
    more, which is an objection like any other. A line that is missing or used is answered, a wrong one is counted."""
    paper, wanted = word.lists.get(word.last.id), word.line(word.last.id)
    if paper is None or wanted is None:
        return None
    if said is None or said.number < wanted:
        trouble = CodeTrouble.LINE_MISSING if said is None else CodeTrouble.LINE_USED
        return nothing_done(word.last, trouble, word.request, until=word.request.expires, line=wanted)
    if said.number == wanted and same_line(paper, said):
        return None
    return _wrong(word.state, word.last, word.request, word.people, word.world.now, wanted)


def _crossed_off(word: _Word) -> Decision:
    """The right line is used up, whatever follows; that few are left is told to its person and those who can help."""
    paper, line = word.lists.get(word.last.id), word.line(word.last.id)
    if paper is None or line is None:
        return NOTHING
    used = PaperLineUsed(person=word.last.id, paper=paper.id, line=line, request=word.request.id)
    left = len(paper.lines) - line
    if left not in (FEW_LEFT, 0):
        return noted(INSTALLATION, used)
    readers = (word.last, *to_be_told(word.last, word.people))
    return noted(INSTALLATION, used) + told(
        *(PaperRunsLow(person=reader.id, who=word.last.id, left=left) for reader in readers)
    )


def _wrong(
    state: Requests,
    person: Person,
    request: Request | None,
    people: Mapping[str, Person],
    now: Ms,
    line: int | None = None,
) -> Decision:
    wrong = wrong_words(state, person, None if request is None else (request.id, request.wrong), people, now)
    decision = wrong.decision
    if request is not None and wrong.voids:
        decision += code_ended(request, RequestEvent.VOID, CodeTrouble.VOID)
        decision += ended_by_second(request, CodeTrouble.VOID)
    return decision + told(
        CodeAnswer(
            person=person.id,
            trouble=wrong.trouble,
            boat=request.boat if request is not None else "",
            equipment=request.equipment if request is not None else None,
            until=wrong.until,
            tries_left=wrong.left if wrong.trouble is CodeTrouble.WRONG else None,
            line=line if wrong.trouble is CodeTrouble.WRONG else None,
            wait=wrong.wait,
        )
    )
