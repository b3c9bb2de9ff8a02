"""Call-out lists: whom to tell, and when."""

from collections.abc import Mapping
from dataclasses import dataclass

from gateway.installation.callout_file import CalloutFile, ListTable, StepTable
from gateway.installation.findings import Findings
from gateway.installation.lengths import spelt
from gateway.installation.names import check_keys
from gateway.installation.nearest import did_you_mean
from gateway.installation.roster import DUTY
from gateway.installation.standards import Whole
from gateway.people.hours import WeekHours
from gateway.people.roster import DAYS, Shift
from gateway.people.settings import Person, Role
from gateway.telling.settings import CallOutList, Step, When
from gateway.vocabulary.moments import Ms

ROLES: Mapping[str, Role] = {role.value: role for role in Role}
"""Words that stand on a list for whoever has that role for the boat in alarm, so that one list serves every boat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenList:
    """One list as it stands in the file. rounds: ms from the alarm, and whom: keys of persons, and words of ROLES.
    ways: of each round, "text" and "call"; None where nothing is said of it. whens: when each counts."""

    key: str
    rounds: tuple[tuple[Ms, tuple[str, ...]], ...]
    repeat: Ms | None
    ways: tuple[tuple[str, ...] | None, ...]
    whens: tuple[When, ...]

    @property
    def by_role(self) -> bool:
        """Whether it is another list for every boat."""
        return any(word in ROLES or word == DUTY for _, tell in self.rounds for word in tell)

    def for_boat(self, boat: str, people: Mapping[str, Person], roster: tuple[Shift, ...] = ()) -> CallOutList:
        """The list as it is for one boat (key). people: by key. A round that tells nobody there is no round.

        The list's key is ``boat/list`` when roles stand on it, else its own: then it is the same for every boat.
        """
        dutiful = on_roster(roster, boat, people)
        rounds = []
        for (after, tell), ways, when in zip(self.rounds, self.ways, self.whens, strict=True):
            told = told_by(tell, boat, people)
            by_duty = tuple(p for p in dutiful if p not in told) if DUTY in tell else ()
            rounds.append((after, (*told, *by_duty), ways, by_duty, when))
        return CallOutList(
            key=f"{boat}/{self.key}" if self.by_role else self.key,
            steps=tuple(
                Step(
                    after=after,
                    tell=told,
                    text=ways is None or "text" in ways,
                    ring=None if ways is None else "call" in ways,
                    by_duty=by_duty,
                    when=when,
                )
                for after, told, ways, by_duty, when in rounds
                if told
            ),
            repeat=self.repeat,
        )


def on_roster(roster: tuple[Shift, ...], boat: str, people: Mapping[str, Person]) -> tuple[str, ...]:
    """Ids of those on the roster for whom this boat is a matter, each once, in order of the file."""
    having = {person.id for person in people.values() if boat in person.boats}
    return tuple(dict.fromkeys(shift.person for shift in roster if shift.person in having))


def told_by(words: tuple[str, ...], boat: str, people: Mapping[str, Person]) -> tuple[str, ...]:
    """Ids of the persons whom these words name for a boat, each once. Those of one role in the order of the file."""
    told: dict[str, None] = {}
    for word in words:
        if word in ROLES:
            told.update((each.id, None) for each in people.values() if each.role is ROLES[word] and boat in each.boats)
        elif word in people:
            told[people[word].id] = None
    return tuple(told)


def read_callouts(
    file: CalloutFile, whole: Whole, people: Mapping[str, Person] | None, findings: Findings
) -> dict[str, WrittenList]:
    """Lists by name. people: by key; None when their file could not be read, so that names are not checked."""
    check_keys(file.list, whole, ("list",), findings)
    if not file.list:
        findings.mistake(whole, ("list",), "there is no call-out list", "write a table [list.NAME]")
    for key, table in file.list.items():
        _check(table, whole, ("list", key), people, findings)
    return {
        key: WrittenList(
            key=key,
            rounds=tuple((step.after, tuple(step.tell)) for step in table.steps),
            repeat=table.repeat,
            ways=tuple(None if step.by is None else tuple(step.by) for step in table.steps),
            whens=tuple(_when(step) for step in table.steps),
        )
        for key, table in file.list.items()
    }


def _when(step: StepTable) -> When:
    hours = None
    if step.days or step.begins is not None or step.ends is not None:
        days = tuple(DAYS.index(day) for day in step.days)
        hours = WeekHours(days=days, begins=step.begins or 0, ends=step.ends or 0)
    return When(attendance=tuple(step.attendance), hours=hours)


def _check(
    table: ListTable,
    whole: Whole,
    path: tuple[str | int, ...],
    people: Mapping[str, Person] | None,
    findings: Findings,
) -> None:
    if not table.steps:
        findings.mistake(whole, (*path, "steps"), "is empty", "write at least one round")
    before = -1
    for number, step in enumerate(table.steps):
        here = (*path, "steps", number)
        apart = number > 0 and not (_when(step).always and _when(table.steps[number - 1]).always)
        if step.after < before or (step.after == before and not apart):
            findings.mistake(
                whole,
                (*here, "after"),
                f"is {spelt(step.after)}, not later than the round before",
                "put the rounds in order",
            )
        if (step.begins is None) is not (step.ends is None):
            missing = "ends" if step.ends is None else "begins"
            findings.mistake(
                whole, here, f"says no {missing}", f'write {missing} = "07:00" beside the other, boat time'
            )
        if not step.tell:
            findings.mistake(whole, (*here, "tell"), "tells nobody", "name at least one person")
        if step.by == []:
            findings.mistake(whole, (*here, "by"), "is empty", 'write by = ["text"], ["call"] or both, or leave it out')
        before = step.after
        for place, key in enumerate(step.tell):
            if people is not None and key not in people and key not in ROLES and key != DUTY:
                findings.mistake(
                    whole,
                    (*here, "tell", place),
                    f'nobody has the key "{key}" in people.toml',
                    did_you_mean(key, (*people, *ROLES, DUTY)),
                )
    if table.steps and table.steps[0].after > 0:
        findings.warn(whole, path, f"nobody is told before {spelt(table.steps[0].after)} have passed")
