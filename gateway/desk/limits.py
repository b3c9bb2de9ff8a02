"""From when on one more text of an alarm may go, by all the limits there are: the person's, the boat's, all boats'."""

from gateway.desk.turn import Recorder
from gateway.telling.facts import HeldBack
from gateway.telling.pacing import alarm_free_from, free_from, is_capped
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import DAY, Ms
from gateway.vocabulary.priority import Priority


def room(rec: Recorder, person: str, boat: str, priority: Priority, again: bool) -> tuple[Ms, str]:
    """The earliest instant at which this person may be told so of an alarm, and which limit says so. boat: key, "" for
    a text about several. What no limit may hold back has room now, always (design rule 11)."""
    pacing, telling = rec.bundle.pacing, rec.state.telling
    if not is_capped(priority, again):
        return rec.now, ""
    own = alarm_free_from(telling.sent_to(person), priority, again, pacing, rec.now)
    of_all = free_from(telling.capped.get("", ()), pacing.all_boats_a_day, DAY, rec.now)
    dues = [(own, f"limit on {priority} texts"), (of_all, "limit on all boats' texts a day")]
    if boat:
        of_boat = free_from(telling.capped.get(boat, ()), pacing.boat_a_day, DAY, rec.now)
        dues.append((of_boat, "limit on this boat's texts a day"))
    return max(dues, key=lambda due: due[0])


def has_room(
    rec: Recorder,
    person: str,
    boat: str,
    priority: Priority,
    again: bool,
    *,
    about: str,
    numbers: tuple[int, ...],
    boats: tuple[str, ...] = (),
) -> bool:
    """Whether it may go now; what may not is recorded with the reason. boats: whose matter it is, where boat is ""."""
    free, because = room(rec, person, boat, priority, again)
    if free <= rec.now:
        return True
    fact = HeldBack(person=person, about=about, because=because, numbers=numbers, until=free)
    rec.note(boat or INSTALLATION, fact, boats=boats)
    return False
