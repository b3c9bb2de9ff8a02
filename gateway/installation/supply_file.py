"""The tables [bank] and [supply.NAME] of boat.toml: the house bank, and what feeds the boat's link ashore."""

from enum import StrEnum
from typing import Annotated

from pydantic import AfterValidator, Field

from gateway.installation.kinds import Number, Text
from gateway.installation.shape import Strict
from gateway.installation.slips import Slip
from gateway.reckoning.charge import Chemistry


class Feeds(StrEnum):
    """Where something gets its power from."""

    SHORE = "shore"
    HOUSE = "house bank"
    START = "start battery"
    OWN = "own battery"
    ASHORE = "ashore"  # it stands on land, on supplies of its own


def _within(low: float, high: float, unit: str) -> AfterValidator:
    def held(number: float) -> float:
        if not low <= number <= high:
            raise Slip(f"is {number} {unit}, which is out of range", f"write {low:g} to {high:g} {unit}")
        return number

    return AfterValidator(held)


def _one_of(*volts: int) -> AfterValidator:
    def held(number: int) -> int:
        if number not in volts:
            raise Slip(f"is {number}", f"write {' or '.join(map(str, volts))}")
        return number

    return AfterValidator(held)


class BankTable(Strict):
    """[bank]. capacity: Ah at rated_hours. peukert: the maker's exponent (handbook 4.2: flooded 1.2 to 1.6, AGM 1.05 to
    1.15, gel 1.1 to 1.25). limit: per cent of charge that is counted down to. charge, amps: signals of the shunt, per
    cent and A, below zero drawn. volts, chemistry, nominal: of the bank, for its charge by its volts at rest."""

    capacity: Annotated[Number, _within(1, 100_000, "Ah")] = Field(examples=["440"])
    rated_hours: Annotated[Number, _within(1, 120, "h")] = Field(examples=["20"])
    peukert: Annotated[Number, _within(1, 1.6, "")] = Field(examples=["1.15"])
    limit: Annotated[Number, _within(0, 100, "%")] = Field(examples=["50"])
    charge: Text | None = None
    amps: Text | None = None
    volts: Text | None = None
    chemistry: Annotated[Chemistry, Field(strict=False, examples=['"AGM"'])] | None = None
    nominal: Annotated[int, Field(examples=["12"]), _one_of(12, 24)] = 12


class SupplyTable(Strict):
    """[supply.NAME]: one link of the chain between sensor and phone. amps: drawn all the time, from the battery that
    feeds it."""

    fed_by: Annotated[Feeds, Field(strict=False, examples=['"house bank"'])]
    amps: Annotated[Number, _within(0, 100, "A")] = Field(examples=["0.5"])


class SupplyTables(Strict):
    """[supply]. A boat whose broker stands ashore says so: fed_by = "ashore"."""

    router: SupplyTable | None = None
    modem: SupplyTable | None = None
    broker: SupplyTable | None = None
    gateway: SupplyTable | None = None
