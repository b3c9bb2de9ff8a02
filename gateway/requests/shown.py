"""What the boat showed of her equipment, as it is kept."""

from dataclasses import dataclass

from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Switched:
    """What a feedback contact showed last, and since when (arrival)."""

    on: bool
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class LockOut:
    """A maintenance lock-out that is set: what the boat says of it, and since when it was seen so (arrival)."""

    value: str
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Failed:
    """Commands of one action in a row that were not proved. at: instant of the last one's end."""

    count: int
    at: Ms
