"""Facts: the typed form of an entry's body. Each room declares its own; the desk registers them all.

A fact is a frozen dataclass of plain fields (text, whole numbers, true and false, None, tuples of these, StrEnums).
`kind` and `version` are fixed per class. What an old version said is lifted to the present one by the class's
`lift` before it is read, so that a logbook of any age folds with the present code.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from enum import StrEnum
from typing import Any, ClassVar, TypeVar, get_args, get_type_hints

from gateway.vocabulary.plain import Plain


@dataclass(frozen=True, slots=True)
class Fact:
    """Base of all facts."""

    kind: ClassVar[str] = ""
    version: ClassVar[int] = 1

    @classmethod
    def lift(cls, version: int, body: Mapping[str, Plain]) -> Mapping[str, Plain]:
        """Turn the body of an older version into one of the present version. The first version has nothing to lift."""
        if version != cls.version:
            raise ValueError(f"entry kind {cls.kind!r} version {version} is not known here (known: 1 to {cls.version})")
        return body


F = TypeVar("F", bound=Fact)


def body_of(fact: Fact) -> dict[str, Plain]:
    """The fact's fields as plain data, tuples as lists and StrEnums as their text."""
    return {f.name: _plain(getattr(fact, f.name)) for f in fields(fact)}


def fact_of(cls: type[F], version: int, body: Mapping[str, Plain]) -> F:
    """The fact that `body` holds. Raises ValueError or TypeError when the body is not one of this kind."""
    lifted = cls.lift(version, body)
    enums = _enums(cls)
    values: dict[str, Any] = {}
    for name, value in lifted.items():
        read = _tupled(value)
        values[name] = enums[name](read) if name in enums and read is not None else read
    return cls(**values)


def _plain(value: Any) -> Plain:
    if isinstance(value, StrEnum):
        return str(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if value is None or isinstance(value, str | int | bool):
        return value
    raise TypeError(f"{value!r} cannot stand in the logbook: text, whole numbers, true, false and lists only")


def _tupled(value: Plain) -> Any:
    return tuple(_tupled(item) for item in value) if isinstance(value, list | tuple) else value


_ENUM_FIELDS: dict[type, dict[str, type[StrEnum]]] = {}  # looked up once a class; folding reads many entries


def _enums(cls: type[Fact]) -> dict[str, type[StrEnum]]:
    if cls not in _ENUM_FIELDS:
        hints = get_type_hints(cls).items()
        _ENUM_FIELDS[cls] = {name: part for name, hint in hints for part in (hint, *get_args(hint)) if _is_enum(part)}
    return _ENUM_FIELDS[cls]


def _is_enum(part: object) -> bool:
    return isinstance(part, type) and issubclass(part, StrEnum)
