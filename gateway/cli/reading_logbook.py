"""`heavingline logbook show` and `verify`. Both work while the service runs."""

import os
from collections.abc import Mapping
from pathlib import Path

import click

from gateway.doors.faces import StoreUnreadable
from gateway.doors.store import StoreReader, open_reader
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.logbook.report import sentences
from gateway.logbook.verify import verify
from gateway.people.numbers import masked
from gateway.service.starting import CARRIED_OUT
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import rfc3339
from gateway.vocabulary.plain import Plain


def show_entries(folder: Path, chain: str | None, names: bool) -> int:
    """Print the entries; the exit code."""
    reader = _open(folder)
    if reader is None:
        return 1
    with reader:
        ends: dict[str, str] = {}
        for written in reader.written(chain=chain):
            click.echo(_line(written, names))
            ends[written.entry.chain] = f"{written.entry.place}:{written.digest}"
        for name, end in sorted(ends.items()):
            click.echo(f"End of chain {name}: {name}={end}")
    return 0


def verify_store(folder: Path, ends: tuple[str, ...]) -> int:
    """Verify the store; the exit code."""
    published: dict[str, str] = {}
    for end in ends:
        chain, parted, value = end.partition("=")
        if not (chain and parted and value):
            click.echo(f"--end {end}: write it as CHAIN=PLACE:HASH, as `logbook show` prints it.", err=True)
            return 2
        published[chain] = value
    reader = _open(folder)
    if reader is None:
        return 1
    with reader:
        report = verify(reader, published)
    for sentence in sentences(report):
        click.echo(sentence)
    return 0 if report.ok else 1


def _open(folder: Path) -> StoreReader | None:
    try:
        plan = load(folder, person_id=lambda key: key, carried_out=CARRIED_OUT, environ=_any_secret())
        return open_reader(plan.store)
    except InstallationRefused as refused:
        click.echo(str(refused), err=True)
    except StoreUnreadable as unreadable:
        click.echo(str(unreadable), err=True)
    return None


def _any_secret() -> Mapping[str, str]:
    return os.environ


def _line(written: Written, names: bool) -> str:
    entry = written.entry
    told = ", ".join(f"{key} {_said(value)}" for key, value in entry.body.items() if value not in (None, "", []))
    line = f"{entry.n:>6}  {rfc3339(entry.now)}  {entry.chain:<14} {entry.kind:<20} {told}"
    if names:
        for part in written.parts:
            line += f"\n        {_sealed(part.content) if part is not None else '(erased)'}"
    return line


def _said(value: Plain) -> str:
    if isinstance(value, list | tuple):
        return "[" + " ".join(_said(item) for item in value) + "]"
    return str(value)


def _sealed(content: Plain) -> str:
    if not isinstance(content, Mapping):
        return _said(content)
    shown = []
    for key, value in content.items():
        if key == "words":
            continue  # code words are shown to nobody
        shown.append(f"{key}: {masked(str(value)) if key == 'number' else _said(value)}")
    return ", ".join(shown)
