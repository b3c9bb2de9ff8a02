"""One alarm as it is told, in whatever notice."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from gateway.alarms.life import AlarmState
from gateway.reckoning.own_sums import Reckons
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class BankAhead:
    """The house bank as it can be told now. charge: per cent by the shunt, None when not known. limit: per cent that is
    counted down to. left: in words, until then at the present load, "" when there is none to tell. missing: why not.
    steady: nothing is drawn. by: what the charge is read from."""

    charge: Decimal | None
    limit: Decimal
    left: str
    missing: str = ""
    steady: bool = False
    by: str = "shunt"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """What one of the boat's own sums says now. sum: its id. says: numbers and findings by what they are to this kind
    of sum, nothing where it could not be reckoned; missing: then why not. at: an instant that belongs to it."""

    sum: str
    reckons: Reckons
    says: Mapping[str, str] = field(default_factory=dict)
    missing: str = ""
    at: Ms | None = None

    @property
    def of_note(self) -> bool:
        """Whether it says something that a person who asks after the whole boat should hear: no tank that stands still,
        no pump that rests, no fuel that lasts while nothing burns it, no box that is cooled, no boat in her place."""
        plain = {"quiet", "steady", "low", "well", "dry", "still", "unknown", "in"}
        return not self.missing and self.reckons is not Reckons.FUEL and not plain & set(self.says)


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """One alarm as it is told. since: since when the condition has held. gone: since when it no longer does.
    offers: phrases that really work for this person now. received: instant of arrival when it came late, else None.
    until: when the way it is put aside ends (instant). worse: a warning that nobody took, told as an alarm now.
    old: whether measured is of the raising, and the condition not seen to hold now.
    bank: what the house bank has left, ahead: what another sum says, where the point asks for it. had_by: id of who had
    it and then gave no word, last_word: instant of the last one."""

    number: int
    point: str
    state: AlarmState
    since: Ms
    measured: str
    gone: Ms | None = None
    times: int = 1
    received: Ms | None = None
    found: bool = False
    until: Ms | None = None
    worse: bool = False
    offers: tuple[str, ...] = ()
    bank: BankAhead | None = None
    ahead: Ahead | None = None
    had_by: str | None = None
    old: bool = False
    last_word: Ms | None = None
