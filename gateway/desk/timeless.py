"""Times of measurement that cannot be used: kept, and told once where that lasts.

The values count all the same, as if measured on arrival, but clear nothing and let nothing be switched (`marked`). What
stands still then is told of a whole boat in one text: her values mostly carry the time of one clock.
"""

from collections.abc import Sequence

from gateway.boat.settings import Signal
from gateway.conditions.facts import SignalTimed, SignalTimeless
from gateway.desk.turn import Recorder
from gateway.telling.trouble_notices import TimesBad
from gateway.vocabulary.readings import Reading

TIMELESS_LASTS = 5
"""Times in a row after which somebody is told: as many as of payloads that cannot be read (our choice)."""


def noted(rec: Recorder, signal: Signal, reading: Reading, in_a_row_before: int) -> bool:
    """Note what has become of a signal's times. True when it has just lasted for long enough to be told."""
    if not reading.timeless:
        if in_a_row_before >= TIMELESS_LASTS:
            rec.note(signal.boat, SignalTimed(signal=signal.id))
        return False
    if in_a_row_before + 1 != TIMELESS_LASTS:
        return False
    rec.note(signal.boat, SignalTimeless(signal=signal.id, in_a_row=TIMELESS_LASTS))
    return True


def tell_times(rec: Recorder, signals: Sequence[Signal]) -> None:
    """Tell of these signals, unless the same has been told of others of that boat."""
    known = {signal for signal, count in rec.state.seen.timeless.items() if count >= TIMELESS_LASTS}
    for boat in sorted({signal.boat for signal in signals}):
        mine = tuple(sorted(signal.id for signal in signals if signal.boat == boat))
        if any(other.partition("/")[0] == boat for other in known - set(mine)):
            continue
        for person in rec.bundle.minders(boat):
            rec.tell(TimesBad(person=person, boat=boat, signals=mine))
