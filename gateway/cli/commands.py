"""The commands, and what each ends with: 0 all well, 1 something is wrong, 2 wrong use."""

from pathlib import Path
from typing import Any

import click

from gateway.cli.arguments import FOLDER, is_there
from gateway.cli.record_commands import backup, erase, logbook, restore
from gateway.cli.trying_commands import read_command, reckon, replay


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="heavingline")
def heavingline() -> None:
    """Tells a boat's alarms by text, and switches by text what may be switched.

    It is no life-safety system. What is wired must be safe without it.
    """


@heavingline.command(short_help="Plays a night of an invented boat, here alone.")
@click.option("--keep", type=FOLDER, help="Leave installation and store in this empty or new folder.")
@click.option("--live", is_flag=True, help="At the pace of the clock, moved by what you type.")
def demo(keep: Path | None, live: bool) -> None:
    """Plays a night and a morning of an invented boat, on this machine alone. Sends nothing to anybody.

    With --live nothing is played: type a text as any of the boat's people, or move any switch aboard, and see what is
    texted. `help` shows what can be typed, `quit` ends it.
    """
    if live:
        from gateway.cli.living import play_live

        raise SystemExit(play_live(keep))
    from gateway.cli.playing import play

    raise SystemExit(play(keep))


@heavingline.command()
@click.argument("folder", type=FOLDER)
@click.option("--volts", type=click.Choice(["12", "24"]), default="12", show_default=True, help="Of the batteries.")
@click.option(
    "--battery",
    type=click.Choice(["agm", "flooded", "gel", "lifepo4"]),
    default="agm",
    show_default=True,
    help="Kind of the house bank.",
)
def new(folder: Path, volts: str, battery: str) -> None:
    """Lays down the starter installation in an empty or new FOLDER.

    Its first boat has every alarm point and everything that may be switched from afar, for these batteries.
    """
    from gateway.cli.laying import lay_starter

    raise SystemExit(lay_starter(folder, volts, battery))


