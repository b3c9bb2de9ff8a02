"""What the stages of a request may ask about the boat and the moment. The desk answers."""

from typing import Protocol

from gateway.alarms.aboard import Occupied
from gateway.alarms.settings import Concerns
from gateway.boat.latest import Latest
from gateway.boat.settings import Boat, Senses, Signal
from gateway.conditions.judging import Judged
from gateway.vocabulary.moments import Ms
from grammar.meanings import Condition


class World(Protocol):
    """One moment of the whole installation. Instants are ms UTC."""

    @property
    def now(self) -> Ms:
        """The moment."""
        ...

    def wall(self, at: Ms) -> Ms:
        """An instant as the wall clock shows it (ms UTC): what is written for others to read."""
        ...

    def clock_doubtful(self) -> bool:
        """Whether our clock and the carrier's differ by more than 2 min (design 3): then nothing is commanded."""
        ...

    def boat(self, key: str) -> Boat:
        """A boat's settings."""
        ...

    def judge(self, boat: str, condition: Condition) -> Judged:
        """What an interlock may rely on; stale, late, retained, unreadable and never heard are unknown."""
        ...

    def latest(self, signal: str) -> Latest | None:
        """The newest value of a signal (id)."""
        ...

    def signal(self, signal: str) -> Signal:
        """A signal's settings (id)."""
        ...

    def sensing(self, boat: str, senses: Senses) -> tuple[Signal, ...]:
        """The boat's signals of this kind, in order of their ids."""
        ...

    def occupied(self, boat: str) -> Occupied | None:
        """Who must be taken to be aboard; None only after a named person ended the visit."""
        ...

    def alarm_active(self, boat: str, concerns: Concerns) -> int | None:
        """Number of an alarm of this kind that stands and whose condition holds or that is latched; None if none."""
        ...

    def silent_since(self, boat: str) -> Ms | None:
        """Instant since when the boat is overdue (a `no news` point of it is active), None when it is heard."""
        ...

    def link_up(self, boat: str) -> bool:
        """Whether we are connected to the boat's broker."""
        ...

    def minute_of_day(self, boat: str, at: Ms) -> int:
        """Minutes after midnight, boat time, at an instant."""
        ...

    def next_clock_time(self, boat: str, minute: int) -> Ms:
        """The next instant at which the boat's clock shows this minute of the day (0 to 1439), later than now. A time
        that a clock change leaves out comes at the first valid minute after it."""
        ...
