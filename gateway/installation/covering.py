"""Whom each boat's alarms call, and whether those people can do anything with it."""

from collections.abc import Iterable, Mapping

from gateway.installation.boats import Fitted
from gateway.installation.callouts import ROLES, WrittenList, on_roster, told_by
from gateway.installation.findings import Findings
from gateway.installation.hours_covered import hours_covered
from gateway.installation.lengths import spelt
from gateway.installation.roster import DUTY
from gateway.installation.standards import Whole
from gateway.people.roster import Shift
from gateway.people.settings import Person
from gateway.telling.settings import CallOutList
from gateway.vocabulary.priority import Priority

_WANTS_TWO = frozenset({Priority.EMERGENCY, Priority.ALARM})
"""Priorities that want two persons at least: who sleeps, or has no signal, must not be the only one (handbook 2.3)."""


def called(
    fleet: Iterable[Fitted],
    written: Mapping[str, WrittenList],
    people: Mapping[str, Person],
    lists: Whole,
    findings: Findings,
    roster: tuple[Shift, ...] = (),
    for_others: frozenset[str] = frozenset(),
) -> tuple[Mapping[str, CallOutList], Mapping[str, str]]:
    """The lists by their keys as the desk uses them, and the list's key of each alarm point (id).

    Everyone on a list must have the boat among theirs, or their answer would be refused. An emergency wants two
    persons at least and a repeat (handbook 2.3). for_others: lists (keys) that an alarm of some standard of the folder
    names: they wait for a boat that is built on it.
    """
    callouts = {key: each.for_boat("", people) for key, each in written.items() if not each.by_role}
    of_point: dict[str, str] = {}
    used: set[str] = set()
    for boat in fleet:
        seen: dict[str, CallOutList] = {}
        for point in boat.points.values():
            plan = written.get(point.callout)
            if plan is None:
                continue
            if plan.key not in seen:
                seen[plan.key] = plan.for_boat(boat.boat.key, people, roster)
                _covered(plan, boat.boat.key, people, roster, lists, findings)
            told = seen[plan.key]
            if told.key not in of_point.values():
                hours_covered(told, plan, boat.boat.key, lists, findings)
            callouts[told.key] = told
            of_point[point.id] = told.key
            used.add(plan.key)
            _enough(point.priority, plan, told, boat.boat.key, lists, findings)
    for key in written:
        if key not in used | for_others:
            findings.warn(lists, ("list", key), "no alarm uses this list")
    return callouts, of_point


def _covered(
    plan: WrittenList,
    boat: str,
    people: Mapping[str, Person],
    roster: tuple[Shift, ...],
    lists: Whole,
    findings: Findings,
) -> None:
    """Whoever is named must have the boat; a role must be somebody's; and somebody must be told at all."""
    words = tuple(word for _, tell in plan.rounds for word in tell)
    dutiful = on_roster(roster, boat, people)
    if DUTY in words and not dutiful:
        findings.mistake(
            lists,
            ("list", plan.key),
            f'"{DUTY}" is on it, and nobody on the roster has {boat}',
            "write [[roster]] rows into people.toml, for persons who have that boat",
        )
        return
    if not told_by(words, boat, people) and not (DUTY in words and dutiful):
        if plan.by_role:
            findings.mistake(
                lists,
                ("list", plan.key),
                f"tells nobody of {boat}: nobody with one of its roles has that boat",
                "add the boat to a person in people.toml",
            )
        return
    for number, (after, tell) in enumerate(plan.rounds):
        for place, word in enumerate(tell):
            path = ("list", plan.key, "steps", number, "tell", place)
            if word in ROLES and not told_by((word,), boat, people):
                findings.warn(lists, path, f"nobody to tell after {spelt(after)}: {boat} has no {word}")
            elif word in people and boat not in people[word].boats:
                findings.mistake(
                    lists,
                    ("list", plan.key, "steps"),
                    f'"{word}" is told of {boat}, which is not among their boats',
                    "add the boat to the person in people.toml, or take the person off the list",
                )


def _enough(
    priority: Priority, plan: WrittenList, told: CallOutList, boat: str, lists: Whole, findings: Findings
) -> None:
    path = ("list", plan.key)
    of_boat = f" of {boat}" if plan.by_role else ""
    if priority in _WANTS_TWO and len(told.everyone) == 1:
        findings.warn(lists, path, f"only one person is told of an {priority}{of_boat}")
    if priority is Priority.EMERGENCY and told.repeat is None:
        findings.warn(lists, path, "an emergency is not repeated after the last round")
