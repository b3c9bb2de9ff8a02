"""The newest value of each signal, how fresh it is, and when each boat was last heard."""

from dataclasses import dataclass, field, replace

from gateway.boat.settings import Senses, Signal
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading, Value

MOST_AHEAD = MINUTE
"""An own time further ahead than this is taken as the time of arrival (design 3: 60 s)."""

CLOCK_SET: Ms = 1_577_836_800_000
"""2020-01-01T00:00:00Z. A node that measures today and names an earlier time has a clock that was never set (they
count from 1970 or 2000) or has lost its date (a satellite receiver that is 1024 weeks behind): our choice."""

QUEUE_LETS_GO = 30 * SECOND
"""How long after a boat is heard again a broker may still be handing over what it kept meanwhile. Measured: tens of
thousands of kept messages in a second; the rest is room for a thin link (our choice)."""


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


@dataclass(frozen=True, slots=True)
class Back:
    """A boat was heard again: at which instant, and after how long a silence (ms)."""

    at: Ms
    silence: Ms


@dataclass(slots=True)
class BoatsSeen:
    """What the boats said last. latest: by signal id. heard: instant of the last live message, by boat key; arrived:
    the same by signal id, whatever time that message told of. back: when each boat was last heard again, by boat key.

    unreadable: how many unreadable payloads in a row, by signal id; absent when the last one could be read.
    """

    latest: dict[str, Latest] = field(default_factory=dict)
    heard: dict[str, Ms] = field(default_factory=dict)
    arrived: dict[str, Ms] = field(default_factory=dict)
    unreadable: dict[str, int] = field(default_factory=dict)
    back: dict[str, Back] = field(default_factory=dict)

    def silence_before(self, boat: str, now: Ms) -> Ms:
        """How long the boat had been silent (ms), while what a broker kept of that time may still be coming in: in the
        first moments after she is heard again, by her own broker's queue, by ours or over a restart. 0 else."""
        last, back = self.heard.get(boat), self.back.get(boat)
        if last is not None and now - last > QUEUE_LETS_GO:
            return now - last
        return back.silence if back is not None and now - back.at <= QUEUE_LETS_GO else 0

    def absorb(self, reading: Reading, now: Ms, boat: str, *, alive: bool = True) -> bool:
        """Take in one marked reading. alive: what `is_sign_of_life` says, where it is not retained. True when it became
        the newest of its signal."""
        if not reading.retained:
            self.arrived[reading.signal] = now
            if alive:
                self._hear(boat, now)
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

    def _hear(self, boat: str, now: Ms) -> None:
        last = self.heard.get(boat)
        if last is not None and now - last > QUEUE_LETS_GO:
            self.back[boat] = Back(now, now - last)
        self.heard[boat] = now


def is_sign_of_life(reading: Reading, signal: Signal | None) -> bool:
    """Whether the boat herself must have sent it just now. A retained value is the broker's, and so is the last will
    that says that her link has gone (MQTT 5, 3.1.2.5)."""
    will = signal is not None and signal.senses is Senses.LINK and reading.value is False
    return not reading.retained and not will


def marked(reading: Reading, signal: Signal, known: Latest | None, now: Ms, silence: Ms = 0) -> Reading:
    """The reading with its marks: late when older than its signal's newest or than the signal's stale time; an own
    time more than 60 s ahead is dropped, so that it counts as measured on arrival, and the reading says so.

    Without an own time, or with that of a clock that was never set, nobody knows how old it is: it counts as measured
    on arrival, and it is late when it may have lain in a queue for longer than the signal's stale time. silence: as
    `BoatsSeen.silence_before` says.
    """
    if reading.own_time is None:
        queued = not reading.retained and silence > signal.stale_after
        return replace(reading, late=True) if queued else reading
    if reading.own_time > now + MOST_AHEAD:
        return replace(reading, own_time=None, ahead=True)
    if reading.own_time < CLOCK_SET:
        return replace(reading, own_time=None, late=True)
    older = known is not None and reading.own_time < known.measured
    if older or now - reading.own_time > signal.stale_after:
        return replace(reading, late=True)
    return reading


def is_stale(latest: Latest | None, signal: Signal, now: Ms) -> bool:
    """Whether a signal says nothing about the present: never heard, or silent for three report intervals, or what
    came last was measured longer ago than that (handbook section 3)."""
    return latest is None or now - latest.arrived > signal.stale_after or now - latest.measured > signal.stale_after
