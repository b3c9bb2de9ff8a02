"""`heavingline backup`, `restore` and `erase`."""

from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

import click

from gateway.cli.reading_logbook import WrongUse, said_trouble, store_path, verified
from gateway.desk.facts import PersonErased
from gateway.doors import chance
from gateway.doors.clock import SystemClock
from gateway.doors.faces import Batch, StoreTrouble
from gateway.doors.store import SqliteStore, back_up, open_store, put_in_place
from gateway.history.erasing import Named
from gateway.installation.findings import Findings
from gateway.installation.folder import read_folder
from gateway.logbook.chains import Heads, accept, link
from gateway.logbook.report import sentences
from gateway.vocabulary.entries import INSTALLATION, SealedPart, Written
from gateway.vocabulary.facts import body_of


def back_up_store(folder: Path, file: Path) -> int:
    """Make a backup and verify it; the exit code."""
    with said_trouble() as ended:
        back_up(store_path(folder), file)
        report = verified(file)
        click.echo(f"Copied to {file}, one complete file. It holds names, numbers and texts: keep it private.")
        for sentence in sentences(report):
            click.echo(sentence)
        ended.code = 0 if report.ok else 1
    return ended.code


def restore_store(folder: Path, file: Path, *, replace: bool) -> int:
    """Verify a backup and lay it in place; the exit code."""
    with said_trouble() as ended:
        store = store_path(folder)
        if not file.is_file():
            raise WrongUse(f"{file}: there is no such file. Name one that `heavingline backup` has made.")
        report = verified(file)
        if not report.ok:
            for sentence in sentences(report):
                click.echo(sentence, err=True)
            click.echo(f"{file} does not verify: nothing was changed. Use an older backup.", err=True)
            ended.code = 1
            return ended.code
        aside = put_in_place(file, store, SystemClock().now(), replace=replace)
        if aside is not None:
            click.echo(f"The store that was here is kept as {aside}.")
        click.echo(
            f"{file} is in place as {store}. At its next start the gateway records that, tells the time since as time "
            "in which it did not run, looks up what was waiting to be sent, and acts on no text sent before now."
        )
    return ended.code


def erase_person(folder: Path, person: str, by: str, reason: str) -> int:
    """Erase every sealed part that names a person; the exit code. Only while no service runs."""
    with said_trouble() as ended:
        if not store_path(folder).exists():
            raise StoreTrouble(
                where=str(store_path(folder)), problem="there is no store", remedy="Name the right installation folder"
            )
        with closing(open_store(store_path(folder))) as store:
            found = _id_of(store, person)
            if found is None:
                known = ", ".join(sorted(key for _, key, _ in store.load("").people))
                click.echo(f"{person}: the record knows no such person. It knows: {known or 'nobody'}.", err=True)
                ended.code = 2
            elif _in_files(folder, person):
                click.echo(
                    f"{person} still stands in people.toml: the next start would put name and number into the record "
                    "again. Take the person out of the files first (`check` names what else speaks of them).",
                    err=True,
                )
                ended.code = 1
            else:
                count = _erase(store, found, by, reason)
                click.echo(
                    f"Erased: {count} sealed parts that named {person}. The entries stand, and every chain still "
                    "verifies. Backups made before still hold them."
                )
    return ended.code


def _id_of(store: SqliteStore, person: str) -> str | None:
    """The random id, by key or by the id itself (or its first 8 digits, as `logbook show` prints it)."""
    people = store.load("").people
    for found, key, _ in people:
        if person == key:
            return found
    matching = [found for found, _, _ in people if len(person) >= 8 and found.startswith(person)]
    return matching[0] if len(matching) == 1 else None


def _in_files(folder: Path, person: str) -> bool:
    document = read_folder(folder, Findings()).get("people.toml")
    people = document.values.get("person", {}) if document is not None else {}
    return isinstance(people, dict) and person in people


def _erase(store: SqliteStore, person: str, by: str, reason: str) -> int:
    loaded = store.load("")  # no snapshot is of this version: all entries
    named = Named(person)
    named.learn(loaded.entries)
    parts = list(named.parts(loaded.entries))
    entry = _entry(store, loaded.entries, PersonErased(person=person, count=len(parts)), by, reason)
    store.commit(Batch(written=[entry], erased=parts, forgotten=[person]))
    return len(parts)


def _entry(store: SqliteStore, entries: Iterable[Written], fact: PersonErased, by: str, reason: str) -> Written:
    heads = Heads()
    now = 0
    for written in entries:
        accept(heads, written)
        now = written.entry.now
    part = SealedPart(salt=chance.salt(), content={"by": by, "reason": reason})
    return link(
        heads,
        chain=INSTALLATION,
        now=max(SystemClock().now(), now + 1),
        happening=store.last_happening() + 1,
        kind=fact.kind,
        version=fact.version,
        body=body_of(fact),
        parts=[part],
    )
