"""What is typed while the demo runs at the pace of the clock: a text of somebody's, or something that happens aboard.

Pure. The names of what can be moved are those of `boat.CONTACTS` and `boat.DemoBoat.set`.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from gateway.demo.boat import CONTACTS

LEVELS: Mapping[str, str] = {"house-volts": "V", "fuel-level": "%", "fridge": "C"}
"""What takes a number, and its unit."""

SELECTOR = ("LOCAL", "REMOTE")


@dataclass(frozen=True, slots=True, kw_only=True)
class Writes:
    """Somebody texts the gateway. number: E.164."""

    number: str
    body: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves:
    """One thing aboard is moved, as `DemoBoat.set` takes it."""

    name: str
    value: bool | str | float


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkBreaks:
    """The boat falls silent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkMended:
    """The boat is heard again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WantsHelp:
    """What can be typed is to be shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quits:
    """Enough."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear:
    """What was typed is nothing of this; why, and what to type."""

    why: str


Typed: TypeAlias = Writes | Moves | LinkBreaks | LinkMended | WantsHelp | Quits | Unclear

_SINGLE: Mapping[str, Typed] = {
    "silent": LinkBreaks(),
    "back": LinkMended(),
    "help": WantsHelp(),
    "?": WantsHelp(),
    "quit": Quits(),
    "exit": Quits(),
}

_NUMBER = re.compile(r"\+\d{7,15}")


def typed(line: str, people: Mapping[str, str]) -> Typed:
    """What a line means. people: who may be spoken for, name -> E.164 number; any other number stands for itself."""
    line = line.strip()
    who, colon, body = line.partition(":")
    if colon:
        return _writes(who.strip(), body.strip(), people)
    if line.lower() in _SINGLE:
        return _SINGLE[line.lower()]
    name, _, value = line.lower().rpartition(" ")
    name, value = name.strip(), value.strip()
    if name in CONTACTS:
        return Moves(name=name, value=value == "on") if value in ("on", "off") else Unclear(why=f"{name}: on or off?")
    if name == "selector":
        shown = value.upper()
        return Moves(name=name, value=shown) if shown in SELECTOR else Unclear(why="selector: LOCAL or REMOTE?")
    if name in LEVELS:
        return _level(name, value)
    return Unclear(why=f"{line}: nobody says that and nothing aboard is called so. Type help")


def _writes(who: str, body: str, people: Mapping[str, str]) -> Typed:
    number = people.get(who.lower()) or re.sub(r"[\s()-]", "", who)
    if not _NUMBER.fullmatch(number):
        return Unclear(why=f"{who}: nobody here is called so. There are {', '.join(people)}")
    return Writes(number=number, body=body) if body else Unclear(why=f"{who}: says what?")


def _level(name: str, value: str) -> Typed:
    try:
        level = float(value)
    except ValueError:
        level = -1.0
    # 0 to 100 holds for volts, per cent and degrees alike: no more is asked of a pretend boat (our choice)
    if not 0 <= level <= 100:
        return Unclear(why=f"{name}: how much, in {LEVELS[name]}? A number from 0 to 100")
    return Moves(name=name, value=level)


def help_lines(people: Mapping[str, str]) -> list[str]:
    """What can be typed, for the screen."""
    levels = ", ".join(f"{name} ({unit})" for name, unit in LEVELS.items())
    return [
        "Type a text as somebody:   tobias: status        ines: have it 1",
        f"  as {', '.join(people)}, or any number: +447700900111: hello",
        f"Move something aboard:     NAME on, NAME off, with {', '.join(CONTACTS)}",
        "                           selector LOCAL, selector REMOTE",
        f"                           NAME NUMBER, with {levels}",
        "The boat's link:           silent, back",
        "And:                       help, quit",
        "Times are real: `co on` is told at once, `bilge-high on` after 15 s, `shore off` after 5 min.",
    ]
