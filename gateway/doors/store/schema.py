"""The tables of the store, as SQLAlchemy Core sees them. The migrations make them; a test compares the two.

Instants are ms since the Unix epoch, UTC. What is plain text here (numbers, bodies, live code words) stands only in
`waiting_texts` and `waiting_mails`, and leaves them when the text has come to its end.
"""

from sqlalchemy import Column, ForeignKey, Integer, LargeBinary, MetaData, Table, Text

METADATA = MetaData()


def _number(name: str, *, key: bool = False) -> Column[int]:
    return Column(name, Integer, primary_key=key, nullable=False)


def _text(name: str, *, key: bool = False) -> Column[str]:
    return Column(name, Text, primary_key=key, nullable=False)


MIGRATIONS = Table("migrations", METADATA, _number("number", key=True), _text("name"))
"""Which numbered changes of the schema this file has been through."""

ENTRIES = Table(
    "entries",
    METADATA,
    _number("n", key=True),
    _text("chain"),
    _number("place"),
    _number("now"),
    _number("happening"),
    _text("kind"),
    Column("data", LargeBinary, nullable=False),
    _text("digest"),
)
"""The logbook. data: canonical bytes of the whole entry; the other columns repeat what is searched for."""

SEALED_PARTS = Table(
    "sealed_parts",
    METADATA,
    Column("n", Integer, ForeignKey("entries.n"), primary_key=True, nullable=False),
    _number("place", key=True),
    Column("data", LargeBinary, nullable=True),
)
"""Sealed parts of entry n, place 0, 1 ... in the order of the entry's hashes. data NULL: erased."""

CHAIN_HEADS = Table("chain_heads", METADATA, _text("chain", key=True), _number("place"), _text("digest"))

READING_BLOCKS = Table(
    "reading_blocks",
    METADATA,
    _number("id", key=True),
    _number("batch"),
    _text("boat"),
    _number("first_happening"),
    _number("last_happening"),
    _number("first_now"),
    _number("last_now"),
    _number("count"),
    Column("places", LargeBinary, nullable=True),
    Column("lines", LargeBinary, nullable=False),
    _number("checksum"),
    Column("form", Integer, nullable=False, server_default="0"),
)
"""Readings, a block per commit, hour and boat. batch: id of the first block of the same commit.

form: 0 as the commit left it; 1 packed by the hour (`gateway.history.packing`), when a whole group of commits counts
as one. checksum is over places and lines as they were before packing."""

WAITING_TEXTS = Table(
    "waiting_texts",
    METADATA,
    _text("id", key=True),
    _text("carrier"),
    _text("person"),
    _text("number"),
    _text("body"),
    _text("priority"),
    _number("valid_for"),
    _number("queued_at"),
    Column("spoken", Integer, nullable=False, server_default="0"),
)
"""Texts, and calls (spoken 1), that are on disk and have not come to an end."""

WAITING_MAILS = Table(
    "waiting_mails",
    METADATA,
    _text("id", key=True),
    _text("person"),
    _text("address"),
    _text("subject"),
    _text("body"),
    _number("at"),
)
"""Mails that are on disk and have not come to an end."""

WAITING_COMMANDS = Table(
    "waiting_commands",
    METADATA,
    _text("id", key=True),
    _text("broker"),
    _text("topic"),
    _text("payload"),
    _number("expires_after"),
    _number("queued_at"),
)
"""Commands whose end is not known. After a start they are never sent again."""

SETTLED_ORDERS = Table(
    "settled_orders",
    METADATA,
    _text("id", key=True),
    _text("outcome"),
    _text("message"),
    _number("settled_at"),
)
"""Orders that came to their end, and the carrier's id. The logbook keeps them for ever; this is for looking up."""

SEEN_TEXTS = Table("seen_texts", METADATA, _text("message", key=True), _number("taken_at"))
"""Carrier's ids of inbound texts that were taken in."""

PEOPLE = Table("people", METADATA, _number("place", key=True), _text("id"), _text("key"), _text("number"))
"""Random ids given to persons at first load, their keys in the installation's files, and the numbers that they had when
these were last in use ("" when a release that kept none wrote the row), so that a change of number is noticed."""

MARKS = Table("marks", METADATA, _text("name", key=True), _text("value"))
"""What the store notes about itself, as JSON (`gateway.doors.store.marks`)."""

SNAPSHOTS = Table(
    "snapshots",
    METADATA,
    _number("id", key=True),
    _number("n"),
    _number("happening"),
    _text("state_version"),
    _text("entry_digest"),
    _text("digest"),
    Column("data", LargeBinary, nullable=False),
)
"""The desk's whole state after entry n. entry_digest: hash of that entry; digest: hash of data. A cache."""
