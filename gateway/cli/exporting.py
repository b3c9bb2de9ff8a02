"""`heavingline logbook export`: entries or readings for other programs, sealed contents only for a name and a reason.

A line of JSON holds the fields of an entry as they are hashed, and `digest`: SHA-256 over the canonical bytes
(RFC 8785) of the object without `digest` and `parts`. So whoever gets the file can go along each chain alone.
"""

import json
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

import click

from gateway.cli.masking import printable
from gateway.cli.reading_logbook import WrongUse, said_trouble, store_path
from gateway.cli.spreadsheet import row
from gateway.cli.unsealing import Unsealing
from gateway.doors.clock import SystemClock
from gateway.doors.faces import ReadingRow
from gateway.doors.store import StoreReader, open_reader
from gateway.vocabulary.moments import Ms, from_rfc3339, rfc3339
from gateway.vocabulary.plain import Plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is asked for. form: ``jsonl`` or ``csv``. boat: a chain's name, None for all. since, until: RFC 3339 or a
    date (UTC), the end not included. by, reason: who asks for sealed contents, and why."""

    form: str
    readings: bool = False
    boat: str | None = None
    since: str | None = None
    until: str | None = None
    unsealed: bool = False
    by: str | None = None
    reason: str | None = None


def export(folder: Path, wanted: Wanted, out: Path | None) -> int:
    """Write what is wanted to a new file, or to the output; the exit code."""
    with said_trouble() as ended:
        asked = _asked(wanted)
        begin, end = _instant("--from", wanted.since), _instant("--to", wanted.until)

        def within(now: Ms) -> bool:
            return (begin is None or now >= begin) and (end is None or now < end)

        with open_reader(store_path(folder)) as reader:
            if wanted.boat is not None:
                _must_be_there(reader, wanted.boat)
            records = _readings(reader, wanted, within) if wanted.readings else _entries(reader, wanted, within)
            with _into(out) as write:
                count = _write(write, records, wanted, asked)
        if out is not None:
            what = "readings" if wanted.readings else "entries"
            click.echo(f"{out}: {count} {what}.")
    return ended.code


# ---------------------------------------------------------------- what is written


def _write(
    write: Callable[[str], None], records: Iterable[Mapping[str, Plain]], wanted: Wanted, asked: str | None
) -> int:
    """Write a first line that says who asked, where that must be said, and all records; how many there were."""
    if wanted.form == "jsonl":
        heading = [json.dumps({"unsealed": asked}) + "\n"] if asked is not None else []
    else:
        columns = _READING_COLUMNS if wanted.readings else _ENTRY_COLUMNS + ("parts",) * wanted.unsealed
        heading = [row([asked])] if asked is not None else []
        heading.append(row(columns))
    for line in heading:
        write(line)
    count = 0
    for record in records:
        write(row(_cells(record)) if wanted.form == "csv" else f"{json.dumps(record)}\n")
        count += 1
    return count


_ENTRY_COLUMNS = (
    "n",
    "chain",
    "place",
    "now",
    "time",
    "happening",
    "kind",
    "version",
    "body",
    "sealed",
    "previous",
    "digest",
)
_READING_COLUMNS = (
    "happening",
    "now",
    "time",
    "signal",
    "grade",
    "text",
    "own_time",
    "late",
    "retained",
    "ahead",
    "timeless",
)


def _cells(record: Mapping[str, Plain]) -> Iterator[str]:
    """A record's cells: what is text as it is, the rest as JSON, nothing for null; instants (ms UTC) once more as
    RFC 3339."""
    for name, value in record.items():
        yield value if isinstance(value, str) else "" if value is None else json.dumps(value, sort_keys=True)
        if name == "now" and isinstance(value, int):
            yield rfc3339(value)


def _entries(reader: StoreReader, wanted: Wanted, within: Callable[[Ms], bool]) -> Iterator[Mapping[str, Plain]]:
    codes = Unsealing()
    if wanted.unsealed:
        codes.learn(reader.written())
    for written in reader.written(chain=wanted.boat):
        entry = written.entry
        if not within(entry.now):
            continue
        record: dict[str, Plain] = {
            "n": entry.n,
            "chain": entry.chain,
            "place": entry.place,
            "now": entry.now,
            "happening": entry.happening,
            "kind": entry.kind,
            "version": entry.version,
            "body": entry.body,
            "sealed": entry.sealed,
            "previous": entry.previous,
            "digest": written.digest,
        }
        if wanted.unsealed:
            record["parts"] = [codes.part(entry.kind, part) for part in written.parts]
        yield record


def _readings(reader: StoreReader, wanted: Wanted, within: Callable[[Ms], bool]) -> Iterator[Mapping[str, Plain]]:
    rows: Iterable[ReadingRow] = reader.readings()
    for found in rows:
        reading = found.reading
        if within(found.now) and wanted.boat in (None, reading.signal.partition("/")[0]):
            yield {
                "happening": found.happening,
                "now": found.now,
                "signal": reading.signal,
                "grade": reading.grade.name.lower(),
                "text": reading.text,
                "own_time": reading.own_time,
                "late": reading.late,
                "retained": reading.retained,
                "ahead": reading.ahead,
                "timeless": reading.timeless,
            }


# ---------------------------------------------------------------- what may be asked


def _asked(wanted: Wanted) -> str | None:
    """Who asked for sealed contents, why and when, in a sentence; None when nobody did. Raises WrongUse."""
    by, reason = printable(wanted.by or "").strip(), printable(wanted.reason or "").strip()
    if not wanted.unsealed:
        if wanted.by is not None or wanted.reason is not None:
            raise WrongUse("--by and --reason belong to --unsealed. Without it nothing sealed is written.")
        return None
    if wanted.readings:
        raise WrongUse("--unsealed: readings have no sealed contents. Leave it out.")
    if not by or not reason:
        raise WrongUse("--unsealed: say who asks and why: --by NAME --reason TEXT. Both stand in the first line.")
    return f"Sealed contents asked for by {by} at {rfc3339(SystemClock().now())}. Reason: {reason}"


def _instant(option: str, text: str | None) -> Ms | None:
    if text is None:
        return None
    try:
        return from_rfc3339(f"{text}T00:00:00Z" if len(text) == len("2026-03-09") else text)
    except ValueError:
        raise WrongUse(
            f"{option} {text}: no instant. Write 2026-03-09T03:00:00Z, or a date for its 00:00 UTC."
        ) from None


def _must_be_there(reader: StoreReader, boat: str) -> None:
    chains = sorted(str(head.chain) for head in reader.heads())
    if boat not in chains:
        raise WrongUse(f"--boat {boat}: the record holds no such chain. It holds: {', '.join(chains) or 'none yet'}.")


@contextmanager
def _into(out: Path | None) -> Iterator[Callable[[str], None]]:
    """Where the lines go: the output, or a new file for its owner only, of which nothing is left when it is not whole.

    Raises WrongUse for a file that is there already or cannot be made.
    """
    if out is None:
        yield _writing(sys.stdout.buffer)
        sys.stdout.buffer.flush()
        return
    try:
        handle = os.open(out, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        raise WrongUse(f"{out}: there is such a file already. Name a new one.") from None
    except OSError as trouble:
        raise WrongUse(f"{out}: {trouble.strerror or trouble}. Name a file that you may write.") from None
    try:
        with os.fdopen(handle, "wb") as file:
            yield _writing(file)
    except BaseException:
        out.unlink(missing_ok=True)
        raise


def _writing(stream: BinaryIO) -> Callable[[str], None]:
    """UTF-8, whatever the shell's own encoding."""

    def write(line: str) -> None:
        stream.write(line.encode())

    return write
