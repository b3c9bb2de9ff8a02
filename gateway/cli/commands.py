"""The commands, and what each ends with: 0 all well, 1 something is wrong, 2 wrong use."""

from pathlib import Path
from typing import BinaryIO

import click

FOLDER = click.Path(path_type=Path, file_okay=False)


def _is_there(_context: click.Context, _parameter: click.Parameter, folder: Path) -> Path:
    if not folder.is_dir():
        raise click.BadParameter(
            f"there is no folder {folder}. Name the one that holds gateway.toml, "
            f"or lay a new one down: heavingline new {folder}"
        )
    return folder


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="heavingline")
def heavingline() -> None:
    """Tells a boat's alarms by text, and switches by text what may be switched.

    It is no life-safety system. What is wired must be safe without it.
    """


@heavingline.command()
@click.option("--keep", type=FOLDER, help="Leave installation and store in this empty or new folder.")
def demo(keep: Path | None) -> None:
    """Plays a night and a morning of an invented boat, on this machine alone. Sends nothing to anybody."""
    from gateway.cli.playing import play

    raise SystemExit(play(keep))


@heavingline.command()
@click.argument("folder", type=FOLDER)
def new(folder: Path) -> None:
    """Lays down the starter installation in an empty or new FOLDER."""
    from gateway.cli.checking import lay_starter

    raise SystemExit(lay_starter(folder))


@heavingline.command()
@click.argument("folder", type=FOLDER, callback=_is_there)
def check(folder: Path) -> None:
    """Names every mistake in the installation in FOLDER. Starts nothing.

    Each with file, line, key, what is wrong and what to do; then what `run` would not carry out.
    """
    from gateway.cli.checking import check_folder

    raise SystemExit(check_folder(folder))


@heavingline.command()
@click.argument("folder", type=FOLDER, callback=_is_there)
def run(folder: Path) -> None:
    """Runs the gateway for FOLDER until SIGTERM or Ctrl-C."""
    from gateway.cli.serving import serve

    raise SystemExit(serve(folder))


@heavingline.command("read")
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.argument("text", required=False)
@click.option(
    "--as", "who", metavar="PERSON", help="Whose text it is: a person's key or a number; others are strangers."
)
@click.option("--file", type=click.File("rb"), help='Tries many: a line each, {"body": "status", "as": "tobias"}.')
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object. A file is always answered so.")
def read_command(folder: Path, text: str | None, who: str | None, file: BinaryIO | None, as_json: bool) -> None:
    """Shows how TEXT would be understood and answered. Sends nothing, writes nothing.

    The answer is that of the gateway itself, by the files and the record in FOLDER; without a record everything is
    unknown. A record that ended more than 10 minutes ago is taken as it stood then. Code words are hidden: nothing was
    sent, so they are good for nothing.

    Ends with 0 when TEXT was understood and 1 when not; for a file with 0 when every line could be tried.
    """
    from gateway.cli.reading import read_lines, read_text

    if (text is None) is (file is None):
        raise click.UsageError("Give a text in quotes, or --file with many.")
    if file is not None:
        raise SystemExit(read_lines(folder, file, who))
    if who is None or text is None:
        raise click.UsageError("Say whose text it is: --as KEY or --as NUMBER.")
    raise SystemExit(read_text(folder, who, text, as_json=as_json))


@heavingline.group()
def logbook() -> None:
    """Reads the record of the installation in FOLDER. Changes nothing."""


@logbook.command()
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.option("--boat", metavar="NAME", help="Only this boat's chain (its folder's name), or 'installation'.")
@click.option("--names", is_flag=True, help="With names and words of texts; numbers and code words stay masked.")
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object a line.")
def show(folder: Path, boat: str | None, names: bool, as_json: bool) -> None:
    """Prints the entries, oldest first, in UTC, and the end value of each chain."""
    from gateway.cli.reading_logbook import show_entries

    raise SystemExit(show_entries(folder, boat, names=names, as_json=as_json))


@logbook.command()
@click.argument("folder", type=FOLDER, callback=_is_there)
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
