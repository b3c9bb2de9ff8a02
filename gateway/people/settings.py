"""What the installer says of the people."""

from dataclasses import dataclass
from enum import StrEnum
from zoneinfo import ZoneInfo

from gateway.people.away import Days
from gateway.people.quiet import NIGHT, QuietHours
from gateway.people.regular import Wish
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority


class Role(StrEnum):
    """What a person is to the boats. Used in wording and for who is told of trouble with the gateway itself."""

    OWNER = "owner"
    CARETAKER = "caretaker"
    INSTALLER = "installer"
    OFFICE = "office"


@dataclass(frozen=True, slots=True, kw_only=True)
class Right:
    """What a person may switch: one boat (key) and one piece of equipment (key), "*" for every one.
    actions: of those that a text may ask of the equipment; empty means all. begins, ends: hours in which it may be
    brought to life, minutes after midnight, begin inside, end outside, past midnight where the end comes first; both
    None: at every hour. They are boat time, as permitted hours and the roster are: what is right beside a boat depends
    on her clock, wherever the person is (our choice)."""

    boat: str
    equipment: str
    actions: tuple[str, ...] = ()
    begins: int | None = None
    ends: int | None = None

    def holds_at(self, minute: int) -> bool:
        """Whether the hours cover this minute of the boat's day (0 to 1439)."""
        if self.begins is None or self.ends is None:
            return True
        if self.begins < self.ends:
            return self.begins <= minute < self.ends
        return minute >= self.begins or minute < self.ends


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """One person.

    id: random, given at first load; the only name of a person in the logbook's entries. key: in the files.
    number: E.164. zone: for quiet hours and local times. boats: keys of the boats that are this person's matter.
    consent: how and when the person agreed to be texted, "" when missing. mail: an installer's address, "" when none.
    language: in which this person's texts are read and, as far as it is translated, answered ("en", ISO 639-1).
    quiet: when warnings and cautions wait, in the person's zone; None when never.
    stand_in: id of who takes this person's turns on the days of `away`, and what a limit holds back at any time.
    wishes: what this person gets regularly, unasked; one of a kind.
    proved: instant (ms UTC) at which an installer (proved_by, a key) last made sure that the number is this person's,
    by meeting or ringing; None when nobody said so. It ends a lock of commands that began before.
    """

    id: str
    key: str
    name: str
    number: str
    role: Role
    zone: ZoneInfo
    boats: tuple[str, ...]
    rights: tuple[Right, ...] = ()
    consent: str = ""
    mail: str = ""
    language: str = "en"
    wishes: tuple[Wish, ...] = ()
    quiet: QuietHours | None = None
    stand_in: str | None = None
    away: tuple[Days, ...] = ()
    proved: Ms | None = None
    proved_by: str = ""

    def may(self, boat: str, equipment: str, action: str) -> bool:
        """Whether the person may ask for this action on this boat's equipment, at whatever hour."""
        return bool(self.rights_to(boat, equipment, action))

    def rights_to(self, boat: str, equipment: str, action: str) -> tuple[Right, ...]:
        """The rights that cover this action on this boat's equipment, whatever their hours."""
        if boat not in self.boats:
            return ()
        return tuple(
            right
            for right in self.rights
            if right.boat in (boat, "*")
            and right.equipment in (equipment, "*")
            and (not right.actions or action in right.actions)
        )

    def quiet_of(self, priority: Priority) -> QuietHours | None:
        """The hours in which what has this priority waits: own ones for warnings and cautions; for a caution the night
        also where none are written down. An alarm never waits, its reminders neither (our choice: its first text may
        not have woken anybody)."""
        if priority is Priority.CAUTION:
            return NIGHT if self.quiet is None else self.quiet
        return self.quiet if priority is Priority.WARNING else None
