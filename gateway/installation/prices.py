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


BALANCE_LOW = Decimal(10)
"""What an account holds at the least where neither its limit nor a price is written, in its own currency. Our choice: a
reminder that there is an account, not a sum; write what a bad night costs."""


def amount_of(written: object) -> Decimal:
    """`20` or `12.5`. Raises Slip for anything else."""
    if isinstance(written, bool) or not isinstance(written, int | Decimal) or not 0 <= written <= MOST:
        raise Slip("is no amount", f"write a number from 0 to {MOST} in the account's own currency, such as 20")
    return Decimal(written)


MOST = 1_000_000
"""A larger limit is a slip of the keys (our choice)."""


def least_balance(limit: Decimal | None, price: Price | None, texts_a_day: int) -> Decimal:
    """What the account should hold at the least: as written, else what the most texts of one boat in a day cost."""
    if limit is not None:
        return limit
    return BALANCE_LOW if price is None else price.amount * texts_a_day
