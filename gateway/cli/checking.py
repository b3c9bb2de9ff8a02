"""`heavingline check`."""

import json
import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path

import click

from gateway.alarms.settings import Attendance
from gateway.cli.check_sheet import (
    cost_lines,
    difference_lines,
    limit_lines,
    mail_lines,
    not_watched_lines,
    proving_lines,
    switching_lines,
    told_lines,
    unheeded_lines,
)
from gateway.cli.counting import counted
from gateway.cli.shell import ShellVariables
from gateway.cli.sums_sheet import sums_lines
from gateway.cli.switched import switched_by_text
from gateway.doors.clock import SystemClock
from gateway.installation.describing import Then, told
from gateway.installation.describing_sums import not_reckoned, sums
from gateway.installation.describing_switching import switching
from gateway.installation.differing import differences
from gateway.installation.lengths import clock_of
from gateway.installation.link_supply import looks, supply_lines
from gateway.installation.links import without_expiry
from gateway.installation.load import Installation, load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.not_watched import not_watched
from gateway.installation.regular_times import WEEKDAYS
from gateway.installation.second_look import second_look
from gateway.installation.slips import Slip
from gateway.installation.texts_cost import Cost, TextLength, costs, text_lengths
from gateway.vocabulary.moments import Ms, as_utc


def check_folder(
    folder: Path, against: Path | None = None, *, as_json: bool = False, at: str = "", kept: str = "away"
) -> int:
    """Read an installation; name every mistake in it, or say what it amounts to; the exit code.

    against: another folder, whose differences to this one are told. as_json: one JSON object instead of all that.
    at: "Sunday 02:30" (the next one) or "2026-12-24 02:30", boat time: who is told is shown as it is then, while the
    boats are kept so; "" for all hours.
    """
    now = SystemClock().now()
    try:
        then = hour_meant(at, kept, now) if at else None
    except Slip as slip:
        click.echo(f"--at {at}: {slip.problem}; {slip.remedy}.", err=True)
        return 2
    shell = ShellVariables(os.environ)
    try:
        found = _loaded(folder, shell, now)
        other = None if against is None else _loaded(against, shell, None, named=True)
    except InstallationRefused as refused:
        if as_json:
            click.echo(_object(mistakes=[asdict(mistake) for mistake in refused.mistakes]))
            return 1
        for mistake in refused.mistakes:
            click.echo(str(mistake))
        click.echo(f"{counted(len(refused.mistakes), 'mistake')}. Nothing was started.")
        return 1
    warnings = [*found.warnings, *second_look(found.bundle, found.places, now)]
    warnings += [look for row in found.supplies for look in looks(row)]
    bundle = found.bundle
    warnings += without_expiry(found.brokers, {bundle.boats[piece.boat].broker for piece in bundle.equipment.values()})
    warnings += [
        f"the variable {name} is not set in this shell; `run` does not start without it."
        for name in dict.fromkeys(shell.missing)
    ]
    changes = None if other is None else differences(found, other)
    lengths = text_lengths(found.bundle)
    priced = costs(found.bundle, lengths, found.prices)
    if as_json:
        click.echo(
            _object(
                warnings=warnings,
                told=[asdict(row) for row in told(found.bundle, then)],
                switching=[asdict(row) for row in switching(found.bundle)],
                not_watched=[asdict(row) for row in not_watched(found.bundle, found.no_gas_aboard)],
                limits=asdict(found.bundle.pacing),
                texts=[asdict(row) for row in lengths],
                costs=[{name: str(value) for name, value in asdict(row).items()} for row in priced],
                sums=[asdict(row) for row in sums(found.bundle)],
                mailed_to=found.mailed_to,
                differences=None if changes is None else [asdict(change) for change in changes],
            )
        )
        return 0
    _show(found, warnings, (lengths, priced), then, _said(at, then, found) if then else "")
    if changes is not None:
        for line in ("", *difference_lines(changes, str(against), str(folder))):
            click.echo(line)
    return 0


