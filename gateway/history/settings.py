"""What an installer may set about keeping."""

from dataclasses import dataclass

READINGS_DAYS = 400
"""Thirteen months: this season can be laid beside the last one (our choice)."""

READINGS_MEGABYTES = 2_000
"""A quarter of an 8 GB card, the smallest sold with a small computer (our choice)."""

SEALED_MONTHS = 24
"""Handbook 6.2: one line an event, kept 24 months."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """How long readings and sealed parts are kept; entries are kept for ever.

    readings_days: whole days. readings_megabytes: of 1,000,000 bytes, as packed. sealed_months: calendar months.
    """

    readings_days: int = READINGS_DAYS
    readings_megabytes: int = READINGS_MEGABYTES
    sealed_months: int = SEALED_MONTHS


USUAL = Keeping()
