"""How long cold food keeps in a box that is not cooled (handbook 4.7).

An unopened refrigerator about 4 h, a full freezer about 48 h, a half full one about 24 h; perishables are discarded
after 2 h above 4.4 C (40 F). Sources: USDA FSIS release of 24 October 2007; FoodSafety.gov as quoted 29 October 2020;
food pages of FDA and CDC for emergencies. One official text says 4 h above 40 F; the stricter 2 h count here. Boxes
on boats are smaller and close less well: upper bounds (common practice). It is no record of food's fitness: it gives
temperature and hours, and the word for "no danger" is never said.
"""

from collections.abc import Sequence
from enum import StrEnum
from typing import NamedTuple

from gateway.reckoning.answers import Due, Found, NotReckoned
from gateway.reckoning.asking import Choice, Instant, Result, Sum
from gateway.vocabulary.moments import HOUR, Ms


class Box(StrEnum):
    """What kind of box. The text of each is how it is written at the bench."""

    REFRIGERATOR = "refrigerator"
    FULL_FREEZER = "freezer-full"
    HALF_FREEZER = "freezer-half"

    @property
    def keeps(self) -> Ms:
        """How long it keeps cold unopened and not cooled (ms), about."""
        return {Box.REFRIGERATOR: 4 * HOUR, Box.FULL_FREEZER: 48 * HOUR, Box.HALF_FREEZER: 24 * HOUR}[self]

    @property
    def limit_c(self) -> float:
        """At or below this it is within its limit, C: 4.4 (40 F), a freezer -18 (0 F)."""
        return 4.4 if self is Box.REFRIGERATOR else -18.0


PERISHABLE_C = 4.4
"""40 F: above it perishables count their hours, in whatever box."""
PERISHABLE_FOR: Ms = 2 * HOUR


class ColdReading(NamedTuple):
    """What is known at an instant (ms UTC): whether the compressor is supplied, the box's temperature, C, or None."""

    at: Ms
    supplied: bool
    celsius: float | None


class FoodLimit(NamedTuple):
    """at: when the first of the limits is reached (ms UTC). rule: which, in words."""

    at: Ms
    rule: str


def clock_since(readings: Sequence[ColdReading], box: Box) -> Ms | None:
    """Since when the box's clock runs (ms UTC), None when it does not. readings: oldest first.

    It starts when the compressor is no longer supplied or the box leaves its limit, whichever is first, and ends only
    when it is supplied and measured within its limit again: supply alone proves nothing. Source: handbook 4.7.
    """
    since: Ms | None = None
    for reading in readings:
        within = reading.celsius is not None and reading.celsius <= box.limit_c
        beyond = reading.celsius is not None and not within
        if reading.supplied and within:
            since = None
        elif since is None and (beyond or not reading.supplied):
            since = reading.at
    return since


def warm_since(readings: Sequence[ColdReading]) -> Ms | None:
    """Since when the box is above 4.4 C without a break (ms UTC), None when it is not. readings: oldest first; one
    without a temperature changes nothing. Source: handbook 4.7."""
    since: Ms | None = None
    for reading in readings:
        if reading.celsius is None:
            continue
        if reading.celsius <= PERISHABLE_C:
            since = None
        elif since is None:
            since = reading.at
    return since


def food_limit(*, box: Box, off_since: Ms | None, warm_since: Ms | None) -> FoodLimit | None:
    """The first limit ahead or behind. off_since: since when the clock runs; warm_since: since when it is above 4.4 C
    (both ms UTC, None when it does not). None when neither runs. Source: handbook 4.7."""
    limits = []
    if off_since is not None:
        limits.append(FoodLimit(off_since + box.keeps, f"{box.keeps // HOUR} h limit"))
    if warm_since is not None:
        limits.append(FoodLimit(warm_since + PERISHABLE_FOR, f"{PERISHABLE_FOR // HOUR} h above 4.4 C"))
    return min(limits, default=None)


def _at_the_bench(box: str, off_since: Ms | None, warm_since: Ms | None) -> tuple[Result, ...]:
    limit = food_limit(box=Box(box), off_since=off_since, warm_since=warm_since)
    if limit is None:
        return (Result("Limit", NotReckoned("give since when it is off, or since when it is above 4.4 C")),)
    return (Result("Which limit", Found(limit.rule)), Result("It is reached", Due(limit.at)))


FOOD = Sum(
    name="food",
    asks="When is cold food's limit reached in a box without cooling?",
    takes=(
        Choice(key="box", words="the box", options=tuple(Box)),
        Instant(key="off_since", words="since when the compressor is not supplied", needed=False),
        Instant(key="warm_since", words="since when it is above 4.4 C", needed=False),
    ),
    reckon=_at_the_bench,
    formula="refrigerator 4 h, full freezer 48 h, half full 24 h unopened; or 2 h above 4.4 C: whichever is first",
    source=(
        "handbook 4.7; USDA FSIS release of 24 October 2007, FoodSafety.gov (29 October 2020), FDA and CDC emergency "
        "food pages"
    ),
    caution=(
        "Upper bounds: a boat's box is smaller and opened. Frozen food may be refrozen with ice crystals in it or at "
        "4.4 C or below. Never taste food to test it. When in doubt throw it out."
    ),
)
