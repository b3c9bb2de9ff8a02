"""`heavingline conform`."""

import asyncio
import json
import os
import sys
from dataclasses import asdict, dataclass
from pathlib import Path

import click

from gateway.cli.shell import ShellVariables
from gateway.conforming.at_broker import AtBroker, NodeTopics
from gateway.conforming.bench import NotFollowed, Windows
from gateway.conforming.report import Finding, Sheet, finding_lines
from gateway.conforming.trial import Trial
from gateway.doors import chance
from gateway.doors.clock import SystemClock
from gateway.doors.faces import BrokerSettings, DoorTrouble
from gateway.installation.load import Installation, load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.nearest import did_you_mean
from gateway.requests.settings import REST_ONLY, Equipment

ISOLATE = (
    "The relay will close. Isolate the load and lock it off, let the node's feedback input follow its relay, keep "
    "everybody clear, then say so with --load-isolated. Nothing was sent."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What was asked for on the command line. equipment: ``boat/equipment``."""

    equipment: str
    by: str
    load_isolated: bool
    report: Path | None
    as_json: bool


class WrongUse(Exception):
    """What was asked cannot be done; the text says why and what to do."""


def try_node(folder: Path, asked: Asked, windows: Windows | None = None) -> int:
    """Try one node; the exit code. windows: how long is waited, None for what the installation says."""
    try:
        found = load(folder, person_id=lambda key: key, environ=ShellVariables(os.environ))
        piece, topics, broker = _node(found, asked.equipment)
        if asked.report is not None and asked.report.exists():
            raise WrongUse(f"{asked.report} exists. Name a new file: a sheet is never written over another.")
        if not asked.load_isolated:
            raise WrongUse(ISOLATE)
        sheet = asyncio.run(_tried(found, piece, topics, broker, asked, windows or _windows(piece, topics)))
    except WrongUse as wrong:
        click.echo(str(wrong), err=True)
        return 2
    except InstallationRefused as refused:
        click.echo(f"{refused}\nNothing was sent.", err=True)
        return 1
    except DoorTrouble as trouble:
        click.echo(str(trouble), err=True)
        return 1
    if asked.report is not None:
        asked.report.write_text("\n".join(sheet.lines()) + "\n", encoding="utf-8")
    if asked.as_json:
        click.echo(json.dumps(sheet.plain(), ensure_ascii=False))
    else:
        click.echo(f"\n{list(sheet.lines())[-1]}")
    return 0 if sheet.conforms else 1


def _node(found: Installation, wanted: str) -> tuple[Equipment, NodeTopics, BrokerSettings]:
    bundle = found.bundle
    piece = bundle.equipment.get(wanted)
    if piece is None:
        raise WrongUse(f"{wanted}: there is no such equipment; {did_you_mean(wanted, bundle.equipment)}")
    if piece.sort in REST_ONLY:
        raise WrongUse(
            f"{wanted}: a trial would open it, and no text may. Try its node by hand: close it by text, look, and open "
            "it again at the boat."
        )
    feedback, count = bundle.signals[piece.feedback], bundle.signals[piece.count]
    if feedback.topic != count.topic:
        raise WrongUse(
            f"{wanted}: feedback comes on {feedback.topic} and count on {count.topic}. A node must say both in one "
            "message; else no message proves what was switched."
        )
    plan = next(plan for plan in found.brokers if plan.name == bundle.boats[piece.boat].broker)
    return piece, NodeTopics(command=piece.topic, feedback=feedback, count=count), BrokerSettings(**asdict(plan))


def _windows(piece: Equipment, topics: NodeTopics) -> Windows:
    return Windows(moves=piece.prove_within, silence=topics.feedback.stale_after)


async def _tried(
    found: Installation,
    piece: Equipment,
    topics: NodeTopics,
    broker: BrokerSettings,
    asked: Asked,
    windows: Windows,
) -> Sheet:
    clock = SystemClock()
    began = clock.now()
    hands = AtTerminal(quiet=asked.as_json)
    async with AtBroker(broker, topics, clock=clock, new_id=chance.person_id, hands=hands) as bench:
        findings = await Trial(bench, piece, windows).run(
            lambda finding: _tell(finding, asked.as_json),
            lambda step: click.echo(f"  trying     {step.name} ...", err=asked.as_json),
        )
    return Sheet(
        boat=found.bundle.boats[piece.boat].name,
        equipment=piece.name,
        topic=piece.topic,
        by=asked.by,
        began=began,
        ended=clock.now(),
        findings=findings,
    )


def _tell(finding: Finding, as_json: bool) -> None:
    for line in finding_lines(finding):
        click.echo(line, err=as_json)


class AtTerminal:
    """The person in front of this terminal; questions go to standard error when the sheet itself is for a program."""

    def __init__(self, *, quiet: bool) -> None:
        self._err = quiet

    async def do(self, instruction: str) -> None:
        """Asks, and waits for Enter. Raises NotFollowed at the end of input."""
        await self._asked(f"> {instruction} Then press Enter: ")

    async def saw(self, question: str) -> bool:
        """Asks until yes or no is typed. Raises NotFollowed at the end of input."""
        while True:
            said = (await self._asked(f"> {question} (yes or no): ")).strip().casefold()
            if said in {"yes", "y", "no", "n"}:
                return said.startswith("y")

    async def _asked(self, words: str) -> str:
        click.echo(words, nl=False, err=self._err)
        line: str = await asyncio.to_thread(sys.stdin.readline)
        if not line:
            click.echo("", err=self._err)
            raise NotFollowed("nobody at the terminal to do it")
        return line
