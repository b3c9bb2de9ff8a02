"""One alarm being called out, and the kinds of text that a call-out turns on."""

from dataclasses import dataclass

from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One alarm being called out.

    began: instant from which the list's delays count. next_step: place in the list. last_round: instant of the last
    round. holder: id of the person who has it. told: ids of those texted since the list began, in order of the first
    text. knew: of those who know of it otherwise: from before the list began anew (a warning that got worse, a holder
    who gave no word), or by a call alone.
    answered_ok: ids of those who were answered NOT TAKEN. over: nobody need be called any more (condition gone).
    muted: nobody was told, because of how the boat is kept or who is known to be aboard.
    hastened: a text was refused, or did not arrive, or is long in going, so the list's next step is due at once.
    quiet: ids of those who want no reminders of it, each with the instant at which that ends.
    retried: ids of those who were told once more because a text had not arrived.
    anew: nobody was told while somebody was aboard; it is told if it outlasts its own delay after that.
    rejoined: raised again since the last round. waiting: ids of those whose first text of it a limit held back, each
    with the instant from which there is room.
    """

    number: int
    point: str
    boat: str
    priority: Priority
    began: Ms
    next_step: int = 0
    last_round: Ms | None = None
    holder: str | None = None
    told: tuple[str, ...] = ()
    answered_ok: tuple[str, ...] = ()
    over: bool = False
    muted: bool = False
    hastened: bool = False
    rejoined: bool = False
    anew: bool = False
    waiting: tuple[tuple[str, Ms], ...] = ()
    retried: tuple[str, ...] = ()
    quiet: tuple[tuple[str, Ms], ...] = ()
    knew: tuple[str, ...] = ()

    @property
    def heard_of(self) -> tuple[str, ...]:
        """Ids of all who were told of it, however often its list began: whom its holder and its end concern."""
        return tuple(dict.fromkeys((*self.told, *self.knew)))

    def is_quiet(self, person: str, now: Ms) -> bool:
        """Whether this person wants no reminders of it at this instant; of an emergency nobody may want that."""
        wished = any(one == person and now < until for one, until in self.quiet)
        return wished and self.priority is not Priority.EMERGENCY


UNTOLD = "untold meanwhile"
"""Kind of the text that says which alarms could not be told while the carrier was away."""

TRIAL_TEXT = "test text"
"""Kind of the text by which a phone that had opted out is tried."""

PRACTICE_TOLD = "practice told"
"""Kind of the text that calls out a point for practice."""

PRACTICE_RUNG = "practice called"
"""Kind of what is spoken in a call for practice."""

WELCOME = "welcome"
"""Kind of the first text to a new person."""

WATCHED = frozenset({TRIAL_TEXT, PRACTICE_TOLD, WELCOME})
"""Kinds of text besides alarms whose arrival matters."""

NOT_TAKEN = "not taken"
"""Kind of the text that answers "ok" to an alarm nobody holds."""

ALARM_TOLD = "alarm told"
"""Kind of the text that tells of an alarm."""

ALARM_RUNG = "alarm called"
"""Kind of what is spoken in a call that tells of an alarm."""

ALARM_GONE = "alarm gone"
"""Kind of the text that tells that a condition has gone."""

SHARED_TOLD = "shared matter told"
"""Kind of the text that tells of one matter of several boats."""

FLOOD_TOLD = "flood told"
"""Kind of the text that tells of many alarms at once."""

SHARED_GONE = "shared matter gone"
"""Kind of the text that tells that such a matter is over."""

GROUPED = frozenset({SHARED_TOLD, SHARED_GONE, FLOOD_TOLD})
"""Kinds of text that tell of several boats or of many alarms at once."""

TELLS = frozenset({ALARM_TOLD, SHARED_TOLD, FLOOD_TOLD})
"""Kinds of text by which a person first hears of alarms."""
