"""Call-out lists as they are at a moment: with whoever is on duty then in place."""

from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.people.roster import on_duty
from gateway.telling.duty import OnDuty
from gateway.telling.settings import CallOutList
from gateway.vocabulary.moments import Ms


def duty_of(state: State, bundle: Bundle, boat: str, now: Ms) -> str | None:
    """The id of whoever is on duty for a boat (key) at this instant: by a person's word while it holds, else by the
    roster. None where that names nobody, or somebody to whom the boat is no matter."""
    said = said_of(state, bundle, boat, now)
    return said.person if said is not None else rostered(state, bundle, boat, now)


def said_of(state: State, bundle: Bundle, boat: str, now: Ms) -> OnDuty | None:
    """Who is on duty by a person's word that still holds."""
    said = state.duty.said.get(boat)
    over = said is None or (said.until is not None and said.until <= now)
    return None if said is None or over or not _has(bundle, said.person, boat) else said


def rostered(state: State, bundle: Bundle, boat: str, now: Ms) -> str | None:
    """Who is on duty by the roster of the files alone."""
    person = on_duty(bundle.roster, now + state.clock_offset, bundle.boats[boat].zone)
    return person if person is not None and _has(bundle, person, boat) else None


def _has(bundle: Bundle, person: str, boat: str) -> bool:
    known = bundle.people.get(person)
    return known is not None and boat in known.boats


def list_now(state: State, bundle: Bundle, point: str, now: Ms) -> CallOutList:
    """A point's call-out list as it is at this instant."""
    return bundle.lists[point].while_on_duty(duty_of(state, bundle, bundle.points[point].boat, now))
