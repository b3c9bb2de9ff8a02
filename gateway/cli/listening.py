"""`heavingline listen`: what is said on the installation's brokers, and signal tables for it. Disturbs nothing."""

import json
import os
import secrets
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import asdict, dataclass
from pathlib import Path

import click

from gateway.boat.heard import Heard, HeardOnBroker, Piece
from gateway.cli.heard_sheet import Uses, sheet, unused, uses_of, values_of
from gateway.cli.shell import ShellVariables
from gateway.desk.bundle import Bundle
from gateway.doors.bus.listening import Listener, listener_id
from gateway.doors.faces import BrokerSettings, BrokerUnheard
from gateway.installation.findings import Findings
from gateway.installation.folder import read_folder
from gateway.installation.gateway_file import GatewayFile
from gateway.installation.lengths import length_of
from gateway.installation.links import BrokerPlan, brokers
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.shape import shaped
from gateway.installation.signal_tables import proposed
from gateway.installation.slips import Slip
from gateway.installation.standards import Whole
from gateway.vocabulary.moments import HOUR, SECOND, Ms

SHORTEST: Ms = SECOND // 10
LONGEST: Ms = 24 * HOUR
"""The shortest and the longest listening (our choice: a day shows what reports once a day)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the command was given. length: as written. filters: MQTT topic filters. picked: ``TOPIC`` or
    ``TOPIC#/pointer`` of values for which a table is wanted. as_json: one JSON object."""

    length: str
    filters: tuple[str, ...]
    picked: tuple[str, ...]
    as_json: bool


def listen(folder: Path, asked: Asked) -> int:
    """Listen, say what was heard, print the tables that are wanted; the exit code."""
    length = _length(asked.length)
    shell = ShellVariables(os.environ)
    try:
        plans = _brokers(folder, shell)
    except InstallationRefused as refused:
        click.echo(str(refused), err=True)
        return 1
    for name in dict.fromkeys(shell.missing):
        click.echo(f"The variable {name} is not set in this shell; the broker may refuse us.", err=True)
    bundle = _bundle(folder)
    if bundle is None:
        click.echo(f"The files hold mistakes, so what is used cannot be said: heavingline check {folder}", err=True)
    heard, troubles = _heard(plans, asked.filters, length)
    uses = None if bundle is None else uses_of(bundle)
    picked, missed = _picked(heard, asked.picked)
    tables = list(_tables(picked, bundle))
    if asked.as_json:
        topics = [topic for name, one in heard.items() for topic in values_of(name, one, uses)]
        click.echo(json.dumps({"topics": topics, "tables": tables, "troubles": troubles}, ensure_ascii=False))
    else:
        for name, one in heard.items():
            for line in sheet(name, one, length, uses):
                click.echo(line)
        if not asked.picked and uses is not None and sys.stdin.isatty():
            tables = list(_tables(_ask(heard, uses), bundle))
        for table in tables:
            click.echo(f"\n{table}")
        if tables:
            click.echo("\nPut them into boats/NAME/signals.toml, set what a comment asks for, then: heavingline check")
    for trouble in (*troubles, *missed):
        click.echo(trouble, err=True)
    return 1 if troubles or missed else 0


def _length(written: str) -> Ms:
    try:
        length = length_of(written)
    except Slip as slip:
        raise click.BadParameter(f"{written!r} {slip.problem}: such as 60s or 10min.", param_hint="--for") from None
    if not SHORTEST <= length <= LONGEST:
        raise click.BadParameter("listen for 0.1 s to 24 h.", param_hint="--for")
    return length


def _brokers(folder: Path, environ: Mapping[str, str]) -> tuple[BrokerPlan, ...]:
    """The brokers of gateway.toml, whatever the other files say: listening comes before the signals are written."""
    document = read_folder(folder, ignored := Findings()).get("gateway.toml")
    findings = Findings()
    if document is None:
        raise InstallationRefused(each for each in ignored.mistakes if each.file == "gateway.toml")
    whole = Whole(document=document)
    file = shaped(GatewayFile, document.values, whole, (), findings)
    plans = brokers(file, whole, folder, environ, findings) if file is not None else ()
    if findings.mistakes:
        raise InstallationRefused(findings.mistakes)
    return plans


