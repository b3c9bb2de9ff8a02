"""Persons, their numbers and their rights."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from gateway.installation.callouts import ROLES
from gateway.installation.findings import Findings
from gateway.installation.lengths import spelt
from gateway.installation.mail import ADDRESS_REMEDY, is_address
from gateway.installation.names import check_keys
from gateway.installation.nearest import did_you_mean
from gateway.installation.people_file import PeopleFile, PersonTable, RightTable
from gateway.installation.roster import DUTY
from gateway.installation.slips import continued
from gateway.installation.standards import Whole
from gateway.installation.standing_in import stand_in_id
from gateway.people.away import Days
from gateway.people.numbers import NumberRefused, e164
from gateway.people.quiet import LONGEST, SHORTEST, QuietHours
from gateway.people.regular import Regular, Wish
from gateway.people.settings import Person, Right, Role
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import MINUTE, Ms, from_datetime
from grammar.languages import LANGUAGES

Switchable = Mapping[str, Mapping[str, Equipment | None] | None]
"""Equipment by boat's key and its own key; None for one whose own table is at fault, and for a boat that is."""


_ANY_NUMBER = "+44 7700 900000"
"""From Ofcom's range for drama (handbook 6.3): only to try a country with."""


def home_country(file: PeopleFile, whole: Whole, findings: Findings) -> str | None:
    """The country for numbers written without country code, or None when none is given or it is no country."""
    try:
        e164(_ANY_NUMBER, file.home_country)
    except NumberRefused as refused:
        findings.mistake(whole, ("home_country",), refused.problem, continued(refused.remedy))
        return None
    return file.home_country


def build_people(
    file: PeopleFile,
    whole: Whole,
    home: str | None,
    switchable: Switchable,
    person_id: Callable[[str], str],
    findings: Findings,
) -> dict[str, Person]:
    """Persons by their key in the file."""
    check_keys(file.person, whole, ("person",), findings)
    if not file.person:
        findings.mistake(whole, ("person",), "there is nobody to tell", "write a table [person.KEY]")
    people: dict[str, Person] = {}
    numbers: dict[str, str] = {}
    for key, table in file.person.items():
        path = ("person", key)
        if key in ROLES or key == DUTY:
            findings.mistake(
                whole,
                path,
                "is the word for everybody with that role on a call-out list"
                if key in ROLES
                else "is the word for whoever is on duty",
                "give the person another key",
            )
        if table.language not in LANGUAGES:
            known = " or ".join(f'"{key}" ({each.called})' for key, each in LANGUAGES.items())
            findings.mistake(whole, (*path, "language"), f'"{table.language}" is no language here', f"write {known}")
        _boats(table, whole, path, switchable, findings)
        for number, right in enumerate(table.rights):
            _right(right, table, whole, (*path, "rights", number), switchable, findings)
        _consent(table, whole, path, findings)
        _prover(table, file, whole, path, findings)
        if table.mail and not is_address(table.mail):
            findings.mistake(whole, (*path, "mail"), f'is "{table.mail}", which is no mail address', ADDRESS_REMEDY)
        number_e164 = _number(table, whole, path, home, findings)
        other = numbers.setdefault(number_e164, key) if number_e164 else key
        if other != key:
            findings.mistake(
                whole,
                (*path, "number"),
                f'is also the number of "{other}"',
                "a text must tell who sent it: give each a number",
            )
        people[key] = Person(
            id=person_id(key),
            key=key,
            name=table.name,
            number=number_e164,
            role=table.role,
            zone=table.zone,
            boats=tuple(table.boats),
            rights=tuple(
                Right(
                    boat=right.boat,
                    equipment=right.equipment,
                    actions=tuple(right.actions),
                    begins=right.begins,
                    ends=right.ends,
                )
                for right in table.rights
            ),
            consent=table.consent,
            mail=table.mail,
            language=table.language,
            wishes=_wishes(table),
            quiet=_quiet(table, whole, path, findings),
            away=tuple(Days(days.first, days.last) for days in table.away),
            proved=_proved_at(table),
            proved_by=table.proved.by if table.proved else "",
        )
    return {
        key: replace(person, stand_in=stand_in_id(key, file, people, whole, findings)) for key, person in people.items()
    }


def _consent(table: PersonTable, whole: Whole, path: tuple[str | int, ...], findings: Findings) -> None:
    """Day, how, by whom: one line that another can check years later (handbook 6.3)."""
    if not table.consent:
        held = " and ".join(wish.kind for wish in _wishes(table))
        lost = f"; no {held} is sent until then" if held else ""
        findings.warn(whole, path, f"no consent to be texted is written down{lost}; ask, and write consent = ...")
    elif not _DAY.search(table.consent):
        findings.warn(whole, (*path, "consent"), "names no day; write day, how and by whom, as 2026-03-02")


_DAY = re.compile(r"\b20\d\d-[01]\d-[0-3]\d\b")


