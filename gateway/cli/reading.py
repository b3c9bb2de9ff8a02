"""`heavingline read`: how a text would be understood and answered. Sends nothing, writes nothing."""

import json
import os
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import BinaryIO

import click

from gateway.cli.shell import ShellVariables
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import SnapshotUnreadable
from gateway.desk.state import STATE_VERSION
from gateway.doors.clock import SystemClock
from gateway.doors.faces import DoorTrouble, Loaded, StoreUnreadable
from gateway.doors.store import open_reader
from gateway.installation.findings import Findings
from gateway.installation.folder import read_folder
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.people.numbers import NumberRefused, e164
from gateway.people.settings import Person
from gateway.rehearsal.sentence import sentence
from gateway.rehearsal.texting import Answered, answered, brought_up, unknowing
from gateway.rehearsal.understanding import Understanding, understanding
from gateway.vocabulary.moments import MINUTE, Ms, rfc3339
from grammar.meanings import NotUnderstood, Understood, Why

STILL_FRESH: Ms = 10 * MINUTE
"""A record that ends no longer ago than this is brought up to the present by the clock; an older one is taken as it
stood at its end, because nobody knows what happened since (the limit of blind time, design rule 3)."""

SETTLING: Ms = 3
"""ms left behind the end of the record for what must be done before the text (`rehearsal.texting.brought_up`)."""

CARRIERS = {
    Why.OPT_OUT: "Carriers take this as STOP: they cut {name} off from every text of the gateway, alarms too, until "
    "{name} texts START. Nothing is switched; the next person's turn comes.",
    Why.OPT_IN: "Carriers answer this themselves (START, HELP). The gateway notes it, and takes no alarm by it.",
}
"""What is not the gateway's to answer (the carrier's handling of opt-out and opt-in words)."""

NO_VERSION = ""
"""A version of the state that no snapshot has."""


class BadLine(Exception):
    """A line of the file is not what was asked for; the text says which, and what to write."""


def read_text(folder: Path, who: str, body: str, *, as_json: bool) -> int:
    """Try one text; 0 when it was understood, else 1."""
    try:
        trial = _Trial(folder)
    except (InstallationRefused, DoorTrouble) as trouble:
        click.echo(str(trouble), err=True)
        return 1
    who, body = _whole(who), _whole(body)
    found, answer = trial.of(who, body)
    click.echo(_as_json(found, answer) if as_json else "\n".join(trial.in_words(who, body, found, answer)))
    return 0 if found.understood else 1


def read_lines(folder: Path, file: BinaryIO, who: str | None) -> int:
    """Try every text of a file, each by itself; 0 when every line could be tried, 1 for trouble, 2 for a bad line.

    who: whose text a line is that names nobody, None: every line must.
    """
    try:
        texts = list(_texts(file, who))
        trial = _Trial(folder)
    except BadLine as bad:
        click.echo(str(bad), err=True)
        return 2
    except (InstallationRefused, DoorTrouble) as trouble:
        click.echo(str(trouble), err=True)
        return 1
    for sender, body in texts:
        click.echo(_as_json(*trial.of(sender, body)))
    return 0


