"""Lists that differ by the hour and by how the boat is kept: when they tell nobody, or nobody at once."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from gateway.alarms.settings import Attendance
from gateway.installation.callouts import WrittenList
from gateway.installation.findings import Findings
from gateway.installation.lengths import spelt
from gateway.installation.standards import Whole
from gateway.people.hours import MINUTES_A_DAY
from gateway.people.roster import DAYS
from gateway.telling.settings import CallOutList
from gateway.vocabulary.moments import Ms

MONDAY = datetime(2001, 1, 1)
"""A Monday at 00:00, of a week that is nobody's holiday."""

Told = tuple[tuple[str, ...], ...]


def hours_covered(told: CallOutList, plan: WrittenList, boat: str, lists: Whole, findings: Findings) -> None:
    """Name each stretch of an ordinary week, for each way of keeping the boat, that has nobody to tell, and each in
    which the first is told later than at the list's begin."""
    if all(step.when.always for step in told.steps):
        return
    path, of_boat = ("list", plan.key), f" of {boat}" if plan.by_role else ""
    begin = told.steps[0].after
    for hole, first, kept in stretches(told):
        at = f"{hole}{f', kept {kept}' if kept else ''}"
        if first is None:
            cure = "everybody of the list is told then; add a row for it"
            findings.warn(lists, path, f"nobody to tell{of_boat} {at}: {cure}")
        elif first > begin:
            findings.warn(lists, path, f"nobody is told{of_boat} before {spelt(first)} {at}")


def stretches(told: CallOutList) -> Iterator[tuple[str, Ms | None, str]]:
    """(stretch of the week, the first round that tells somebody then, how the boat is kept) of the whole week and every
    way; those that are alike for all ways once, with "" for the way."""
    by_way = {kept: tuple(_week(told, kept)) for kept in Attendance}
    alike = len(set(by_way.values())) == 1
    for kept, found in list(by_way.items())[: 1 if alike else None]:
        for stretch, first in found:
            yield stretch, first, "" if alike else kept.value


def _week(told: CallOutList, kept: Attendance) -> Iterator[tuple[str, Ms | None]]:
    edges = {0}
    for step in told.steps:
        if step.when.hours is not None:
            minutes = (step.when.hours.begins, step.when.hours.ends)
            edges |= {day * MINUTES_A_DAY + minute for day in range(7) for minute in (0, *minutes)}
    rows = [(edge, _first(told, kept, edge)) for edge in sorted(edges)]
    starts = [(at, first) for number, (at, first) in enumerate(rows) if first != rows[number - 1][1]]
    if not starts:
        yield "at any time", rows[0][1]
    for number, (at, first) in enumerate(starts):
        yield f"{_said(at)} to {_said(starts[(number + 1) % len(starts)][0])}", first


def _first(told: CallOutList, kept: Attendance, minute: int) -> Ms | None:
    local = MONDAY + timedelta(minutes=minute)
    return next((step.after for step in told.steps if step.tell and step.when.holds(kept, local)), None)


def _said(minute: int) -> str:
    day, rest = divmod(minute, MINUTES_A_DAY)
    return f"{DAYS[day]} {rest // 60:02}:{rest % 60:02}"
