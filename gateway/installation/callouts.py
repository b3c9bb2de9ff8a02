"""Call-out lists: whom to tell, and when."""

from collections.abc import Mapping

from gateway.installation.callout_file import CalloutFile, ListTable
from gateway.installation.findings import Findings
from gateway.installation.lengths import spelt
from gateway.installation.names import check_keys
from gateway.installation.nearest import did_you_mean
from gateway.installation.standards import Whole
from gateway.people.settings import Person
from gateway.telling.settings import CallOutList, Step


def build_callouts(
    file: CalloutFile, whole: Whole, people: Mapping[str, Person] | None, findings: Findings
) -> dict[str, CallOutList]:
    """Lists by name. people: by key; None when their file could not be read, so that names are not checked."""
    check_keys(file.list, whole, ("list",), findings)
    if not file.list:
        findings.mistake(whole, ("list",), "there is no call-out list", "write a table [list.NAME]")
    return {
        key: CallOutList(key=key, steps=_steps(table, whole, ("list", key), people, findings), repeat=table.repeat)
        for key, table in file.list.items()
    }


def _steps(
    table: ListTable,
    whole: Whole,
    path: tuple[str | int, ...],
    people: Mapping[str, Person] | None,
    findings: Findings,
) -> tuple[Step, ...]:
    if not table.steps:
        findings.mistake(whole, (*path, "steps"), "is empty", "write at least one round")
    steps = []
    before = -1
    for number, step in enumerate(table.steps):
        here = (*path, "steps", number)
        if step.after <= before:
            findings.mistake(
                whole,
                (*here, "after"),
                f"is {spelt(step.after)}, not later than the round before",
                "put the rounds in order",
            )
        if not step.tell:
            findings.mistake(whole, (*here, "tell"), "tells nobody", "name at least one person")
        before = step.after
        told = []
        for place, key in enumerate(step.tell):
            if people is not None and key not in people:
                findings.mistake(
                    whole,
                    (*here, "tell", place),
                    f'nobody has the key "{key}" in people.toml',
                    did_you_mean(key, people),
                )
            elif people is not None:
                told.append(people[key].id)
        steps.append(Step(after=step.after, tell=tuple(told)))
    if table.steps and table.steps[0].after > 0:
        findings.warn(whole, path, f"nobody is told before {spelt(table.steps[0].after)} have passed")
    return tuple(steps)