class _Trial:
    """An installation and a desk on which texts can be tried, one after the other, each from the same beginning."""

    def __init__(self, folder: Path) -> None:
        """Read files and record. Raises InstallationRefused, StoreUnreadable, StoreTrouble."""
        self._home = _home_country(folder)
        clock = SystemClock().now()
        found = load(folder, person_id=str, environ=ShellVariables(os.environ), now=clock)
        self.bundle: Bundle = found.bundle
        recorded = _recorded(folder, found.store, clock) if found.store.is_file() else None
        if recorded is None:
            self.now, self.desk = clock, unknowing(self.bundle, clock)
            self.against = "there is no record yet, so everything is unknown"
        else:
            self.now, self.desk = recorded
            self.bundle = self.desk.bundle
            self.against = f"the record as it stands at {rfc3339(self.now)}"

    def of(self, who: str, body: str) -> tuple[Understanding, Answered]:
        """How this person's text would be understood, and what it would lead to."""
        person, number = self._sender(who)
        found = understanding(self.bundle.read_from(person, body), person, self.bundle)
        return found, answered(self.desk, number, body, self.now)

    def in_words(self, who: str, body: str, found: Understanding, answer: Answered) -> Iterator[str]:
        """The same for a person to read."""
        person, _ = self._sender(who)
        meaning = self.bundle.read_from(person, body)
        if person is None:
            yield f"{who} is nobody here: a stranger. What a stranger texts is kept, never acted on and never answered."
        elif found.understood and isinstance(meaning, Understood):
            yield f"Understood: {person.name} {sentence(meaning.request, found, self.bundle)}."
        elif isinstance(meaning, NotUnderstood) and meaning.why in CARRIERS:
            yield CARRIERS[meaning.why].format(name=person.name)
        else:
            yield f"Not understood: for {person.name} it says nothing that can be done. Nothing would be done."
        yield f"Reply: {answer.reply}" if answer.reply is not None else "Reply: none at once."
        if answer.commands:
            yield "A command would go out to the boat; what is then measured would be told."
        if names := [self.bundle.people[other].name for other in answer.others]:
            yield f"Also texted would be: {', '.join(names)}."
        yield f"Against: {self.against}. Nothing was sent, nothing was written."

    def _sender(self, who: str) -> tuple[Person | None, str]:
        """The person of a key or a number, and the number that the text comes from."""
        known = next((person for person in self.bundle.people.values() if person.key == who), None)
        if known is not None:
            return known, known.number
        try:
            number = e164(who, self._home, unusual=True)
        except NumberRefused:
            return None, who
        return self.bundle.person_by_number.get(number), number


def _recorded(folder: Path, store: Path, clock: Ms) -> tuple[Ms, Desk] | None:
    """The instant of trying and the desk as the record has it; None when nothing is recorded yet."""
    with open_reader(store) as reader:
        left = reader.load(STATE_VERSION)
        if left.last_now is None:
            return None
        known = {key: found for found, key, _ in left.people}
        bundle = load(
            folder,
            person_id=lambda key: known.get(key, key),
            environ=ShellVariables(os.environ),
        ).bundle
        try:
            try:
                desk = _rebuilt(bundle, left)
            except SnapshotUnreadable:  # a cache that does not fit: everything is folded, which only takes longer
                desk = _rebuilt(bundle, reader.load(NO_VERSION))
        except (ValueError, TypeError, KeyError) as unfit:
            raise StoreUnreadable(
                where=f"store {store}",
                problem=f"what stands in it cannot be taken up ({unfit})",
                remedy="Look at it with `heavingline logbook verify`",
            ) from None
    ended = max(desk.state.now, left.last_now)
    now = clock if SETTLING <= clock - ended <= STILL_FRESH else ended + SETTLING
    return now, brought_up(desk, now)


def _rebuilt(bundle: Bundle, left: Loaded) -> Desk:
    rows = ((row.happening, row.now, row.reading) for row in left.readings)
    return rebuilt(bundle, left.snapshot.data if left.snapshot else None, left.entries, rows)


def _home_country(folder: Path) -> str | None:
    people = read_folder(folder, Findings()).get("people.toml")
    home = people.values.get("home_country") if people is not None else None
    return home if isinstance(home, str) else None


def _texts(file: BinaryIO, who: str | None) -> Iterator[tuple[str, str]]:
    """Sender and body of every line."""
    name = getattr(file, "name", "the file")
    for number, line in enumerate(file, 1):
        if not line.strip():
            continue
        try:
            found = json.loads(line)
        except ValueError:
            found = None
        sender = found.get("as", who) if isinstance(found, dict) else None
        if not isinstance(found, dict) or not isinstance(found.get("body"), str) or not isinstance(sender, str):
            wanted = '{"body": "status", "as": "KEY OR NUMBER"}'
            raise BadLine(f"{name}, line {number}: not a text to try. Write one object on a line: {wanted}")
        yield _whole(sender), _whole(found["body"])


def _whole(text: str) -> str:
    """The text as the desk takes it: half a surrogate pair (a byte of the shell that is no UTF-8) is no text."""
    return text.encode(errors="replace").decode()


def _as_json(found: Understanding, answer: Answered) -> str:
    return json.dumps({**asdict(found), "reply": answer.reply})
