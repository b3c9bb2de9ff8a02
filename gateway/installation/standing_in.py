"""Who stands in for whom, as people.toml has it."""

from collections.abc import Mapping

from gateway.installation.findings import Findings
from gateway.installation.nearest import did_you_mean
from gateway.installation.people_file import PeopleFile
from gateway.installation.standards import Whole
from gateway.people.settings import Person


def stand_in_id(
    key: str, file: PeopleFile, people: Mapping[str, Person], whole: Whole, findings: Findings
) -> str | None:
    """The id of a person's stand-in, None without one. Names what would leave somebody's turns to nobody."""
    table, path = file.person[key], ("person", key)
    for number, days in enumerate(table.away):
        if days.last < days.first:
            findings.mistake(whole, (*path, "away", number), "ends before it begins", "write the first day first")
    if table.stand_in is None:
        if table.away:
            remedy = 'write stand_in = "KEY" of who takes the turns'
            findings.mistake(whole, (*path, "away"), "nobody stands in on these days", remedy)
        return None
    other = file.person.get(table.stand_in)
    if other is None or table.stand_in == key:
        problem = "stands in for nobody else" if other is not None else f'nobody has the key "{table.stand_in}"'
        others = tuple(one for one in people if one != key)
        findings.mistake(whole, (*path, "stand_in"), problem, did_you_mean(table.stand_in, others))
        return None
    missing = [boat for boat in table.boats if boat not in other.boats]
    if missing:
        problem = f"{table.stand_in} has not {', '.join(missing)}: {key} goes on being told of it"
        findings.warn(whole, (*path, "stand_in"), problem)
    for days in table.away:
        if any(theirs.first <= days.last and days.first <= theirs.last for theirs in other.away):
            problem = f"{table.stand_in} is away as well between {days.first} and {days.last}: {key} is told then"
            findings.warn(whole, (*path, "stand_in"), problem)
    return people[table.stand_in].id
