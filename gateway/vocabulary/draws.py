"""Chance that is handed in: everything random comes out of 32 fresh bytes that the service adds to each happening.

Each use is HMAC-SHA256(draw, use and counter) (RFC 2104, FIPS 180-4), so one draw serves codes, salts and ids
without any of them telling about another.
"""

import hashlib
import hmac
from dataclasses import dataclass, field

DRAW_BYTES = 32


@dataclass(slots=True)
class Draws:
    """The supply of one happening. Asking twice for the same use gives different values (a counter moves on)."""

    draw: bytes
    _counts: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if len(self.draw) != DRAW_BYTES:
            raise ValueError(f"a draw is {DRAW_BYTES} bytes, got {len(self.draw)}")

    def bytes_for(self, use: str) -> bytes:
        """32 bytes for a named use."""
        count = self._counts.get(use, 0)
        self._counts[use] = count + 1
        return hmac.new(self.draw, f"{use}:{count}".encode(), hashlib.sha256).digest()

    def hex_for(self, use: str, digits: int = 32) -> str:
        """`digits` hex digits (at most 64) for a named use."""
        return self.bytes_for(use).hex()[:digits]

    def below(self, use: str, count: int) -> int:
        """A whole number 0 <= x < count, even-handed to within 2**-200 (256 bits reduced)."""
        return int.from_bytes(self.bytes_for(use), "big") % count
