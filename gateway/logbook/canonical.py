"""Canonical JSON in the narrow form of the logbook: one value has exactly one row of bytes.

RFC 8785 (JSON Canonicalization Scheme), restricted to text, whole numbers, true, false, null, lists and objects with
ASCII keys. Under these limits the scheme's two hard parts fall away: numbers never need a shortest float
(RFC 8785 3.2.2.3), and sorting by UTF-16 units (3.2.3) is sorting by bytes. The result is proved against a reference
library in tests/outside.
"""

from collections.abc import Mapping
from typing import Any

import orjson

from gateway.vocabulary.plain import Plain

LARGEST = 2**53 - 1
"""The largest whole number that every JSON reader keeps exactly (RFC 8785 3.2.2.3, RFC 7493 2.2)."""

_OPTIONS = orjson.OPT_SORT_KEYS | orjson.OPT_STRICT_INTEGER


class NotPlain(ValueError):
    """A value cannot stand in the logbook, or bytes are no canonical JSON. Says where in the value, and why."""


def write(plain: Plain) -> bytes:
    """The canonical bytes (UTF-8) of plain data.

    Raises NotPlain for a float, a whole number of 2**53 or beyond on either side, a key that is not ASCII text,
    text with half a surrogate pair, any other type, and nesting deeper than 250 levels.
    """
    try:
        _check(plain, "")
        return orjson.dumps(plain, default=_as_dict, option=_OPTIONS)
    except RecursionError:
        raise NotPlain("the value is nested too deeply, or holds itself") from None
    except orjson.JSONEncodeError as error:
        raise NotPlain(_reason(error)) from None


def read(data: bytes) -> Plain:
    """The plain data that `data` holds: the strict inverse of `write`.

    Raises NotPlain when the bytes are not exactly what `write` would make of their value (spaces, another order of
    keys, a key twice, a needless escape, a float, damaged UTF-8).
    """
    try:
        value: Plain = orjson.loads(data)
    except (orjson.JSONDecodeError, RecursionError) as error:
        raise NotPlain(f"not JSON: {error}") from None
    if write(value) != data:
        raise NotPlain("JSON, but not in canonical form")
    return value


def _check(value: Any, path: str) -> None:
    kind = type(value)
    if kind is str or value is None or kind is bool:
        return
    if kind is int:
        if not -LARGEST <= value <= LARGEST:
            raise NotPlain(f"{path or 'the value'}: {value} is beyond 2**53 - 1, where JSON readers lose digits")
    elif isinstance(value, Mapping):
        for key, item in value.items():
            if type(key) is not str or not key.isascii():
                raise NotPlain(f"{path or 'the value'}: key {key!r} is not ASCII text")
            _check(item, f"{path}/{key}")
    elif kind is list or kind is tuple:
        for place, item in enumerate(value):
            _check(item, f"{path}/{place}")
    elif isinstance(value, float):
        raise NotPlain(f"{path or 'the value'}: {value!r} is a float; write measured values as decimal text")
    elif not isinstance(value, str):  # what is left of text: the members of a StrEnum, written as their text
        raise NotPlain(f"{path or 'the value'}: {kind.__name__} is none of text, whole number, true, false, null, list")


def _as_dict(value: Any) -> Any:
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(type(value).__name__)


def _reason(error: Exception) -> str:
    words = str(error)
    if "surrogate" in words:
        return "text with half a surrogate pair, which is no Unicode text"
    return "the value is nested too deeply, or holds itself" if "ecursion" in words else words
