"""How often a carrier is asked for texts: often while an answer is to be expected, seldom otherwise. Pure.

A poll costs some kB on a metered link. An alarm text, an open code and a command under way are answered within
minutes; nothing else that comes by text is in a hurry.
"""

from dataclasses import dataclass

from gateway.desk.state import State
from gateway.vocabulary.moments import MINUTE, SECOND, Ms

FAST_FOR: Ms = 15 * MINUTE
"""How long after an alarm text an answer is waited for (common practice, no source: by then the next person on the
list has been told, and that is an alarm text, too)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Time between two polls. idle: when nothing is waited for. fast: while an answer is."""

    idle: Ms
    fast: Ms


ALONE = Pace(idle=2 * MINUTE, fast=15 * SECOND)
"""Where texts come in by polls alone (common practice, no source: 15 to 30 s give an answer within half a minute and
cost some 3 MB a day by measured sizes; 2 min when idle cost a quarter of that)."""

BESIDE_A_HOOK = Pace(idle=10 * MINUTE, fast=2 * MINUTE)
"""Where a web hook brings them: polls pick up what the hook lost. While an answer is waited for they come often enough
for a command, which may be 5 min old, to be found in time (our choice)."""


def pace_of(idle: Ms | None, fast: Ms | None, *, hook: bool) -> Pace:
    """The installer's pace, with ours where nothing was said."""
    usual = BESIDE_A_HOOK if hook else ALONE
    idle = usual.idle if idle is None else idle
    return Pace(idle=idle, fast=min(idle, usual.fast if fast is None else fast))


def poll_every(pace: Pace, *, now: Ms, last_alarm_text: Ms | None, waits: bool) -> Ms:
    """Time from one poll to the next. last_alarm_text: instant at which the last one was queued, None: none lately.
    waits: a code is open or a command is under way."""
    expected = last_alarm_text is not None and now - last_alarm_text < FAST_FOR
    return pace.fast if waits or expected else pace.idle


def last_alarm_text(state: State) -> Ms | None:
    """When the last text of an alarm was queued, to anybody and of any priority."""
    texts = (text.at for sent in state.telling.sent.values() for text in sent if text.priority is not None)
    return max(texts, default=None)


def is_waiting(state: State) -> bool:
    """Whether a code is open or a command is under way."""
    return bool(state.requests.open)
