"""What is to be told of trouble: with the gateway itself, a link, a signal, a phone, a stranger. As values.

Every notice goes to one person (random id); boat is a key, "" where it concerns the gateway itself. Instants: ms UTC.
"""

from dataclasses import dataclass
from typing import TypeAlias

from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class StrangerWrote:
    """Texts came from a number that is nobody's; told at most once an hour. number: masked; "" when they
    waited for the end of quiet hours."""

    person: str
    number: str
    count: int
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptOutSeen:
    """A person's number has opted out with the carrier, or the carrier says so. who: id."""

    person: str
    who: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialText:
    """A phone that had opted out has opted in again: the text that shows whether alarms arrive there."""

    person: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachableAgain:
    """A phone that had opted out gets texts again: one has arrived. who: id."""

    person: str
    who: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class UntoldMeanwhile:
    """Alarms came and went, or were taken by somebody, while the carrier was away. numbers: theirs."""

    person: str
    numbers: tuple[int, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierStuck:
    """An alarm's text to `who` is long in going: the carrier does not take it. By mail alone. code: ours or the
    carrier's."""

    person: str
    who: str
    code: str
    numbers: tuple[int, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotReached:
    """A text to `who` was refused by the carrier. code: the carrier's."""

    person: str
    who: str
    code: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkTrouble:
    """A broker or the carrier has been away, or lost what it kept. link: its name as in the files."""

    person: str
    link: str
    since: Ms
    memory_lost: bool
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientIdTwice:
    """Another client uses our client id with a broker: each is cut off when the other comes. link: as in the files."""

    person: str
    link: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlindTime:
    """The gateway did not run. standing: numbers of the alarms that stand. stops: how often it stopped since the reader
    was told of it before (told_before, an instant; None while nothing was kept from him)."""

    person: str
    since: Ms
    until: Ms
    standing: tuple[int, ...]
    stops: int = 1
    told_before: Ms | None = None
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SignalBad:
    """A signal cannot be read, and that has lasted. sample: what came."""

    person: str
    boat: str
    signal: str
    sample: str
    in_a_row: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TimesBad:
    """The times that come with these signals' values cannot be used, and that has lasted."""

    person: str
    boat: str
    signals: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockDoubtful:
    """The gateway's clock differs from the carrier's: nothing is commanded until it is right. ahead: ms by which the
    carrier's is ahead."""

    person: str
    ahead: Ms
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceLow:
    """Little is left on the account with a carrier. carrier: its name in the files. amount, limit: decimal text."""

    person: str
    carrier: str
    amount: str
    currency: str
    limit: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreWasFull:
    """The record could not be kept for a time. since, until: instants."""

    person: str
    since: Ms
    until: Ms
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordReplaced:
    """The record was damaged and put aside; the gateway goes on with a new one and knows nothing of before."""

    person: str
    boat: str = ""


TroubleNotice: TypeAlias = (
    StrangerWrote
    | OptOutSeen
    | TrialText
    | ReachableAgain
    | UntoldMeanwhile
    | CarrierStuck
    | NotReached
    | LinkTrouble
    | ClientIdTwice
    | BlindTime
    | SignalBad
    | TimesBad
    | ClockDoubtful
    | BalanceLow
    | StoreWasFull
    | RecordReplaced
)