def hour_meant(at: str, kept: str, now: Ms) -> Then:
    """The hour that "Sunday 02:30", "Sun 02:30" or "2026-12-24 02:30" names, at a boat: of a weekday the next one from
    now (instant, ms UTC). Raises Slip."""
    day, _, clock = at.strip().partition(" ")
    named = _day_meant(day)
    try:
        minute = clock_of(clock.strip())
    except Slip:
        raise Slip("names no time of day", 'write such as "Sunday 02:30", hours and minutes with two digits') from None
    return Then(day=named, minute=minute, kept=Attendance(kept), asked=now)


def _day_meant(written: str) -> date | int:
    for number, name in enumerate(WEEKDAYS):
        if written.casefold() in (name, name[:3]):
            return number
    if _DATE.fullmatch(written) is None:
        raise Slip("names no day of the week and no date", 'write such as "Sunday 02:30" or "2026-12-24 02:30"')
    try:
        return date.fromisoformat(written)
    except ValueError:
        raise Slip("names a day that the calendar has not", 'write such as "2026-12-24 02:30"') from None


_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


def _said(at: str, then: Then, found: Installation) -> str:
    """The hour as the table's heading has it: with its date and weekday, where all boats have the same."""
    days = {as_utc(then.at(boat.zone)).astimezone(boat.zone) for boat in found.bundle.boats.values()}
    dated = {f"{day:%Y-%m-%d}" for day in days}
    whole = f"{min(days):%A %Y-%m-%d %H:%M}"
    return f"on {whole if len(dated) == 1 else at}, boat time, the boats kept {then.kept}"


def _loaded(folder: Path, shell: Mapping[str, str], now: Ms | None, *, named: bool = False) -> Installation:
    """The installation. now: when its dates are judged (ms UTC); None for one that held at its own time. named: the
    folder's name is put before each mistake's file, because two folders are read."""
    try:
        return load(folder, person_id=lambda key: key, environ=shell, now=now)
    except InstallationRefused as refused:
        if not named:
            raise
        raise InstallationRefused(replace(one, file=f"{folder}/{one.file}") for one in refused.mistakes) from None


def _object(**found: object) -> str:
    """Always the same keys. mistakes: nothing else is known while there are any. Lengths: whole ms."""
    empty: dict[str, object] = {
        "mistakes": [],
        "warnings": [],
        "told": [],
        "switching": [],
        "not_watched": [],
        "limits": {},
        "texts": [],
        "costs": [],
        "sums": [],
        "mailed_to": [],
        "differences": None,
    }
    return json.dumps(empty | found, ensure_ascii=False)


def _show(
    found: Installation,
    warnings: Sequence[str],
    texts: tuple[tuple[TextLength, ...], tuple[Cost, ...]],
    then: Then | None,
    said: str,
) -> None:
    bundle = found.bundle
    for row in (
        *told_lines(told(bundle, then), said),
        "",
        *unheeded_lines(told(bundle)),
        "",
        *proving_lines(told(bundle)),
        *switching_lines(switching(bundle)),
        "",
        *not_watched_lines(not_watched(bundle, found.no_gas_aboard)),
        "",
        *sums_lines(sums(bundle), {boat: not_reckoned(bundle, boat) for boat in sorted(bundle.boats)}),
        "",
        *supply_lines(found.supplies),
        *limit_lines(bundle.pacing),
        *cost_lines(*texts),
        *mail_lines(found.mailed_to),
        "",
    ):
        click.echo(row)
    for warning in warnings:
        click.echo(f"Look at: {warning}")
    for line in switched_by_text(bundle.equipment):
        click.echo(line)
    counts = (
        counted(len(bundle.boats), "boat"),
        counted(len(bundle.signals), "signal"),
        counted(len(bundle.points), "alarm point"),
        counted(len(bundle.equipment), "piece of equipment", "pieces of equipment"),
        counted(len(bundle.people), "person"),
    )
    click.echo(f"No mistakes: {', '.join(counts)}. Nothing was started.")
