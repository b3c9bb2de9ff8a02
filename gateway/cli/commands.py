"""The commands, and what each ends with: 0 all well, 1 something is wrong, 2 wrong use."""

from pathlib import Path

import click

FOLDER = click.Path(path_type=Path, file_okay=False)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="heavingline")
def heavingline() -> None:
    """Tells a boat's alarms by text, and switches by text what may be switched.

    It is no life-safety system. What is wired must be safe without it.
    """


@heavingline.command()
@click.option("--keep", type=FOLDER, help="Leave installation and store in this empty or new folder.")
def demo(keep: Path | None) -> None:
    """Sends nothing to anybody. Plays a night and a morning of an invented boat, on this machine alone."""
    from gateway.cli.playing import play

    raise SystemExit(play(keep))


@heavingline.command()
@click.argument("folder", type=FOLDER)
def new(folder: Path) -> None:
    """Lays down the starter installation in an empty or new FOLDER."""
    from gateway.cli.checking import lay_starter

    raise SystemExit(lay_starter(folder))


@heavingline.command()
@click.argument("folder", type=FOLDER)
def check(folder: Path) -> None:
    """Starts nothing. Names every mistake in the installation in FOLDER, with file, line, key and cure."""
    from gateway.cli.checking import check_folder

    raise SystemExit(check_folder(folder))


@heavingline.command()
@click.argument("folder", type=FOLDER)
def run(folder: Path) -> None:
    """Runs the gateway for the installation in FOLDER until it is told to stop (SIGTERM, SIGINT)."""
    from gateway.cli.serving import serve

    raise SystemExit(serve(folder))


@heavingline.group()
def logbook() -> None:
    """Changes nothing. Reads the record of the installation in FOLDER."""


@logbook.command()
@click.argument("folder", type=FOLDER)
@click.option("--boat", help="Only this boat's chain (its folder's name), or 'installation'.")
@click.option("--names", is_flag=True, help="Show names and words of texts from the sealed parts; numbers stay masked.")
def show(folder: Path, boat: str | None, names: bool) -> None:
    """Prints the entries, oldest first, and the end value of each chain."""
    from gateway.cli.reading_logbook import show_entries

    raise SystemExit(show_entries(folder, boat, names))


@logbook.command()
@click.argument("folder", type=FOLDER)
@click.option(
    "--end",
    "ends",
    multiple=True,
    metavar="CHAIN=PLACE:HASH",
    help="An end value kept outside (mail, text, paper); shows a chain that was cut off or rewritten.",
)
def verify(folder: Path, ends: tuple[str, ...]) -> None:
    """Checks every chain and names the first bad entry; says what could and could not be seen."""
    from gateway.cli.reading_logbook import verify_store

    raise SystemExit(verify_store(folder, ends))