@heavingline.command("add-boat", short_help="Adds a boat built on a standard of the firm.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("name")
@click.option("--built-on", required=True, metavar="STANDARD", help="A file of standard/, without .toml.")
@click.option("--berth", help="As it is said in a text (C14); left out on a mooring.")
@click.option("--zone", help="Boat time, such as Europe/London; that of the other boats when they all have one.")
@click.option("--short-name", help="As the boat is texted; the last word of its name when not said.")
@click.option("--broker", metavar="LINK", help="A broker of gateway.toml, where there are several.")
@click.option("--carrier", metavar="LINK", help="A carrier of gateway.toml, where there are several.")
def add_boat(folder: Path, name: str, built_on: str, **more: str | None) -> None:
    """Adds the boat NAME to the installation in FOLDER, built on a standard of the firm.

    Makes boats/NAME with files for the differences, and says what is still asked for. Changes no other file.
    """
    from gateway.cli.laying import add_one_boat
    from gateway.installation.adding import NewBoat

    raise SystemExit(add_one_boat(folder, NewBoat(name=name, built_on=built_on, **more)))


@heavingline.command()
@click.argument("folder", type=FOLDER, callback=is_there)
@click.option(
    "--against", type=FOLDER, callback=is_there, metavar="OTHER", help="Also say what changes from OTHER to FOLDER."
)
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object; lengths in ms.")
@click.option(
    "--at",
    metavar="HOUR",
    default="",
    help='Who is told at one hour, boat time: --at "Sunday 02:30" (the next one), or "2026-12-24 02:30".',
)
@click.option(
    "--kept",
    type=click.Choice(["away", "aboard", "laid up", "in the yard"]),
    default="away",
    show_default=True,
    help="How the boats are kept then.",
)
def check(folder: Path, against: Path | None, as_json: bool, at: str, kept: str) -> None:
    """Names every mistake in the installation in FOLDER. Starts nothing.

    Each with file, line, key, what is wrong and what to do. When there is none: who is told of what, who may switch
    what behind which interlocks, what is not watched, what deserves a second look, what `run` would not carry out.
    """
    from gateway.cli.checking import check_folder

    raise SystemExit(check_folder(folder, against, as_json=as_json, at=at, kept=kept))


@heavingline.command()
@click.argument("folder", type=FOLDER, callback=is_there)
def run(folder: Path) -> None:
    """Runs the gateway for FOLDER until SIGTERM or Ctrl-C."""
    from gateway.cli.serving import serve

    raise SystemExit(serve(folder))


@heavingline.command("listen", short_help="Shows what is said on the brokers; makes signal tables.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.option("--for", "length", default="60s", show_default=True, metavar="TIME", help="How long: 60s, 10min, 2h.")
@click.option(
    "--topics",
    "filters",
    multiple=True,
    default=("#",),
    metavar="FILTER",
    help="What to hear; all of it when not said.",
)
@click.option(
    "--signal",
    "picked",
    multiple=True,
    metavar="TOPIC",
    help="Print a signal table for it; TOPIC#/pointer for one value of it.",
)
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object; pauses in ms.")
def listen_command(folder: Path, **asked: Any) -> None:
    """Listens on the brokers of FOLDER for a while: every topic with what it carries, how often, and what uses it.

    Disturbs nothing: it has a client id of its own, keeps no session and publishes nothing, so the gateway may run
    meanwhile. Asked at a terminal, or by --signal, it prints signal tables to put into a boat's signals.toml.
    """
    from gateway.cli.listening import Asked, listen

    raise SystemExit(listen(folder, Asked(**asked)))


@heavingline.command(short_help="Tries a relay node on the bench, with its load isolated.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("equipment", metavar="BOAT/EQUIPMENT")
@click.option("--by", required=True, metavar="NAME", help="Who stands at the bench; for the proof record.")
@click.option("--load-isolated", is_flag=True, help="You have isolated the load, and the relay may close.")
@click.option("--report", type=click.Path(path_type=Path, dir_okay=False), help="Writes the sheet into this new file.")
@click.option("--json", "as_json", is_flag=True, help="For programs: the sheet as one JSON object at the end.")
def conform(folder: Path, equipment: str, by: str, load_isolated: bool, report: Path | None, as_json: bool) -> None:
    """Tries whether the relay node of BOAT/EQUIPMENT does what the gateway relies on. THE RELAY CLOSES.

    Isolate the load first (starter, heater, mains side), lock it off, and let the node's feedback input follow its
    relay. The trial sends commands that a node must leave, then real ones; it asks you to pull the network lead, to
    take the power away, and to look at the relay. It takes about 20 minutes. What is wired in series with the relay,
    and the sounder, are proved by themselves.

    Ends with 0 when every step was tried and none was broken, with 1 when not.
    """
    from gateway.cli.conforming import Asked, try_node

    raise SystemExit(
        try_node(folder, Asked(equipment=equipment, by=by, load_isolated=load_isolated, report=report, as_json=as_json))
    )


@heavingline.command(short_help="Writes what each person may text, as a page to print.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("person", required=False)
@click.option("--page", "out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="The new file.")
def phrases(folder: Path, person: str | None, out: Path) -> None:
    """Writes what PERSON may text, or everybody of FOLDER, as a page (HTML) to print; one sheet a person."""
    from gateway.cli.phrase_page import write_page

    raise SystemExit(write_page(folder, person, out))


@heavingline.command("paper-list", short_help="Draws a list of one-time lines on paper for one person.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.argument("person")
@click.option("--lines", default=20, show_default=True, type=click.IntRange(5, 99), help="How many lines it has.")
def paper_list(folder: Path, person: str, lines: int) -> None:
    """Draws a list of one-time lines for PERSON (key) and prints it, to be printed and handed over: it is shown this
    once. Only hashes are kept, in paper.toml of FOLDER. The person's list before it is void once the gateway is started
    again.
    """
    from gateway.cli.paper_list import print_list
    from gateway.doors.clock import SystemClock

    raise SystemExit(print_list(folder, person, lines, SystemClock().now))


@heavingline.command(short_help="Lists the texts that you may word; of a language, what is not translated.")
@click.argument("language", default="")
def words(language: str) -> None:
    """Lists the kinds of text that wording.toml may word, and what can be said in each.

    With a LANGUAGE, say "de": which pieces of our texts still go out in English to a person of that language, and which
    lines of its book do not fit. Nothing is changed."""
    from gateway.cli.words_left import show, show_kinds

    raise SystemExit(show(language) if language else show_kinds())


for _command in (backup, restore, erase, logbook, read_command, replay, reckon):
    heavingline.add_command(_command)
