"""`heavingline paper-list`: draws a person's list of one-time lines, prints it to hand over, and keeps only hashes."""

import os
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

import click

from gateway.cli.shell import ShellVariables
from gateway.doors import chance
from gateway.installation.documents import Document, read_document
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.paper_file import PAPER_FILE, PaperFile, written
from gateway.people.settings import Person
from gateway.requests.codes import draw_code
from gateway.requests.paper_lists import PaperList, line_hash
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import as_utc


def print_list(folder: Path, who: str, lines: int, now: Callable[[], int]) -> int:
    """Draw a list for a person (key), print it, and write its hashes into paper.toml; the exit code. The list before it
    is void as soon as the gateway runs with the new file."""
    try:
        bundle = load(folder, person_id=str, environ=ShellVariables(os.environ)).bundle
    except InstallationRefused as refused:
        click.echo(str(refused), err=True)
        return 1
    person = next((one for one in bundle.people.values() if one.key == who), None)
    if person is None:
        known = ", ".join(sorted(one.key for one in bundle.people.values()))
        click.echo(f"nobody has the key {who}; write one of {known}", err=True)
        return 2
    draws = Draws(chance.seed())
    words = [draw_code(draws, bundle.code_words) for _ in range(lines)]
    paper = paper_of(draws, words)
    made = as_utc(now())
    try:
        _write(folder, who, made, paper)
    except OSError as trouble:
        click.echo(
            f"{folder / PAPER_FILE}: {trouble.strerror or trouble}. Mend the right to write there; no list was made.",
            err=True,
        )
        return 1
    things = [piece.name for piece in bundle.equipment.values() if piece.paper_line]
    for line in sheet(person, words, made, things, paper.id):
        click.echo(line)
    click.echo(
        f"{PAPER_FILE} is written. The list is good, and the one before it void, once the gateway is started again.",
        err=True,
    )
    return 0


def paper_of(draws: Draws, words: Sequence[tuple[str, str]]) -> PaperList:
    """These lines as they are kept."""
    salt = draws.hex_for("paper salt")
    hashes = tuple(line_hash(salt, number, pair) for number, pair in enumerate(words, 1))
    return PaperList(id=draws.hex_for("paper list"), salt=salt, lines=hashes)


def sheet(
    person: Person, words: Sequence[tuple[str, str]], made: datetime, things: Sequence[str], paper: str
) -> Sequence[str]:
    """What is printed and handed over."""
    asked = ", ".join(things) or "nothing yet (no equipment has paper_line = true)"
    return [
        f"One-time lines of {person.name}                list {paper[:6]}, drawn {made:%Y-%m-%d %H:%M} UTC",
        "",
        f"Asked for when this is started or switched on by text: {asked}.",
        "The text that asks names the line. Reply GO, its two words, the number of the line, both words of the line:",
        "    GO TEAPOT MARBLE 1 " + " ".join(words[0]).upper(),
        "(TEAPOT MARBLE stand for the words of that text.) Each line works once, in this order; cross it out.",
        "",
        *(f"  {number:3}  {' '.join(pair).upper()}" for number, pair in enumerate(words, 1)),
        "",
        "Keep it apart from the phone, and take no picture of it with the phone. Is it lost, or the phone: say so at",
        "once (PHONE LOST and the first name, or ring the installer); every line that is left is void then.",
        "To stop a thing no line is ever asked for.",
    ]


def _write(folder: Path, who: str, made: datetime, paper: PaperList) -> None:
    """The file with this list in the place of the person's older one: whole or not at all, readable by its owner."""
    lists = {**_known(folder), who: (made, paper)}
    fresh = folder / f".{PAPER_FILE}.new"
    fresh.unlink(missing_ok=True)
    with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
        file.write(written(lists))
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(folder / PAPER_FILE)


def _known(folder: Path) -> Mapping[str, tuple[datetime, PaperList]]:
    """The lists that are there already; the installation was read before, so the file has no mistake."""
    found = read_document(folder, PAPER_FILE)
    if not isinstance(found, Document):
        return {}
    file = PaperFile.model_validate(found.values)
    return {
        key: (table.made.astimezone(UTC), PaperList(id=table.id, salt=table.salt, lines=tuple(table.lines)))
        for key, table in file.list.items()
    }
