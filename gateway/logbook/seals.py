"""Sealed parts: what may be erased. The entry keeps a salted hash of it, so that the chain outlives the content."""

from collections.abc import Mapping
from hashlib import sha256

from gateway.logbook.canonical import NotPlain, read, write
from gateway.vocabulary.entries import SealedPart


def part_bytes(part: SealedPart) -> bytes:
    """Canonical JSON of ``{"content": ..., "salt": ...}``: what is stored, and what is hashed. Raises NotPlain."""
    return write({"salt": part.salt, "content": part.content})


def part_of(data: bytes) -> SealedPart:
    """The sealed part that stored bytes hold. Raises NotPlain when they are none."""
    plain = read(data)
    if not isinstance(plain, Mapping) or set(plain) != {"salt", "content"} or not isinstance(plain["salt"], str):
        raise NotPlain("not a sealed part: it must hold a salt and a content, nothing else")
    return SealedPart(salt=plain["salt"], content=plain["content"])


def seal_hash(part: SealedPart) -> str:
    """SHA-256 (64 hex digits) over `part_bytes`.

    The salt (32 hex digits, 128 bits) keeps a phone number from being found by trying all numbers once the content
    is erased (common practice; FIPS 180-4 for the hash).
    """
    return sha256(part_bytes(part)).hexdigest()
