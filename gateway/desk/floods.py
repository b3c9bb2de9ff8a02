"""Floods: for whom so many alarms were raised that they come as one text, and no sooner again than that one allows."""

from collections.abc import Mapping

from gateway.desk.lists import list_now
from gateway.desk.turn import Recorder
from gateway.telling.facts import FloodStep
from gateway.telling.gathering import FLOOD_WINDOW, GATHERED_FOR, Matter, flood_after, flood_over_at
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import Ms

Told = Mapping[str, tuple[str, ...]]
"""By point that was raised, ids of all who are told of it."""


def _told_of_raised(rec: Recorder) -> Told:
    """Those of its list, and whoever stands on it for now: on duty by a person's word, or in place of somebody away."""
    lists, points = rec.bundle.lists, dict.fromkeys(one.point for one in rec.state.telling.raised)
    return {
        point: tuple(dict.fromkeys((*lists[point].everyone, *list_now(rec.state, rec.bundle, point, rec.now).everyone)))
        for point in points
        if point in lists
    }


def _raised_by_person(rec: Recorder, told: Told) -> dict[str, list[Ms]]:
    """By who is told, instants of raising, oldest first; what several boats share is one situation and counts once.
    In one pass, because a thousand alarms of a thousand persons would be gone through a million times."""
    found: dict[str, list[Ms]] = {}
    counted: set[tuple[str, Matter]] = set()
    for one in rec.state.telling.raised:
        matter = rec.bundle.matters.get(one.point)
        for person in told.get(one.point, ()):
            if matter is None or (person, matter) not in counted:
                found.setdefault(person, []).append(one.at)
            if matter is not None:
                counted.add((person, matter))
    return found


def floods_due(rec: Recorder) -> bool:
    """Note floods that begin or end. True when there was any."""
    telling = rec.state.telling
    if not telling.floods and not flood_after([one.at for one in telling.raised], rec.now, going_on=False):
        return False
    told = _told_of_raised(rec)
    concerned = [person for people in told.values() for person in people]
    found, by_person = False, _raised_by_person(rec, told)
    for person in dict.fromkeys((*telling.floods, *concerned)):
        raised = by_person.get(person, [])
        going_on = person in telling.floods
        begun = flood_after(raised, rec.now, going_on)
        if begun is not going_on:
            count = sum(rec.now - FLOOD_WINDOW < at for at in raised)
            rec.note(INSTALLATION, FloodStep(person=person, begun=begun, count=count), boats=_struck(rec, person, told))
            found = True
    return found


def _struck(rec: Recorder, person: str, told: Told) -> list[str]:
    raised = rec.state.telling.raised
    return [rec.bundle.points[one.point].boat for one in raised if person in told.get(one.point, ())]


def free_from(rec: Recorder, person: str, *, first: bool = False) -> Ms:
    """The earliest instant at which this person is told of alarms below an emergency: in a flood one grouped text in
    ten minutes (our choice: the window by which a flood is known). first: the first text of an alarm, which nothing may
    hold back (design rule 11): it is only gathered with what comes within the same minute."""
    told = rec.state.telling.floods.get(person)
    return rec.now if not told else max(rec.now, told + (GATHERED_FOR if first else FLOOD_WINDOW))


def next_over(rec: Recorder) -> list[Ms]:
    """The instants at which floods end by themselves."""
    floods = rec.state.telling.floods
    raised = _raised_by_person(rec, _told_of_raised(rec)) if floods else {}
    over = (flood_over_at(raised.get(person, [])) for person in floods)
    return [rec.state.now if at is None else at for at in over]
