"""The record read back as what it was made of: one happening after the other, as the desk took them.

Every happening that is no reading left an entry with all that was decided by; so the record can be taken in again.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from heapq import merge
from itertools import groupby
from typing import Any, TypeAlias

from gateway.boat.latest import MOST_AHEAD
from gateway.desk.facts import (
    BalanceRead,
    ClockDoubt,
    ClockStepped,
    CommandPublished,
    InstallationUsed,
    LinkStep,
    PartsErased,
    ReadingsDropped,
    ServiceStarted,
    StoreGap,
    StoreReplaced,
    StoreRestored,
    TextReceived,
    TimeFell,
    UnknownTopic,
)
from gateway.desk.kinds import BY_KIND
from gateway.desk.opting import BY_FLAG
from gateway.telling.call import TRIAL_TEXT
from gateway.telling.facts import MailEnded, OptOutNoted, TextAnswered, TextDelayed, TextDelivery, TextQueued
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.facts import Fact, fact_of
from gateway.vocabulary.happenings import (
    BalanceSeen,
    CarrierTimeSeen,
    DamageFound,
    DeliveryReported,
    Happening,
    InstallationCame,
    LinkChanged,
    MailAnswered,
    OptFlagCame,
    PartsExpired,
    PublishAnswered,
    ReadingsCame,
    ReadingsExpired,
    RestoreFound,
    SendAnswered,
    SendDelayed,
    Started,
    StoreRecovered,
    TextCame,
    TimeCame,
    UnknownTopicCame,
    WallClockStepped,
)
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading

Row: TypeAlias = tuple[int, Ms, Reading]
"""A reading as it was taken: number of the happening, instant (ms UTC), the reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One happening as the record has it. now: the instant at which it was taken (ms UTC)."""

    happening: int
    now: Ms
    readings: tuple[Reading, ...]
    entries: tuple[Written, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """A happening of which too little is left to take it in again. why: in words."""

    why: str


def taken(entries: Iterable[Written], rows: Iterable[Row]) -> Iterator[Taken]:
    """The happenings of a record, oldest first. entries, rows: each by growing number of the happening."""
    told = ((written.entry.happening, written) for written in entries)
    heard = ((row[0], row) for row in rows)
    for number, parts in groupby(merge(heard, told, key=_number), key=_number):
        found = [part for _, part in parts]
        readings = [part for part in found if isinstance(part, tuple)]
        written = tuple(part for part in found if isinstance(part, Written))
        now = readings[-1][1] if readings else written[-1].entry.now
        yield Taken(happening=number, now=now, readings=tuple(row[2] for row in readings), entries=written)


def _number(part: tuple[int, object]) -> int:
    return part[0]


def facts_of(entries: Iterable[Written]) -> Iterator[tuple[Fact, Written]]:
    """The facts of entries, each with its entry; references to entries of other chains are left out."""
    for written in entries:
        kind = BY_KIND.get(written.entry.kind)
        if kind is not None:
            yield fact_of(kind, written.entry.version, written.entry.body), written


def happening_of(one: Taken, clock_offset: Ms, number_of: Callable[[str], str]) -> Happening | Lost | None:
    """What came in; None when the record says no more than that something fell due with it.

    clock_offset: of the state before it. number_of: the number (E.164) of a person's id, "" for nobody. Of a new
    installation only what it was called is known, not its files.
    """
    if one.readings:
        return ReadingsCame(readings=tuple(_unmarked(reading, one.now) for reading in one.readings))
    for fact, written in facts_of(one.entries):
        if isinstance(fact, ClockDoubt):
            return CarrierTimeSeen(ahead=fact.ahead + clock_offset)
        if isinstance(fact, TextReceived):
            return _text(fact, written.parts[0])
        if type(fact) in AS_IT_CAME:
            return AS_IT_CAME[type(fact)](fact)
    for fact, _ in facts_of(one.entries):  # the carrier's mark on a text stands in the record by what follows from it
        if isinstance(fact, OptOutNoted) and fact.by == BY_FLAG:
            return OptFlagCame(number=number_of(fact.person), out=fact.out)
        if isinstance(fact, TextQueued) and fact.about == TRIAL_TEXT:
            return OptFlagCame(number=number_of(fact.person), out=False)
    return None


def _unmarked(reading: Reading, now: Ms) -> Reading:
    """As it came, to be marked anew by what is known at that moment and by the files in use. An own time too far ahead
    was dropped: any other such stands for it. Where one of a clock that was never set was dropped, or there never was
    one, the mark is all that is known of its age."""
    if reading.ahead:
        return replace(reading, own_time=now + MOST_AHEAD + 1, ahead=False, late=False)
    return reading if reading.own_time is None else replace(reading, late=False)


def _text(fact: TextReceived, part: SealedPart | None) -> TextCame | Lost:
    content = part.content if part is not None else None
    if not isinstance(content, Mapping):
        return Lost(why="a text that came was erased from the record")
    number, body = str(content["number"]), str(content["body"])
    return TextCame(message=fact.message, number=number, body=body, age=fact.age)


AS_IT_CAME: Mapping[type[Fact], Callable[[Any], Happening]] = {
    ServiceStarted: lambda fact: Started(stopped_at=fact.stopped_at),
    InstallationUsed: lambda fact: InstallationCame(
        fingerprint=fact.fingerprint, people=fact.people, renumbered=fact.renumbered
    ),
    BalanceRead: lambda fact: BalanceSeen(carrier=fact.carrier, amount=fact.amount, currency=fact.currency),
    TimeFell: lambda _: TimeCame(),
    ClockStepped: lambda fact: WallClockStepped(by=fact.by),
    LinkStep: lambda fact: LinkChanged(link=fact.link, up=fact.up, memory_kept=fact.memory_kept, detail=fact.detail),
    UnknownTopic: lambda fact: UnknownTopicCame(broker=fact.broker, topic=fact.topic, sample=fact.sample),
    CommandPublished: lambda fact: PublishAnswered(order=fact.order, taken=fact.taken, detail=fact.detail),
    StoreGap: lambda fact: StoreRecovered(since=fact.since, until=fact.until, told=fact.told),
    StoreRestored: lambda fact: RestoreFound(backup_at=fact.backup_at, backup_n=fact.backup_n),
    StoreReplaced: lambda fact: DamageFound(kept_as=fact.kept_as, problem=fact.problem),
    ReadingsDropped: lambda fact: ReadingsExpired(
        before=fact.before, hours=fact.hours, readings=fact.count, size=fact.size, because=fact.because
    ),
    PartsErased: lambda fact: PartsExpired(before=fact.before, parts=fact.count),
    TextAnswered: lambda fact: SendAnswered(
        order=fact.order,
        accepted=fact.accepted,
        message=fact.message,
        code=fact.code,
        detail=fact.detail,
        found=fact.found,
    ),
    TextDelayed: lambda fact: SendDelayed(order=fact.order, code=fact.code),
    MailEnded: lambda fact: MailAnswered(order=fact.order, taken=fact.taken, detail=fact.detail),
    TextDelivery: lambda fact: DeliveryReported(order=fact.order, status=fact.status, code=fact.code),
}
"""What each of these entries was made of (a new happening needs its line here: a test counts them)."""
