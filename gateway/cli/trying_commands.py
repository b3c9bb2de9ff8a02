"""The commands that try something and send nothing: a text, the record once more, a sum."""

from pathlib import Path
from typing import BinaryIO

import click

from gateway.cli.arguments import FOLDER, is_there


@click.command("read")
@click.argument("folder", type=FOLDER, callback=is_there)
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


@click.command(short_help="Shows what the record would have led to, by the same or by other files.")
@click.argument("folder", type=FOLDER, callback=is_there)
@click.option(
    "--from", "since", required=True, metavar="TIME", help="2026-03-09 or 2026-03-09T03:00, boat time; or with a zone."
)
@click.option("--to", "until", required=True, metavar="TIME", help="Up to then, and not then.")
@click.option("--with", "other", type=FOLDER, callback=is_there, metavar="OTHER", help="By the files in OTHER.")
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


@click.group(
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
