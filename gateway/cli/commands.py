"""The commands, and what each ends with: 0 all well, 1 something is wrong, 2 wrong use."""

from pathlib import Path
from typing import Any, BinaryIO

import click

FOLDER = click.Path(path_type=Path, file_okay=False)


def _is_there(_context: click.Context, _parameter: click.Parameter, folder: Path | None) -> Path | None:
    if folder is not None and not folder.is_dir():
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
@click.argument("folder", type=FOLDER, callback=_is_there)
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
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.option(
    "--against", type=FOLDER, callback=_is_there, metavar="OTHER", help="Also say what changes from OTHER to FOLDER."
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
@click.argument("folder", type=FOLDER, callback=_is_there)
def run(folder: Path) -> None:
    """Runs the gateway for FOLDER until SIGTERM or Ctrl-C."""
    from gateway.cli.serving import serve

    raise SystemExit(serve(folder))


@heavingline.command("listen", short_help="Shows what is said on the brokers; makes signal tables.")
@click.argument("folder", type=FOLDER, callback=_is_there)
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
@click.argument("folder", type=FOLDER, callback=_is_there)
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
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.argument("person", required=False)
@click.option("--page", "out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="The new file.")
def phrases(folder: Path, person: str | None, out: Path) -> None:
    """Writes what PERSON may text, or everybody of FOLDER, as a page (HTML) to print; one sheet a person."""
    from gateway.cli.phrase_page import write_page

    raise SystemExit(write_page(folder, person, out))


@heavingline.command("paper-list", short_help="Draws a list of one-time lines on paper for one person.")
@click.argument("folder", type=FOLDER, callback=_is_there)
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


@heavingline.command(short_help="Copies the record into one new file.")
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
def backup(folder: Path, file: Path) -> None:
    """Copies the record of FOLDER into one new FILE, also while the gateway runs, and verifies it.

    The file holds names, numbers and texts. It is never laid over another.
    """
    from gateway.cli.keeping import back_up_store

    raise SystemExit(back_up_store(folder, file))


@heavingline.command()
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--replace", is_flag=True, help="A record that is there is kept aside under another name.")
def restore(folder: Path, file: Path, replace: bool) -> None:
    """Lays a backup FILE in place as the record of FOLDER. Not while the gateway runs.

    What came after the backup is not known then: the next start says so, and tells it as time without a gateway.
    """
    from gateway.cli.keeping import restore_store

    raise SystemExit(restore_store(folder, file, replace=replace))


@heavingline.command(short_help="Erases a person from the record.")
@click.argument("folder", type=FOLDER, callback=_is_there)
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


@heavingline.command(short_help="Shows what the record would have led to, by the same or by other files.")
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.option(
    "--from", "since", required=True, metavar="TIME", help="2026-03-09 or 2026-03-09T03:00, boat time; or with a zone."
)
@click.option("--to", "until", required=True, metavar="TIME", help="Up to then, and not then.")
@click.option("--with", "other", type=FOLDER, callback=_is_there, metavar="OTHER", help="By the files in OTHER.")
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object; instants in UTC.")
def replay(folder: Path, since: str, until: str, other: Path | None, as_json: bool) -> None:
    """Has the gateway itself take in the record of FOLDER again. Sends nothing, writes nothing.

    By the same files it comes to exactly the same alarms and texts. With OTHER, such as a copy with another limit, what
    was and what would have been are shown side by side. From the first difference on nobody knows what people would
    have done: then it is assumed that nobody answers and that every text is delivered after 20 s, and every line says
    so.

    Ends with 1 when the files are the same and the alarms and texts are not.
    """
    from gateway.cli.replaying import Asked, replay_record

    raise SystemExit(replay_record(folder, Asked(since=since, until=until, other=other), as_object=as_json))


class _Sums(click.Group):
    """One command a sum, in the handbook's order, made when one is asked for."""

    def list_commands(self, _context: click.Context) -> list[str]:
        from gateway.reckoning.catalogue import SUMS

        return list(SUMS)

    def get_command(self, _context: click.Context, name: str) -> click.Command:
        from gateway.cli.reckoning import sum_command

        return sum_command(name)


@heavingline.group(
    cls=_Sums,
    short_help="Does one of the sums behind the texts.",
    invoke_without_command=True,
    subcommand_metavar="SUM [--INPUT NUMBER]...",
)
@click.option("--list", "listed", is_flag=True, help="Shows every sum and the question it answers.")
@click.option("--json", "as_json", is_flag=True, help="With --list, for programs: one JSON list.")
@click.pass_context
def reckon(context: click.Context, listed: bool, as_json: bool) -> None:
    """Does one of the sums behind the texts: batteries, bilge, tanks, cold, drift, cable. Needs no installation.

    Each says its formula, where that comes from, and what to beware of. `reckon SUM --help` names its inputs. Ends with
    1 when there is no answer (the reason is said), with 2 when an input is missing or out of its range.
    """
    if context.invoked_subcommand is not None:
        return
    if not listed:
        raise click.UsageError("Name a sum, or --list to see them all.")
    from gateway.cli.reckoning import list_sums

    raise SystemExit(list_sums(as_json=as_json))


@heavingline.group()
def logbook() -> None:
    """Reads the record of the installation in FOLDER. Changes nothing."""


@logbook.command(short_help="Prints the entries, oldest first.")
@click.argument("folder", type=FOLDER, callback=_is_there)
@click.option("--boat", metavar="NAME", help="Only this boat's chain (its folder's name), or 'installation'.")
@click.option("--names", is_flag=True, help="With names and words of texts; numbers and code words stay masked.")
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object a line.")
def show(folder: Path, boat: str | None, names: bool, as_json: bool) -> None:
    """Prints the entries, oldest first, in UTC, and the end value of each chain."""
    from gateway.cli.reading_logbook import show_entries

    raise SystemExit(show_entries(folder, boat, names=names, as_json=as_json))


@logbook.command(short_help="Checks every chain; names the first bad entry.")
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


@logbook.command("export", short_help="Writes the record for other programs.")
@click.argument("folder", type=FOLDER, callback=_is_there)
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
