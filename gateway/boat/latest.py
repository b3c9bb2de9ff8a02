"""The newest value of each signal, how fresh it is, and when each boat was last heard."""

from dataclasses import dataclass, field, replace

from gateway.boat.settings import Signal
from gateway.vocabulary.moments import MINUTE, Ms
from gateway.vocabulary.readings import Grade, Reading, Value

MOST_AHEAD = MINUTE
"""An own time further ahead than this is taken as the time of arrival (design 3: 60 s)."""


@dataclass(frozen=True, slots=True)
class Latest:
    """The newest reading of a signal.

    measured: the boat's own time, else that of arrival; arrived: when we took it (both instants, ms UTC).
    """

    reading: Reading
    measured: Ms
    arrived: Ms

    @property
    def value(self) -> Value:
        """Number, contact, word, or None when unreadable."""
        return self.reading.value

    @property
    def sure(self) -> bool:
        """Neither late, nor of unknown age, nor unreadable: may satisfy an interlock or clear an alarm."""
        return not (self.reading.late or self.reading.retained or self.reading.grade is Grade.UNREADABLE)


@dataclass(slots=True)
class BoatsSeen:
    """What the boats said last. latest: by signal id. heard: instant of the last live message, by boat key; arrived:
    the same by signal id, whatever time that message told of.

    unreadable: how many unreadable payloads in a row, by signal id; absent when the last one could be read.
    """

    latest: dict[str, Latest] = field(default_factory=dict)
    heard: dict[str, Ms] = field(default_factory=dict)
    arrived: dict[str, Ms] = field(default_factory=dict)
    unreadable: dict[str, int] = field(default_factory=dict)

    def absorb(self, reading: Reading, now: Ms, boat: str) -> bool:
        """Take in one marked reading. True when it became the newest of its signal."""
        if not reading.retained:
            self.heard[boat] = self.arrived[reading.signal] = now
        if reading.grade is Grade.UNREADABLE:
            self.unreadable[reading.signal] = self.unreadable.get(reading.signal, 0) + 1
        else:
            self.unreadable.pop(reading.signal, None)
        measured = now if reading.own_time is None else reading.own_time
        known = self.latest.get(reading.signal)
        if known is not None and measured < known.measured:
            return False
        self.latest[reading.signal] = Latest(reading, measured, now)
        return True


def marked(reading: Reading, signal: Signal, known: Latest | None, now: Ms) -> Reading:
    """The reading with its marks: late when older than its signal's newest or than the signal's stale time; an own
    time more than 60 s ahead is dropped, so that it counts as measured on arrival, and the reading says so."""
    if reading.own_time is None:
        return reading
    if reading.own_time > now + MOST_AHEAD:
        return replace(reading, own_time=None, ahead=True)
    older = known is not None and reading.own_time < known.measured
    if older or now - reading.own_time > signal.stale_after:
        return replace(reading, late=True)
    return reading


def is_stale(latest: Latest | None, signal: Signal, now: Ms) -> bool:
    """Whether a signal says nothing about the present: never heard, or silent for three report intervals, or what
    came last was measured longer ago than that (handbook section 3)."""
    return latest is None or now - latest.arrived > signal.stale_after or now - latest.measured > signal.stale_after
