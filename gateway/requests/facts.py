"""What the logbook keeps of requests, codes and commands.

Persons stand by their random id, boats by key, equipment by id. Instants and lengths are whole ms (instants UTC).
"""

from dataclasses import dataclass
from typing import ClassVar

from gateway.requests.answers import CodeTrouble
from gateway.requests.life import RequestEvent, RequestState
from gateway.requests.number_facts import NUMBER_FACTS
from gateway.requests.paper_facts import PAPER_FACTS
from gateway.requests.run_facts import RUN_FACTS
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestStep(Fact):
    """One event in the life of one request (handbook G9: who, what, when, why, interlock values).

    run, until: length of the timed run, or instant of its end. values: every interlock with its value, one line each.
    objections: what stood against it, one line each. order: id of the command, for `send`. prove_by: last instant at
    which proof counts, for `send`. seen_at: arrival of the reading that showed it. measured: the proof, as said.
    """

    kind: ClassVar[str] = "request-step"
    request: str
    event: RequestEvent
    before: RequestState
    after: RequestState
    boat: str
    equipment: str
    action: str
    person: str
    run: Ms | None = None
    until: Ms | None = None
    values: tuple[str, ...] = ()
    objections: tuple[str, ...] = ()
    order: str = ""
    prove_by: Ms | None = None
    seen_at: Ms | None = None
    measured: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeMade(Fact):
    """A code was made for a request. Its sealed part is {"words": [first, second]}. expires: last good instant."""

    kind: ClassVar[str] = "code-made"
    request: str
    expires: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondAsked(Fact):
    """The person who asked has confirmed, and a second person (random id) is asked as well. Its sealed part is
    {"words": [first, second]}, a code for that person alone. expires: last good instant."""

    kind: ClassVar[str] = "second-asked"
    request: str
    person: str
    expires: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeSpent(Fact):
    """A code can no longer confirm anything. trouble: what is answered if it comes again. mark: its fingerprint, by
    which it is known again, "" when its words had been erased. The words of a dead code open nothing."""

    kind: ClassVar[str] = "code-spent"
    request: str
    person: str
    trouble: CodeTrouble
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongCode(Fact):
    """Words that are no code of this person: counted towards the lock. request: whose code they were held against,
    "" when none was open."""

    kind: ClassVar[str] = "wrong-code"
    person: str
    request: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeRefused(Fact):
    """A `go` or `drop` that did nothing and is not counted. drop: it was a `drop`. request: "" when none is meant."""

    kind: ClassVar[str] = "code-refused"
    person: str
    trouble: CodeTrouble
    request: str = ""
    drop: bool = False
    age: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonLocked(Fact):
    """Commands of a person are locked. until: first instant at which they are not; None: until the installer has
    proved the person again. wrong: wrong codes that led to it."""

    kind: ClassVar[str] = "commands-locked"
    person: str
    until: Ms | None
    wrong: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LockLifted(Fact):
    """The installer proved a person again: the lock and the counts are gone. by: random id."""

    kind: ClassVar[str] = "commands-unlocked"
    person: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LastSwitched(Fact):
    """The feedback contact of a piece of equipment was seen to change, or was seen for the first time.
    on: what it shows. at: arrival of that reading."""

    kind: ClassVar[str] = "last-switched"
    equipment: str
    on: bool
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class LockOutSeen(Fact):
    """The boat's maintenance lock-out was seen to be set, to be another's, or to be lifted. signal: its id. value: as
    said: "on", the name that the boat gives, or "off". at: arrival of that reading."""

    kind: ClassVar[str] = "lock-out-seen"
    signal: str
    value: str
    at: Ms


REQUEST_FACTS: tuple[type[Fact], ...] = (
    RequestStep,
    CodeMade,
    SecondAsked,
    CodeSpent,
    WrongCode,
    CodeRefused,
    PersonLocked,
    LockLifted,
    LastSwitched,
    LockOutSeen,
    *RUN_FACTS,
    *NUMBER_FACTS,
    *PAPER_FACTS,
)
"""All kinds of this room, for the register of kinds."""
