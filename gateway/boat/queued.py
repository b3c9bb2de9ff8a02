"""Whether a message that says nothing of its age may have lain in a queue, and for how long that must be feared.

MQTT 3.1.1 and 5 give a message no time of sending. So a message out of a queue (that of the boat's broker, of a node
on board, or of ours) can be told from a new one by nothing but this: its signal was silent, and a queue lets go faster
than it filled. How much faster must be assumed, for a link that carries no more than the boat sends never catches up,
and what comes over it looks like what is new. We assume half as fast again (our choice).
"""

from dataclasses import dataclass, field

from gateway.boat.settings import Signal
from gateway.vocabulary.moments import SECOND, Ms
from gateway.vocabulary.readings import Reading

PAUSE = 30 * SECOND
"""A boat of which nothing has come for longer may have come back from a silence (our choice: the shortest report
interval in the starter)."""


def doubt_after(silence: Ms) -> Ms:
    """How long after a silence (ms) its queue may last at the most: one that lets go half as fast again as it filled
    gains half of the time that passes, so twice the silence."""
    return 2 * silence


def least_pause(pace: Ms, report_interval: Ms) -> Ms:
    """Between two messages of a signal in its own rhythm lie at least so many ms: four fifths of the pauses that were
    heard of it before (0: none were, and the report interval stands for them), so that what comes half as fast again is
    found out (two thirds), with some play for the node's clock; and never less than two fifths of the report interval,
    because the one that `listen` proposes is up to two and a half times as long as the pauses that were heard (our
    choice)."""
    return max((pace or report_interval) * 4 // 5, report_interval * 2 // 5)


def paced(pace: Ms, pause: Ms) -> Ms:
    """The usual pause of a signal after one more: that which about one in five is longer than. It is drawn up by a
    sixteenth and down by a sixty-fourth, so that neither a burst of changes nor a message lost moves it far (our
    choice)."""
    if not pace:
        return pause
    return pace + (pace >> 4) if pause > pace else pace - (pace >> 6)


@dataclass(slots=True)
class Queues:
    """What is feared and known of each signal, by its id. until: the instant (ms UTC) by which a queue that it may come
    out of must have ended; absent when nothing is feared. before: when the message before its last one came, where both
    came behind the silence. pace: its usual pause (ms)."""

    until: dict[str, Ms] = field(default_factory=dict)
    before: dict[str, Ms] = field(default_factory=dict)
    pace: dict[str, Ms] = field(default_factory=dict)

    def may_be_queued(self, signal: Signal, last: Ms, now: Ms) -> bool:
        """Whether what comes now, its last one having come at `last`, may be out of a queue. So it is with what comes
        first behind three reports of silence, and until two pauses in a row were as long as its own, or so much time
        has passed that the queue must be empty."""
        if now - last > signal.stale_after:
            return True
        if signal.id not in self.until or now >= self._empty_at(signal.id, last, now):
            return False
        before = self.before.get(signal.id)
        least, most = least_pause(self.pace.get(signal.id, 0), signal.report_interval), signal.stale_after
        return before is None or not (least <= now - last <= most and least <= last - before <= most)

    def _empty_at(self, signal: str, last: Ms, now: Ms) -> Ms:
        """By when the queue must have ended. In a stall, of more than three usual pauses, it has filled on and has not
        let go."""
        pause, usual = now - last, self.pace.get(signal, 0)
        stalled = usual and pause > max(PAUSE, 3 * usual)
        return self.until[signal] + (pause + doubt_after(pause) if stalled else 0)

    def takes(self, reading: Reading, last: Ms | None, now: Ms, silence: Ms) -> None:
        """Learn from one marked message that is not retained. last: when the one before it came. silence: of the boat
        (ms), for a signal that was never heard. By its marks, because the settings that they were made by are not known
        any more when the record is folded."""
        signal = reading.signal
        if not reading.late:
            if reading.own_time is None and last is not None:
                self.pace[signal] = paced(self.pace.get(signal, 0), now - last)
            self.until.pop(signal, None)
            self.before.pop(signal, None)
        elif reading.own_time is not None:  # so old was what came; what follows it may be so, too
            self._fear(signal, now + doubt_after(now - reading.own_time))
        elif signal not in self.until:
            if not reading.timeless:
                self._fear(signal, now + doubt_after(silence if last is None else now - last))
        elif last is not None:
            self.until[signal] = self._empty_at(signal, last, now)
            self.before[signal] = last

    def _fear(self, signal: str, until: Ms) -> None:
        self.until[signal] = max(until, self.until.get(signal, 0))
        self.before.pop(signal, None)
