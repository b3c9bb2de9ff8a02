"""How much one person gets. Small rules that say from when on one more may go."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from gateway.telling.settings import Pacing
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms
from gateway.vocabulary.priority import Priority

ANSWER_WINDOW = 10 * MINUTE
"""Over how long answers to texts not understood are counted (design rule 7)."""

QUIET_HOURS = "quiet hours"
"""Why a warning or a caution waits (handbook 2.3: nothing slight while people sleep)."""

NOT_READ = "not understood"
"""Kind of text that answers one that was not understood."""


@dataclass(frozen=True, slots=True)
class Sent:
    """One text that went to a person: instant, kind, priority of what it told, whether it was a repeat."""

    at: Ms
    about: str
    priority: Priority | None
    again: bool


def free_from(times: Sequence[Ms], count: int, per: Ms, now: Ms) -> Ms:
    """The earliest instant at which one more may go, when at most `count` may go in any stretch of length `per`.

    times: instants already used, oldest first. A text that leaves exactly when the oldest is `per` old is free.
    """
    recent = len(times) - bisect_right(times, now - per)
    return now if recent < count else times[-count] + per


def is_capped(priority: Priority | None, again: bool) -> bool:
    """Whether a limit may hold back such a text of an alarm, and so whether it counts towards one (design rule 11)."""
    return priority in (Priority.WARNING, Priority.CAUTION) or (priority is Priority.ALARM and again)


def alarm_free_from(sent: Sequence[Sent], priority: Priority, again: bool, limits: Pacing, now: Ms) -> Ms:
    """The earliest instant at which this person may be told of an alarm of this priority.

    Emergencies at once, always. The first text of an alarm at once, always; its repeats, and every text of a
    warning or caution, within the person's limits (design rule 11).
    """
    if not is_capped(priority, again):
        return now
    if priority is Priority.ALARM:
        repeats = [text.at for text in sent if text.priority is Priority.ALARM and text.again]
        return free_from(repeats, limits.alarm_repeats_an_hour, HOUR, now)
    lesser = [text.at for text in sent if text.priority in (Priority.WARNING, Priority.CAUTION)]
    return max(
        free_from(lesser, limits.warnings_an_hour, HOUR, now), free_from(lesser, limits.warnings_a_day, DAY, now)
    )


def may_answer(sent: Sequence[Sent], limits: Pacing, now: Ms) -> bool:
    """Whether one more text that was not understood gets an answer; two machines must not talk for ever."""
    answers = [text.at for text in sent if text.about == NOT_READ]
    return free_from(answers, limits.answers_in_ten_minutes, ANSWER_WINDOW, now) <= now
