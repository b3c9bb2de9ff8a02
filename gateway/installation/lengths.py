"""Lengths of time and clock times as an installer writes them."""

import re
from collections.abc import Mapping
from decimal import Decimal

from gateway.installation.slips import Slip
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms

_UNITS: Mapping[str, Ms] = {
    "s": SECOND,
    "sec": SECOND,
    "second": SECOND,
    "seconds": SECOND,
    "min": MINUTE,
    "minute": MINUTE,
    "minutes": MINUTE,
    "h": HOUR,
    "hour": HOUR,
    "hours": HOUR,
    "day": DAY,
    "days": DAY,
}
_LENGTH = re.compile(r"(\d{1,8}(?:\.\d{1,3})?) ?([a-z]+)")
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)")


def length_of(written: object) -> Ms:
    """``"10 min"``, ``"30 s"``, ``"1.5 h"`` as whole ms. Raises Slip for anything else, a bare number above all."""
    found = _LENGTH.fullmatch(written.strip()) if isinstance(written, str) else None
    if found is None or found[2] not in _UNITS:
        raise Slip(
            "is not a length of time", 'write a number and s, min, h or days in quotation marks, such as "10 min"'
        )
    length = Decimal(found[1]) * _UNITS[found[2]]
    return int(length)


def clock_of(written: object) -> int:
    """``"08:00"`` as minutes after midnight, 0 to 1439. Raises Slip for anything else."""
    found = _CLOCK.fullmatch(written.strip()) if isinstance(written, str) else None
    if found is None:
        raise Slip("is not a clock time", 'write hours and minutes in quotation marks, such as "08:00"')
    return int(found[1]) * 60 + int(found[2])


def spelt(length: Ms) -> str:
    """A length as it would be written in a file: ``90 s``, ``10 min``, ``4 h``."""
    for unit, name in ((HOUR, "h"), (MINUTE, "min")):
        if length and length % unit == 0:
            return f"{length // unit} {name}"
    return f"{Decimal(length) / SECOND:f} s"
