"""`heavingline logbook show` and `verify`. Both work while the service runs, and need no secret.

They ask the installation's files for nothing but where the store lies, so that a record can be read however wrong the
files have become meanwhile.
"""

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from pathlib import Path

import click

from gateway.cli.entry_words import in_words, moment
from gateway.cli.masking import Masks
from gateway.doors.faces import DoorTrouble
from gateway.doors.store import StoreReader, open_reader
from gateway.history.retention import bytes_a_reading
from gateway.installation.findings import Findings
from gateway.installation.folder import read_folder
from gateway.installation.gateway_file import GatewayFile
from gateway.installation.mistakes import in_order
from gateway.logbook.report import Report, sentences
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import rfc3339
from gateway.vocabulary.plain import Plain

_END = re.compile(r"(\d+:)?[0-9a-f]{64}")


class WrongUse(Exception):
    """What was asked cannot be asked; the text says what to do."""


def show_entries(folder: Path, chain: str | None, *, names: bool, as_json: bool) -> int:
    """Print the entries; the exit code."""
    with said_trouble() as ended, _reader(folder) as reader:
        _known(reader, chain)
        known = _Known()
        if names:
            known.learn(reader)
        ends: dict[str, str] = {}
        if not as_json:
            click.echo("Times are UTC.")
        for written in reader.written(chain=chain):
            click.echo(_object(written, known, names) if as_json else _line(written, known, names))
            ends[written.entry.chain] = f"{written.entry.place}:{written.digest}"
        for name, end in sorted(ends.items()):
            click.echo(json.dumps({"chain": name, "end": end}) if as_json else f"End value of {name}: {name}={end}")
    return ended.code


def verify_store(folder: Path, ends: tuple[str, ...], *, as_json: bool) -> int:
    """Verify the store; the exit code."""
    with said_trouble() as ended:
        published = _published(ends)
        with _reader(folder) as reader:
            report = verify(reader, published)
            held = [] if as_json or not report.ok else _held(reader)
        if as_json:
            click.echo(json.dumps(asdict(report)))
        else:
            for sentence in sentences(report):
                click.echo(sentence)
            for sentence in held:
                click.echo(sentence)
        ended.code = 0 if report.ok else 1
    return ended.code


def _held(reader: StoreReader) -> list[str]:
    """What readings take: bytes of each, packed and not packed yet."""
    held = reader.survey()
    said = []
    for packed, name in ((True, "in packed hours"), (False, "not packed yet")):
        size = bytes_a_reading(held, packed=packed)
        if size is not None:
            readings = sum(hour.readings for hour in held if (hour.loose == 0) is packed)
            said.append(f"Readings {name}: {readings}, {size:.1f} bytes each.")
    return said


@dataclass(slots=True)
class _Ended:
    code: int = 0


@contextmanager
def said_trouble() -> Iterator[_Ended]:
    """Trouble ends a command with its own words and 1, wrong use with 2."""
    ended = _Ended()
    try:
        yield ended
    except DoorTrouble as trouble:
        click.echo(str(trouble), err=True)
        ended.code = 1
    except WrongUse as wrong:
        click.echo(str(wrong), err=True)
        ended.code = 2


def verified(file: Path) -> Report:
    """What verification finds in a store's file. Raises DoorTrouble."""
    with open_reader(file) as reader:
        return verify(reader)


def _reader(folder: Path) -> StoreReader:
    return open_reader(store_path(folder))


def store_path(folder: Path) -> Path:
    """Where the store of an installation lies, however wrong its other files are. Raises WrongUse."""
    findings = Findings()
    document = read_folder(folder, findings).get("gateway.toml")
    if document is None:
        at_fault = [str(m) for m in in_order(findings.mistakes) if m.file == "gateway.toml"]
        raise WrongUse("\n".join(at_fault or [f"{folder}: there is no gateway.toml in it"]))
    store = document.values.get("store", GatewayFile.model_fields["store"].default)
    return folder / str(store)


def _known(reader: StoreReader, chain: str | None) -> None:
    chains = sorted(str(head.chain) for head in reader.heads())
    if chain is not None and chain not in chains:
        raise WrongUse(f"--boat {chain}: the record holds no such chain. It holds: {', '.join(chains) or 'none yet'}.")


def _published(ends: tuple[str, ...]) -> dict[str, str]:
    published: dict[str, str] = {}
    for end in ends:
        chain, _, value = end.partition("=")
        if not chain or not _END.fullmatch(value.strip().lower()):
            raise WrongUse(
                f"--end {end}: write CHAIN=PLACE:HASH with all 64 digits of the hash, as `logbook show` prints it."
            )
        if chain in published:
            raise WrongUse(f"--end {end}: an end value of {chain} is given already. Give one for each chain.")
        published[chain] = value
    return published


@dataclass(slots=True)
class _Known:
    """What must be known of the whole record before one entry may be shown: persons' keys, and codes."""

    keys: dict[str, str] = field(default_factory=dict)
    masks: Masks = field(default_factory=Masks)

    def learn(self, reader: StoreReader) -> None:
        for written in reader.written():
            contents = [part.content for part in written.parts if part is not None]
            self.masks.learn(contents)
            if written.entry.kind == "installation-used":
                for content in contents:
                    if isinstance(content, dict):
                        self.keys[str(content.get("id"))] = str(content.get("key"))

    def person(self, found: str) -> str:
        return self.keys.get(found) or f"person {found[:8]}"


def _line(written: Written, known: _Known, names: bool) -> str:
    entry = written.entry
    line = f"{entry.n:>6}  {moment(entry.now):<23}  {entry.chain:<14}  {in_words(entry, known.person)}"
    if names:
        for part in written.parts:
            line += f"\n{'':>8}{_in_one_line(known.masks.part(part.content)) if part is not None else '(erased)'}"
    return line


def _in_one_line(content: Plain) -> str:
    if isinstance(content, dict):
        return ", ".join(f"{key}: {_in_one_line(value)}" for key, value in content.items())
    return str(content)


def _object(written: Written, known: _Known, names: bool) -> str:
    entry = written.entry
    shown: dict[str, Plain] = {
        "n": entry.n,
        "chain": entry.chain,
        "place": entry.place,
        "now": rfc3339(entry.now),
        "happening": entry.happening,
        "kind": entry.kind,
        "version": entry.version,
        "body": entry.body,
        "sealed": entry.sealed,
        "previous": entry.previous,
        "digest": written.digest,
    }
    if names:
        shown["parts"] = [known.masks.part(part.content) if part is not None else None for part in written.parts]
    return json.dumps(shown)