def _prover(
    table: PersonTable, file: PeopleFile, whole: Whole, path: tuple[str | int, ...], findings: Findings
) -> None:
    """Who gives a right to command back is named, and is an installer (handbook 6.1)."""
    if table.proved is None:
        return
    by = file.person.get(table.proved.by)
    if by is None or by.role is not Role.INSTALLER:
        installers = [key for key, person in file.person.items() if person.role is Role.INSTALLER]
        findings.mistake(
            whole,
            (*path, "proved", "by"),
            f'"{table.proved.by}" is no installer',
            f"write {' or '.join(installers)}" if installers else 'write the key of a person with role = "installer"',
        )


def _proved_at(table: PersonTable) -> Ms | None:
    if table.proved is None:
        return None
    at = table.proved.at
    return from_datetime(at if at.tzinfo else at.replace(tzinfo=table.zone))


def _quiet(table: PersonTable, whole: Whole, path: tuple[str | int, ...], findings: Findings) -> QuietHours | None:
    if table.quiet is None:
        return None
    quiet = QuietHours(table.quiet.begins, table.quiet.ends)
    if not SHORTEST <= quiet.length <= LONGEST:
        findings.mistake(
            whole,
            (*path, "quiet"),
            f"lasts {spelt(quiet.length * MINUTE)}",
            f"write {SHORTEST // 60} to {LONGEST // 60} hours, so that by day all is told",
        )
    return quiet


def _wishes(table: PersonTable) -> tuple[Wish, ...]:
    found = []
    if table.round is not None:
        found.append(Wish(kind=Regular.ROUND, minute=table.round))
    if table.weekly is not None:
        weekday, minute = table.weekly
        found.append(Wish(kind=Regular.WEEKLY, minute=minute, weekday=weekday))
    if table.digest is not None:
        found.append(Wish(kind=Regular.DIGEST, minute=table.digest))
    return tuple(found)


def _number(table: PersonTable, whole: Whole, path: tuple[str | int, ...], home: str | None, findings: Findings) -> str:
    try:
        return e164(table.number, home, unusual=table.unusual_number)
    except NumberRefused as refused:
        findings.mistake(whole, (*path, "number"), refused.problem, continued(refused.remedy))
        return ""


def _boats(
    table: PersonTable, whole: Whole, path: tuple[str | int, ...], switchable: Switchable, findings: Findings
) -> None:
    for number, boat in enumerate(table.boats):
        if boat not in switchable:
            findings.mistake(
                whole, (*path, "boats", number), f'no boat is called "{boat}"', did_you_mean(boat, switchable)
            )


def _hours(right: RightTable, whole: Whole, path: tuple[str | int, ...], findings: Findings) -> None:
    if (right.begins is None) is not (right.ends is None):
        there, missing = ("begins", "ends") if right.ends is None else ("ends", "begins")
        problem = f"stands without `{missing}`"
        findings.mistake(whole, (*path, there), problem, 'write both, as begins = "08:00", ends = "20:00"; or neither')
    elif right.begins is not None and right.begins == right.ends:
        remedy = "write when the hours end; for every hour take both out"
        findings.mistake(whole, (*path, "ends"), "is the same as begins", remedy)


def _right(
    right: RightTable,
    table: PersonTable,
    whole: Whole,
    path: tuple[str | int, ...],
    switchable: Switchable,
    findings: Findings,
) -> None:
    """A right must be for a boat of the person's own, for equipment that is there, for actions that it has."""
    _hours(right, whole, path, findings)
    if right.boat != "*" and right.boat not in table.boats:
        findings.mistake(
            whole,
            (*path, "boat"),
            f'"{right.boat}" is not among this person\'s boats',
            did_you_mean(right.boat, table.boats),
        )
        return
    meant_boats = [boat for boat in table.boats if right.boat in ("*", boat)]
    fitted = [found for boat in meant_boats if (found := switchable.get(boat)) is not None]
    if not fitted or len(fitted) < len(meant_boats):
        return  # something of these boats is not known: said elsewhere
    pieces = {key: piece for found in fitted for key, piece in found.items()}
    if right.equipment != "*" and right.equipment not in pieces:
        findings.mistake(
            whole,
            (*path, "equipment"),
            f'no equipment is called "{right.equipment}"',
            did_you_mean(right.equipment, pieces),
        )
        return
    meant = [piece for key, piece in pieces.items() if right.equipment in ("*", key)]
    actions = {action for piece in meant if piece for action in piece.actions}
    lives = {piece.pair[0] for piece in meant if piece}
    if right.begins is not None and right.actions and None not in meant and lives.isdisjoint(right.actions):
        said = " and ".join(right.actions)
        findings.warn(whole, (*path, "begins"), f"binds nothing: {said} may be asked for at every hour; take it out")
    for number, action in enumerate(right.actions):
        if None not in meant and action not in actions:
            findings.mistake(
                whole, (*path, "actions", number), f'"{action}" is none of its actions', did_you_mean(action, actions)
            )
