"""The whole state as plain data and back: a cache that spares a restart the fold of everything.

Dataclasses become objects by field name, mappings lists of pairs (their keys may be numbers), StrEnums their text.
Read back by the declared types, so a field that changed its type is found out and the snapshot thrown away.
"""

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import StrEnum
from typing import Any, Union, get_args, get_origin, get_type_hints

from gateway.desk.state import State
from gateway.logbook.canonical import read, write
from gateway.vocabulary.plain import Plain


class SnapshotUnreadable(ValueError):
    """The bytes are no state of this version."""


def state_bytes(state: State) -> bytes:
    """The state as canonical JSON."""
    return write(_plain(state))


def state_of(data: bytes) -> State:
    """The state that the bytes hold. Raises SnapshotUnreadable."""
    try:
        found = _typed(State, read(data))
    except (ValueError, TypeError, KeyError, AttributeError) as unfit:
        raise SnapshotUnreadable(str(unfit)) from unfit
    if not isinstance(found, State):
        raise SnapshotUnreadable("not a state")
    return found


def _plain(value: Any) -> Plain:
    if isinstance(value, StrEnum):
        return str(value)
    if value is None or isinstance(value, str | int | bool):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, Mapping):
        return [[_plain(key), _plain(item)] for key, item in value.items()]
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    raise TypeError(f"{type(value).__name__} cannot stand in a snapshot")


def _typed(wanted: Any, value: Any) -> Any:
    origin, args = get_origin(wanted), get_args(wanted)
    if origin in (Union, types.UnionType):
        if value is None and type(None) in args:
            return None
        return _typed(next(arg for arg in args if arg is not type(None)), value)
    if origin is dict:
        return {_typed(args[0], key): _typed(args[1], item) for key, item in value}
    if origin is list:
        return [_typed(args[0], item) for item in value]
    if origin is tuple:
        if len(args) == 2 and args[1] is Ellipsis:
            return tuple(_typed(args[0], item) for item in value)
        return tuple(_typed(arg, item) for arg, item in zip(args, value, strict=True))
    if isinstance(wanted, type) and issubclass(wanted, StrEnum):
        return wanted(value)
    if is_dataclass(wanted):
        return _dataclass(wanted, value)
    if not isinstance(value, wanted):
        raise TypeError(f"{value!r} is not of type {wanted}")
    return value


_HINTS: dict[Any, dict[str, Any]] = {}


def _dataclass(wanted: Any, value: Mapping[str, Any]) -> Any:
    if wanted not in _HINTS:
        _HINTS[wanted] = get_type_hints(wanted)
    hints = _HINTS[wanted]
    names = {f.name for f in fields(wanted)}
    if set(value) != names:
        raise KeyError(f"{wanted.__name__}: fields {sorted(set(value) ^ names)}")
    return wanted(**{name: _typed(hints[name], value[name]) for name in names})
