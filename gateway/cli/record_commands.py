"""The commands for the record: copied, laid in place, erased from, read, verified, written for others."""

from pathlib import Path
from typing import Any

import click

from gateway.cli.arguments import FOLDER, is_there


@click.command(short_help="Copies the record into one new file.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
def backup(folder: Path, file: Path) -> None:
    """Copies the record of FOLDER into one new FILE, also while the gateway runs, and verifies it.

    The file holds names, numbers and texts. It is never laid over another.
    """
    from gateway.cli.keeping import back_up_store

    raise SystemExit(back_up_store(folder, file))


@click.command()
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--replace", is_flag=True, help="A record that is there is kept aside under another name.")
def restore(folder: Path, file: Path, replace: bool) -> None:
    """Lays a backup FILE in place as the record of FOLDER. Not while the gateway runs.

    What came after the backup is not known then: the next start says so, and tells it as time without a gateway.
    """
    from gateway.cli.keeping import restore_store

    raise SystemExit(restore_store(folder, file, replace=replace))


@click.command(short_help="Erases a person from the record.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("person")
@click.option("--by", required=True, metavar="NAME", help="Who erases; kept in the record.")
@click.option("--reason", required=True, metavar="TEXT", help="Why; kept in the record.")
def erase(folder: Path, person: str, by: str, reason: str) -> None:
    """Erases what names PERSON (a key of people.toml) in the record of FOLDER. Not while the gateway runs.

    Names, numbers and texts are erased for good; that something was, and who erased it, stays. Every chain still
    verifies. Take the person out of people.toml first.
    """
    from gateway.cli.keeping import erase_person

    raise SystemExit(erase_person(folder, person, by, reason))


@click.group()
def logbook() -> None:
    """Reads the record of the installation in FOLDER. Changes nothing."""


@logbook.command(short_help="Prints the entries, oldest first.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.option("--boat", metavar="NAME", help="Only this boat's chain (its folder's name), or 'installation'.")
@click.option("--names", is_flag=True, help="With names and words of texts; numbers and code words stay masked.")
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object a line.")
def show(folder: Path, boat: str | None, names: bool, as_json: bool) -> None:
    """Prints the entries, oldest first, in UTC, and the end value of each chain."""
    from gateway.cli.reading_logbook import show_entries

    raise SystemExit(show_entries(folder, boat, names=names, as_json=as_json))


@logbook.command(short_help="Checks every chain; names the first bad entry.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.option(
    "--end",
    "ends",
    multiple=True,
    metavar="CHAIN=PLACE:HASH",
    help="An end value kept outside (mail, text, paper); shows a chain that was cut off or rewritten.",
)
@click.option("--json", "as_json", is_flag=True, help="For programs: the whole report as one JSON object.")
def verify(folder: Path, ends: tuple[str, ...], as_json: bool) -> None:
    """Checks every chain and names the first bad entry; says what could and could not be seen."""
    from gateway.cli.reading_logbook import verify_store

    raise SystemExit(verify_store(folder, ends, as_json=as_json))


@logbook.command("export", short_help="Writes the record for other programs.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.option(
    "--format", "form", type=click.Choice(["jsonl", "csv"]), required=True, help="JSON lines, or CSV (RFC 4180)."
)
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), help="Into this new file, for its owner only.")
@click.option("--readings", is_flag=True, help="The readings instead of the entries.")
@click.option("--boat", metavar="NAME", help="Only this boat's (its folder's name), or 'installation'.")
@click.option("--from", "since", metavar="INSTANT", help="From then on: 2026-03-09T03:00:00Z, or a date (UTC).")
@click.option("--to", "until", metavar="INSTANT", help="Up to then, and not then.")
@click.option("--unsealed", is_flag=True, help="With names, numbers and texts; needs --by and --reason.")
@click.option("--by", metavar="NAME", help="Who asks for the sealed contents.")
@click.option("--reason", metavar="TEXT", help="Why.")
def export_command(folder: Path, out: Path | None, **wanted: Any) -> None:
    """Writes the record for other programs: persons by random id, without numbers, texts and names.

    A line of JSON is an entry as it is hashed, with its hash; in CSV, body and sealed hashes are JSON in a cell. What a
    spreadsheet could take for a formula has an apostrophe in front.

    With --unsealed the sealed contents are written too, for whoever has a right to them. Code words never are. Who
    asked and why stands in the first line of what is written, and NOT in the record: it is opened for reading only.
    """
    from gateway.cli.exporting import Wanted, export

    raise SystemExit(export(folder, Wanted(**wanted), out))