def _bundle(folder: Path) -> Bundle | None:
    try:
        return load(folder, person_id=str, environ=ShellVariables(os.environ)).bundle
    except InstallationRefused:
        return None


def _heard(
    plans: Sequence[BrokerPlan], filters: Sequence[str], length: Ms
) -> tuple[dict[str, HeardOnBroker], list[str]]:
    """All brokers at once, each in its own thread; what was heard by broker's name, and what went wrong.

    Ctrl-C ends the listening early: what was heard until then is kept."""
    heard = {plan.name: HeardOnBroker() for plan in plans}
    listeners = {
        plan.name: Listener(BrokerSettings(**asdict(plan)), listener_id(secrets.token_bytes(4))) for plan in plans
    }

    def one(name: str) -> list[str]:
        add = heard[name].add
        try:
            refused = listeners[name].hear(
                filters, length, lambda m: add(m.topic, m.payload, retained=m.retained, at=m.at)
            )
        except BrokerUnheard as trouble:
            return [str(trouble)]
        return [f"broker {name}: the filter '{each}' was refused. See to the rights there." for each in refused]

    with ThreadPoolExecutor(max_workers=len(plans)) as pool:
        at_work = [pool.submit(one, name) for name in listeners]
        try:
            wait(at_work)
        except KeyboardInterrupt:
            for listener in listeners.values():
                listener.stop()
        return heard, [trouble for each in at_work for trouble in each.result()]


def _picked(heard: Mapping[str, HeardOnBroker], wanted: Iterable[str]) -> tuple[list[tuple[Heard, Piece]], list[str]]:
    """The values that ``TOPIC`` (all of its values) and ``TOPIC#/pointer`` name, and what was not heard."""
    found: list[tuple[Heard, Piece]] = []
    missed = []
    for each in wanted:
        topic, mark, pointer = each.partition("#")
        ones = [one for broker in heard.values() if (one := broker.topics.get(topic)) is not None]
        pieces = [(one, piece) for one in ones for at, piece in one.pieces.items() if not mark or at == pointer]
        if not pieces:
            missed.append(
                f"{each}: nothing was heard of it. Listen longer (--for 10min), or look at its spelling above."
            )
        found += pieces
    return found, missed


def _tables(picked: Iterable[tuple[Heard, Piece]], bundle: Bundle | None) -> Iterator[str]:
    """Tables in the installation's own form; a line in words for what carries nothing."""
    taken: dict[str | None, set[str]] = {}
    for signal in () if bundle is None else bundle.signals.values():
        taken.setdefault(signal.boat, set()).add(signal.key)
    for heard, piece in picked:
        first = heard.topic.partition("/")[0]
        boat = first if bundle is not None and first in bundle.boats else None
        keys = taken.setdefault(boat, set())
        table = proposed(heard, piece, boat=boat, taken=keys)
        if table is None:
            yield f"# {heard.topic} {piece.part.pointer}".rstrip() + ": no one kind of value, so no signal can read it"
            continue
        keys.add(table.partition("\n")[0][len("[signal.") : -1])
        yield table


def _ask(heard: Mapping[str, HeardOnBroker], uses: Uses) -> list[tuple[Heard, Piece]]:
    """What the installer picks at the terminal from what is not used."""
    free = [pair for name, one in heard.items() for pair in unused(name, one, uses)]
    if not free:
        return []
    click.echo("\nNot used:")
    for number, (one, piece) in enumerate(free, 1):
        click.echo(f"  {number}  {one.topic} {piece.part.pointer}".rstrip())
    answer = click.prompt("Signal tables for which? Numbers with blanks between, nothing for none", default="")
    chosen = [int(word) for word in answer.replace(",", " ").split() if word.isdigit()]
    return [free[number - 1] for number in chosen if 0 < number <= len(free)]
