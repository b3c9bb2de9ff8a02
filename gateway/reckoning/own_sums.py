"""The sums that a boat's own texts carry: what each needs of the boat's signals and figures.

The installer names them in ``[sum.KEY]``; an alarm's ``reckon`` then names the sum. One table says, for every kind,
which signals it takes (and what those carry, in which unit), which figures (with the range of the sum itself) and which
words.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from gateway.boat.settings import Carries
from gateway.reckoning.asking import Choice, Quantity
from gateway.reckoning.bilge import BETWEEN_FLOATS_L
from gateway.reckoning.cold import Box
from gateway.reckoning.fuel import BURN_L_PER_H, FUEL_L, RESERVE_PERCENT
from gateway.reckoning.monoxide import Standard
from gateway.reckoning.pump_margin import PUMP_L_PER_H
from gateway.reckoning.tanks import TANK_L, UNTIL_PERCENT


class Reckons(StrEnum):
    """What is reckoned. The text of each is how the installer writes it after `reckons`."""

    BILGE = "bilge inflow"
    TANK = "tank time"
    FUEL = "generator fuel"
    COLD = "cold food"
    CO = "carbon monoxide"
    DRIFT = "drift"
    DEW = "dew"
    FROST = "freezing"


HOUSE_BANK = "house bank"
"""What an alarm's `reckon` says for the bank of boat.toml, which is no sum of ``[sum.KEY]``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSum:
    """One sum of one boat. id: ``boat/key``. signals: ids by what they are to the sum; figures: numbers in the units
    of the sum; words: choices. What was not written, and need not be, is missing from each."""

    id: str
    boat: str
    key: str
    reckons: Reckons
    signals: Mapping[str, str] = field(default_factory=dict)
    figures: Mapping[str, float] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """A signal that a sum takes. units: any of these; () for what has none. needed: whether it must be named."""

    carries: Carries = Carries.NUMBER
    units: tuple[str, ...] = ()
    needed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """What a kind of sum takes, by the keys that the installer writes. figures: each with whether the sum needs it."""

    signals: Mapping[str, Feed]
    figures: Mapping[str, tuple[Quantity, bool]] = field(default_factory=dict)
    words: Mapping[str, Choice] = field(default_factory=dict)

    @property
    def keys(self) -> tuple[str, ...]:
        """All that may stand in the table beside `reckons`."""
        return (*self.signals, *self.figures, *self.words)


HIGH_WATER_L = Quantity(
    key="high_water_l",
    unit="L",
    words="the water from float on to the high-water switch",
    lowest=BETWEEN_FLOATS_L.lowest,
    highest=BETWEEN_FLOATS_L.highest,
)
_CELSIUS = Feed(units=("C",))
_PERCENT = Feed(units=("%",))
_CONTACT = Feed(carries=Carries.CONTACT)

FORMS: Mapping[Reckons, Form] = {
    Reckons.BILGE: Form(  # handbook 4.4
        signals={"pump": _CONTACT},
        figures={"pump_l_per_h": (PUMP_L_PER_H, True), "high_water_l": (HIGH_WATER_L, False)},
    ),
    Reckons.TANK: Form(  # handbook 4.6
        signals={"level": _PERCENT},
        figures={"until_percent": (UNTIL_PERCENT, False), "tank_l": (TANK_L, False)},
    ),
    Reckons.FUEL: Form(  # handbook 4.6
        signals={"level": _PERCENT},
        figures={
            "tank_l": (FUEL_L, True),
            "reserve_percent": (RESERVE_PERCENT, True),
            "burn_l_per_h": (BURN_L_PER_H, True),
        },
    ),
    Reckons.COLD: Form(  # handbook 4.7
        signals={"temperature": _CELSIUS, "supplied": _CONTACT},
        words={"box": Choice(key="box", words="the box", options=tuple(Box))},
    ),
    Reckons.CO: Form(  # handbook 4.8
        signals={"level": Feed(units=("ppm",))},
        words={"standard": Choice(key="standard", words="the detector's standard", options=tuple(Standard))},
    ),
    Reckons.DRIFT: Form(signals={"position": Feed(carries=Carries.POSITION)}),  # handbook 4.9
    Reckons.DEW: Form(  # handbook 4.10
        signals={"air": _CELSIUS, "humidity": _PERCENT, "surface": Feed(units=("C",), needed=False)}
    ),
    Reckons.FROST: Form(signals={"temperature": _CELSIUS}),  # handbook 4.10, point P25
}
