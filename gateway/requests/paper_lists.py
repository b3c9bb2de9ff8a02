"""One-time words on paper: for the gravest an order needs, besides its code, the next line of a list in the drawer.

Code and order go over one telephone; whoever has taken that over has both. A line of two words stands on paper alone
(handbook 6.1: a printed one-time list; SP 800-63B, look-up secrets: once, hashed and salted, 20 bits at least). Lines
are used in their order, each once; a newer list or a lost phone makes the rest void. What brings to rest needs none.
"""

import hashlib
import hmac
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from gateway.people.settings import Person
from gateway.requests.answers import Objection, Rule
from gateway.requests.decision import NOTHING, Decision, noted
from gateway.requests.paper_facts import ListOver, PaperLineUsed, PaperListCame, PaperListVoid
from gateway.requests.settings import Equipment
from gateway.vocabulary.entries import INSTALLATION
from grammar.meanings import PaperLine

LINES = 20
"""Lines of a list as it is printed (our choice: a start a fortnight for most of a year, on one sheet)."""

FEW_LEFT = 3
"""So many lines left are told, so that a new list is printed in time (our choice)."""

_COST, _BLOCK = 2**14, 8
"""scrypt's N and r (RFC 7914, 2; 16 MiB): trying all million pairs of words for one line takes hours, not seconds, when
the file of hashes is stolen (SP 800-63B asks for a slow hash where a secret has less than 112 bits)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperList:
    """One person's list as the files have it. id, salt: hex. lines: the hash of each line, hex, the first one first."""

    id: str
    salt: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossed:
    """What is known of a list. used: so many lines, from the first. over: it is void."""

    person: str
    used: int = 0
    over: bool = False


@dataclass(slots=True)
class Papers:
    """All lists ever met, by their id, because one that is void must stay so when an old file comes back."""

    lists: dict[str, Crossed] = field(default_factory=dict)

    def good_list_of(self, person: str) -> str | None:
        """Id of the person's list that is not void; None when there is none."""
        return next((key for key, one in self.lists.items() if one.person == person and not one.over), None)

    def apply(self, fact: PaperListCame | PaperLineUsed | PaperListVoid) -> None:
        """Fold one fact in."""
        known = self.lists.get(fact.paper, Crossed(person=fact.person))
        match fact:
            case PaperListCame():
                known = replace(known, person=fact.person)
            case PaperLineUsed(line=line):
                known = replace(known, used=max(known.used, line))
            case PaperListVoid():
                known = replace(known, over=True)
        self.lists[fact.paper] = known


def line_hash(salt: str, number: int, words: tuple[str, str]) -> str:
    """A line as it is kept: scrypt over its words without case, salted with the list's salt and the line's number."""
    plain = " ".join(word.casefold() for word in words).encode()
    return hashlib.scrypt(plain, salt=f"{salt}:{number}".encode(), n=_COST, r=_BLOCK, p=1, dklen=32).hex()


def same_line(paper: PaperList, said: PaperLine) -> bool:
    """Whether these are the words of that line; a number that the list does not have is none's."""
    if not 1 <= said.number <= len(paper.lines):
        return False
    return hmac.compare_digest(paper.lines[said.number - 1], line_hash(paper.salt, said.number, said.words))


def needs_line(equipment: Equipment, action: str) -> bool:
    """Whether this action needs a line: bringing to life, where the installer wrote it."""
    return equipment.paper_line and action == equipment.pair[0]


def next_line(papers: Papers, paper: PaperList | None) -> int | None:
    """The line that is asked for next, counted from 1; None when there is no list, it is void, or used up."""
    if paper is None:
        return None
    known = papers.lists.get(paper.id)
    if known is None or known.over or known.used >= len(paper.lines):
        return None
    return known.used + 1


def no_paper(
    papers: Papers, equipment: Equipment, action: str, person: str, lists: Mapping[str, PaperList]
) -> Objection | None:
    """What stands against an action that needs a line, when this person (random id) has none left."""
    paper = lists.get(person)
    if not needs_line(equipment, action) or next_line(papers, paper) is not None:
        return None
    known = None if paper is None else papers.lists.get(paper.id)
    says = "you have no paper list"
    if known is not None and known.over:
        says = "your paper list is void"
    elif known is not None:
        says = "your paper list is used up"
    cure = "the installer prints a new one"
    return Objection(rule=Rule.PAPER, says=says, cure=cure)


def lists_in_files(papers: Papers, people: Mapping[str, Person], lists: Mapping[str, PaperList]) -> Decision:
    """What new files mean: a list that was not met before is good from now on, and makes the person's older one void.
    One that stands under another person now is that person's with what is used of it, so that whose phone is lost is
    whose list is void. people, lists: by random id."""
    decision = NOTHING
    for person, paper in sorted(lists.items()):
        known = papers.lists.get(paper.id)
        if person not in people or (known is not None and (known.over or known.person == person)):
            continue
        older = papers.good_list_of(person)
        if older is not None:
            void = PaperListVoid(person=person, paper=older, because=ListOver.REPLACED)
            decision += noted(INSTALLATION, void)
        decision += noted(INSTALLATION, PaperListCame(person=person, paper=paper.id, lines=len(paper.lines)))
    return decision


def list_lost(papers: Papers, person: str) -> Decision:
    """A phone is reported lost: the list of its person may have lain beside it."""
    good = papers.good_list_of(person)
    if good is None:
        return NOTHING
    return noted(INSTALLATION, PaperListVoid(person=person, paper=good, because=ListOver.LOST))
