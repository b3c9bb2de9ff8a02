"""The roster of people.toml: who is on duty when."""

from collections.abc import Mapping

from gateway.installation.findings import Findings
from gateway.installation.nearest import did_you_mean
from gateway.installation.people_file import PeopleFile
from gateway.installation.standards import Whole
from gateway.people.roster import DAYS, Shift, holes
from gateway.people.settings import Person

DUTY = "duty"
"""Word that stands on a list for whoever is on duty."""


def build_roster(file: PeopleFile, whole: Whole, people: Mapping[str, Person], findings: Findings) -> tuple[Shift, ...]:
    """The shifts in the order of the file. people: by key. Every hole of the week is named, with the cure."""
    found = []
    for number, table in enumerate(file.roster):
        path = ("roster", number)
        dayless = not table.days and not table.dates
        if dayless:
            findings.mistake(whole, path, "names no day", 'write days = ["Mon", "Tue"], or dates = ["2026-12-24"]')
        if table.who not in people:
            problem = f'nobody has the key "{table.who}"'
            findings.mistake(whole, (*path, "who"), problem, did_you_mean(table.who, tuple(people)))
        elif not dayless:
            found.append(
                Shift(
                    person=people[table.who].id,
                    days=tuple(DAYS.index(day) for day in table.days),
                    dates=tuple(table.dates),
                    begins=table.begins,
                    ends=table.ends,
                )
            )
    for hole in holes(found) if found else ():
        problem = f"nobody is on duty {hole}: everybody of the roster is told then; add a row for it"
        findings.warn(whole, ("roster",), problem)
    return tuple(found)
