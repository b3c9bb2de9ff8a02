"""The plain data that the logbook may hold: text, whole numbers, true and false, nothing, lists, objects."""

from collections.abc import Mapping, Sequence
from typing import TypeAlias

Plain: TypeAlias = "str | int | bool | Sequence[Plain] | Mapping[str, Plain] | None"
