"""Chance: the only place where fresh randomness comes from (`secrets`, the system's own generator)."""

import secrets

from gateway.vocabulary.draws import DRAW_BYTES
from gateway.vocabulary.happenings import Happening


def draw(_happening: Happening) -> bytes:
    """32 fresh bytes for one happening, whatever it is."""
    return secrets.token_bytes(DRAW_BYTES)


def person_id() -> str:
    """A random id for a person met for the first time: 24 hex digits."""
    return secrets.token_hex(12)


def seed() -> bytes:
    """32 fresh bytes for what is drawn outside the desk."""
    return secrets.token_bytes(DRAW_BYTES)


def salt() -> str:
    """A salt for a sealed part made outside the desk: 32 hex digits."""
    return secrets.token_hex(16)
