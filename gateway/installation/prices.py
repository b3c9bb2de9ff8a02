"""What one part of a text costs, as the installer's contract with the carrier has it. There is no other source."""

import re
from dataclasses import dataclass
from decimal import Decimal

from gateway.installation.slips import Slip


@dataclass(frozen=True, slots=True)
class Price:
    """amount: of one part. currency: as the installer writes it."""

    amount: Decimal
    currency: str


_PRICE = re.compile(r"(\d{1,6}(?:\.\d{1,6})?) (\S{1,12})")


def price_of(written: object) -> Price:
    """``"0.04 GBP"``. Raises Slip for anything else."""
    found = _PRICE.fullmatch(written.strip()) if isinstance(written, str) else None
    if found is None:
        raise Slip("is no price", 'write an amount and its currency in quotation marks, such as "0.04 GBP"')
    return Price(Decimal(found[1]), found[2])
