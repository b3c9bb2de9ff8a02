"""The newest value of each signal, how fresh it is, and when each boat was last heard."""

from dataclasses import dataclass, field, replace

from gateway.boat.queued import PAUSE, Queues, doubt_after
from gateway.boat.settings import Senses, Signal
from gateway.vocabulary.moments import MINUTE, Ms
from gateway.vocabulary.readings import Grade, Reading, Value

MOST_AHEAD = MINUTE
"""An own time further ahead than this is taken as the time of arrival (design 3: 60 s)."""

CLOCK_SET: Ms = 1_577_836_800_000
"""2020-01-01T00:00:00Z. A node that measures today and names an earlier time has a clock that was never set (they
count from 1970 or 2000) or has lost its date (a satellite receiver that is 1024 weeks behind): our choice."""


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
    """A boat was heard again: at which instant, after how long a silence (ms), and by when (instant) its queue must
    have ended. A stall within that time is still part of that silence."""

    at: Ms
    silence: Ms
    until: Ms


@dataclass(slots=True)
class BoatsSeen:
    """What the boats said last. latest: by signal id. heard: instant of the last live message, by boat key; arrived:
    the same by signal id, whatever time that message told of. back: when each boat was last heard again, by boat key.
    queues: which signals may come out of a queue.

    unreadable: how many unreadable payloads in a row, by signal id; absent when the last one could be read. timeless:
    the same of times that could not be used.
    """

    latest: dict[str, Latest] = field(default_factory=dict)
    heard: dict[str, Ms] = field(default_factory=dict)
    arrived: dict[str, Ms] = field(default_factory=dict)
    unreadable: dict[str, int] = field(default_factory=dict)
    back: dict[str, Back] = field(default_factory=dict)
    timeless: dict[str, int] = field(default_factory=dict)
    queues: Queues = field(default_factory=Queues)

    def may_be_queued(self, signal: Signal, now: Ms) -> bool:
        """Whether a live message that says nothing of its age may have lain in a queue. A signal that was never heard
        may have when its boat was silent."""
        last = self.arrived.get(signal.id)
        if last is not None:
            return self.queues.may_be_queued(signal, last, now)
        back = self._back(signal.boat, now)
        return back is not None and back.silence > signal.stale_after and now <= back.until

    def _back(self, boat: str, now: Ms) -> Back | None:
        """When the boat was last heard again, if she is heard now."""
        last, back = self.heard.get(boat), self.back.get(boat)
        if last is None or now - last <= PAUSE:
            return back
        if back is not None and now <= back.until and now - last < back.silence:
            return Back(now, back.silence, back.until)
        return Back(now, now - last, now + doubt_after(now - last))

    def absorb(self, reading: Reading, now: Ms, boat: str, *, alive: bool = True) -> bool:
        """Take in one marked reading. alive: what `is_sign_of_life` says, where it is not retained. True when it became
        the newest of its signal."""
        if not reading.retained:
            back = self._back(boat, now)
            silence = 0 if back is None else back.silence
            self.queues.takes(reading, self.arrived.get(reading.signal), now, silence)
            self.arrived[reading.signal] = now
            if alive:
                self.heard[boat] = now
                if back is not None:
                    self.back[boat] = back
        if reading.grade is Grade.UNREADABLE:
            self.unreadable[reading.signal] = self.unreadable.get(reading.signal, 0) + 1
        else:
            self.unreadable.pop(reading.signal, None)
        if reading.timeless:
            self.timeless[reading.signal] = self.timeless.get(reading.signal, 0) + 1
        else:
            self.timeless.pop(reading.signal, None)
        measured = now if reading.own_time is None else reading.own_time
        known = self.latest.get(reading.signal)
        if known is not None and measured < known.measured:
            return False
        self.latest[reading.signal] = Latest(reading, measured, now)
        return True


def is_sign_of_life(reading: Reading, signal: Signal | None) -> bool:
    """Whether the boat herself must have sent it just now. A retained value is the broker's, and so is the last will
    that says that her link has gone (MQTT 5, 3.1.2.5)."""
    will = signal is not None and signal.senses is Senses.LINK and reading.value is False
    return not reading.retained and not will


def marked(reading: Reading, signal: Signal, known: Latest | None, now: Ms, *, queued: bool = False) -> Reading:
    """The reading with its marks: late when older than its signal's newest or than the signal's stale time; an own
    time more than 60 s ahead is dropped, so that it counts as measured on arrival, and the reading says so.

    Where an own time should stand and none can be used (it cannot be read, or is that of a clock that was never set),
    nobody knows how old the value is: it counts as measured on arrival, and as late. Without any own time it is late
    when it may have lain in a queue. queued: as `BoatsSeen.may_be_queued` says.
    """
    if reading.timeless:
        return replace(reading, late=True)
    if reading.own_time is None:
        return replace(reading, late=True) if queued and not reading.retained else reading
    if reading.own_time > now + MOST_AHEAD:
        return replace(reading, own_time=None, ahead=True)
    if reading.own_time < CLOCK_SET:
        return replace(reading, own_time=None, late=True, timeless=True)
    older = known is not None and reading.own_time < known.measured
    if older or now - reading.own_time > signal.stale_after:
        return replace(reading, late=True)
    return reading


def is_stale(latest: Latest | None, signal: Signal, now: Ms) -> bool:
    """Whether a signal says nothing about the present: never heard, or silent for three report intervals, or what
    came last was measured longer ago than that (handbook section 3)."""
    return latest is None or now - latest.arrived > signal.stale_after or now - latest.measured > signal.stale_after
