"""The record on disk, and what is in one commit."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from gateway.history.repacking import Repacked
from gateway.history.retention import HourHeld
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.orders import PublishCommand, SendMail, SendText
from gateway.vocabulary.readings import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """One reading as it was taken: number of the happening, instant of taking (ms UTC), the reading."""

    happening: int
    now: Ms
    reading: Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """An order that has come to its end. message: the carrier's id, "" when none. outcome: accepted, refused,
    published, not published, given up."""

    order: str
    outcome: str
    message: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """The desk's whole state after entry n and happening `happening`. A cache: thrown away when its version or its
    entry number is unknown. data: canonical JSON."""

    n: int
    happening: int
    state_version: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What one commit holds. All of it is on disk afterwards, or nothing."""

    readings: Sequence[ReadingRow] = ()
    written: Sequence[Written] = ()
    texts: Sequence[SendText] = ()
    commands: Sequence[PublishCommand] = ()
    mails: Sequence[SendMail] = ()
    settled: Sequence[Settled] = ()
    seen: Sequence[tuple[str, Ms]] = ()  # carrier's ids of inbound texts, and when they were taken in
    people: Sequence[tuple[str, str, str]] = ()  # (random id, key, number) of persons first met, or with another number
    snapshot: Snapshot | None = None
    erased: Sequence[tuple[int, int]] = ()  # sealed parts to erase: (n of the entry, place among its parts)
    forgotten: Sequence[str] = ()  # random ids of persons whose keys and waiting texts leave the disk
    said: Sequence[str] = ()  # notes of the store about itself that stand in the record now: restored, replaced


@dataclass(frozen=True, slots=True, kw_only=True)
class RestoredMark:
    """The store was laid in place from a backup. backup_at: the last instant recorded in it, 0 when it was empty;
    backup_n: n of its last entry."""

    backup_at: Ms
    backup_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DamageMark:
    """The store takes the place of a damaged one. kept_as: that one's name now; problem: in words."""

    kept_as: str
    problem: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What the store notes about itself. restored, replaced: not said in the record yet, None otherwise.

    texts_after: texts sent before this instant (ms UTC) are never acted on. thinned_at: instant at which keeping was
    last looked after.
    """

    restored: RestoredMark | None = None
    replaced: DamageMark | None = None
    texts_after: Ms | None = None
    thinned_at: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenText:
    """A text whose order is on disk and whose end is not. queued_at: instant of the order."""

    order: SendText
    queued_at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What a start finds. entries and readings: all since the snapshot, by happening number, oldest first.

    open_texts: to be looked up and then sent. open_mails: to be sent again. open_commands: ids of commands whose end
    is unknown (never sent again). known_messages: carrier's ids of texts of ours that were accepted in the last 48 h.
    """

    snapshot: Snapshot | None
    entries: Iterable[Written]
    readings: Iterable[ReadingRow]
    open_texts: Sequence[OpenText]
    open_commands: Sequence[str]
    known_messages: frozenset[str]
    people: Sequence[tuple[str, str, str]]
    last_now: Ms | None
    marks: Marks = Marks()
    open_mails: Sequence[SendMail] = ()


class Store(Protocol):
    """The durable store. Used by one thread at a time."""

    def load(self, state_version: str) -> Loaded:
        """What the last run left. Raises StoreUnreadable."""
        ...

    def has_seen(self, messages: Sequence[str]) -> frozenset[str]:
        """Which of these inbound texts were taken in before, ever."""
        ...

    def commit(self, batch: Batch) -> None:
        """Put the batch on disk in one transaction, synced. Raises StoreTrouble, and then nothing of it is there."""
        ...

    def start_afresh(self, problem: str, now: Ms) -> None:
        """Put the damaged file aside and go on with an empty one, which bears the mark of it. Raises StoreTrouble."""
        ...

    def survey(self) -> list[HourHeld]:
        """What is held of readings, by hour. In any thread, beside everything else. Raises StoreTrouble."""
        ...

    def parts_before(self, before: Ms) -> tuple[int, int]:
        """(n of the last entry made before this instant, sealed parts up to it that are not erased). In any thread.
        Raises StoreTrouble."""
        ...

    def next_group(self, held: HourHeld) -> Repacked | None:
        """The next readings of an hour, packed; None when nothing is left. In any thread. Raises StoreTrouble."""
        ...

    def put_packed(self, packed: Repacked) -> bool:
        """Put packed readings in the place of the loose ones; False when those have changed. Raises StoreTrouble."""
        ...

    def drop_hour(self, before: Ms) -> bool:
        """Drop the oldest hour of readings taken before this instant; False when there is none. Raises
        StoreTrouble."""
        ...

    def erase_parts(self, after: int, upto: int) -> int | None:
        """Erase some sealed parts of entries after n `after`, up to n `upto`; where to go on, None at the end.
        Raises StoreTrouble."""
        ...

    def note_thinned(self, now: Ms) -> None:
        """Keeping was looked after. Raises StoreTrouble."""
        ...

    def close(self) -> None:
        """Close the file and let another service have it."""
        ...
