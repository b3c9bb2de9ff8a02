"""What the last run left: the newest snapshot, what waits, who was met, and where the record ends."""

from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import ColumnClause, Connection, func, literal_column, select

from gateway.doors.faces import Loaded, Marks, OpenText, Snapshot
from gateway.doors.store.kept_rows import PAGE, KeptEntries, KeptReadings
from gateway.doors.store.marks import marks_of
from gateway.doors.store.schema import (
    ENTRIES,
    PEOPLE,
    READING_BLOCKS,
    SEEN_TEXTS,
    SETTLED_ORDERS,
    SNAPSHOTS,
    WAITING_COMMANDS,
    WAITING_MAILS,
    WAITING_TEXTS,
)
from gateway.doors.store.trouble import unreadable
from gateway.logbook.chains import digest
from gateway.vocabulary.moments import HOUR, Ms
from gateway.vocabulary.orders import SendMail, SendText
from gateway.vocabulary.priority import Priority

KNOWN_FOR: Ms = 48 * HOUR
"""How long the carrier's ids of our own texts are handed back, as the face of the store promises."""

_BY_ROW: ColumnClause[int] = literal_column("rowid")


def left_by_last_run(core: Connection, path: Path, state_version: str, *, n: int, now: Ms | None) -> Loaded:
    """What the store holds up to entry n and its last block of readings. now: the latest instant recorded.

    Entries and readings are fetched while they are gone through. Raises StoreUnreadable.
    """
    snapshot = newest_snapshot(core, state_version)
    after, happening = (snapshot.n, snapshot.happening) if snapshot else (0, -1)
    return Loaded(
        snapshot=snapshot,
        entries=KeptEntries(core, path, after=after, upto=n),
        readings=KeptReadings(core, path, happening=happening, upto=last_block(core)),
        open_texts=open_texts(core, path),
        open_commands=open_commands(core),
        open_mails=open_mails(core),
        known_messages=known_messages(core, (now or 0) - KNOWN_FOR),
        people=people(core),
        last_now=now,
        marks=_marks(core, path),
    )


def _marks(core: Connection, path: Path) -> Marks:
    try:
        return marks_of(core)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise unreadable(path, f"its notes about itself are damaged ({error})") from None


def newest_snapshot(core: Connection, state_version: str) -> Snapshot | None:
    """The newest snapshot that fits: of this state version, sound, and of an entry that stands here; else None."""
    wanted = select(SNAPSHOTS).where(SNAPSHOTS.c.state_version == state_version).order_by(SNAPSHOTS.c.id.desc())
    for row in core.execute(wanted).all():
        entry = core.execute(select(ENTRIES.c.digest).where(ENTRIES.c.n == row.n)).scalar()
        if digest(row.data) == row.digest and (entry or "") == row.entry_digest and (entry or row.n == 0):
            return Snapshot(n=row.n, happening=row.happening, state_version=row.state_version, data=row.data)
    return None


def last_entry(core: Connection) -> tuple[int, Ms | None]:
    """n of the last entry and its instant; 0 and None in a new store."""
    row = core.execute(select(ENTRIES.c.n, ENTRIES.c.now).order_by(ENTRIES.c.n.desc()).limit(1)).first()
    return (row.n, row.now) if row else (0, None)


def last_happening(core: Connection) -> int:
    """The largest happening number recorded; -1 in a new store."""
    moments = [
        core.execute(select(ENTRIES.c.happening).order_by(ENTRIES.c.n.desc()).limit(1)).scalar(),
        core.execute(select(func.max(READING_BLOCKS.c.last_happening))).scalar(),
    ]
    return max((happening for happening in moments if happening is not None), default=-1)


def last_block(core: Connection) -> int:
    """Id of the last block of readings; 0 in a new store."""
    return int(core.execute(select(func.coalesce(func.max(READING_BLOCKS.c.id), 0))).scalar_one())


def last_moment(core: Connection) -> Ms | None:
    """The latest instant anywhere recorded (ms UTC); None in a new store."""
    blocks = READING_BLOCKS.c
    newest = select(func.max(blocks.batch)).scalar_subquery()
    moments = [
        last_entry(core)[1],
        core.execute(select(func.max(blocks.last_now)).where(blocks.id >= newest)).scalar(),
    ]
    for column in (
        SEEN_TEXTS.c.taken_at,
        SETTLED_ORDERS.c.settled_at,
        WAITING_TEXTS.c.queued_at,
        WAITING_COMMANDS.c.queued_at,
        WAITING_MAILS.c.at,
    ):
        moments.append(core.execute(select(func.max(column))).scalar())
    return max((moment for moment in moments if moment is not None), default=None)


def open_texts(core: Connection, path: Path) -> list[OpenText]:
    """Texts whose end is not known, in the order in which they were queued. Raises StoreUnreadable."""
    found = []
    for row in core.execute(select(WAITING_TEXTS).order_by(WAITING_TEXTS.c.queued_at, _BY_ROW)):
        if row.priority not in set(Priority):
            raise unreadable(path, f"the waiting text {row.id} is damaged")
        order = SendText(
            id=row.id,
            carrier=row.carrier,
            person=row.person,
            number=row.number,
            body=row.body,
            priority=Priority(row.priority),
            valid_for=row.valid_for,
            spoken=bool(row.spoken),
        )
        found.append(OpenText(order=order, queued_at=row.queued_at))
    return found


def open_mails(core: Connection) -> list[SendMail]:
    """Mails whose end is not known, in the order in which they were queued."""
    rows = core.execute(select(WAITING_MAILS).order_by(WAITING_MAILS.c.at, _BY_ROW))
    return [SendMail(**row._asdict()) for row in rows]


def open_commands(core: Connection) -> list[str]:
    """Ids of commands whose end is not known, in the order in which they were queued."""
    wanted = select(WAITING_COMMANDS.c.id).order_by(WAITING_COMMANDS.c.queued_at, _BY_ROW)
    return list(core.execute(wanted).scalars())


def known_messages(core: Connection, since: Ms) -> frozenset[str]:
    """Carrier's ids of texts of ours that were accepted since then (ms UTC)."""
    wanted = select(SETTLED_ORDERS.c.message).where(
        SETTLED_ORDERS.c.settled_at >= since, SETTLED_ORDERS.c.message != ""
    )
    return frozenset(core.execute(wanted).scalars())


def people(core: Connection) -> list[tuple[str, str, str]]:
    """(random id, key, number) of all persons ever met, in the order of meeting."""
    return [(row.id, row.key, row.number) for row in core.execute(select(PEOPLE).order_by(PEOPLE.c.place))]


def seen_among(core: Connection, messages: Sequence[str]) -> frozenset[str]:
    """Which of these carrier's ids were taken in before."""
    found: set[str] = set()
    for start in range(0, len(messages), PAGE):
        wanted = select(SEEN_TEXTS.c.message).where(SEEN_TEXTS.c.message.in_(messages[start : start + PAGE]))
        found.update(core.execute(wanted).scalars())
    return frozenset(found)
