"""Days on which a person is away, and somebody else stands in."""

from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from gateway.vocabulary.moments import Ms, as_utc


@dataclass(frozen=True, slots=True)
class Days:
    """first, last: both whole days of the person's own zone."""

    first: date
    last: date

    def hold(self, at: Ms, zone: ZoneInfo) -> bool:
        """Whether an instant (ms UTC, by the wall clock) lies in them."""
        return self.first <= as_utc(at).astimezone(zone).date() <= self.last
