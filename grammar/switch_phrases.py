"""How a switch may be said where a text is only held against it: each action of each name, in both orders; and how
people ask to shut off what a valve lets through. Only ever for a suggestion; nothing is carried out."""

import re
from collections.abc import Iterator, Mapping

from grammar.names import Pair

_VALVE = re.compile(r"(.+?) ?(?:valve|tap|cock|ventil|hahn)")
"""A name of what is only ever closed: what it lets through, and the word for the thing itself, in any language."""

_SHUT = (
    "{} off",
    "turn off {}",
    "turn {} off",
    "shut off {}",
    "shut {}",
)
_GERMAN_SHUT = ("{} aus", "{} zu", "{} abdrehen", "{} zudrehen")
"""How people say that it shall be closed who name what it lets through ("turn the gas off"): common speech."""

_WITHOUT_MEANING = frozenset(["the", "please", "pls", "now", "das", "bitte", "jetzt", "mal"])


def actions_of(pair: Pair, rest_only: bool) -> tuple[str, ...]:
    """Those of the pair that a text can order. rest_only: it is only ever brought to rest."""
    return pair[1:] if rest_only else pair


def ways_to_say(name: str, pair: Pair, rest_only: bool) -> Iterator[tuple[str, str]]:
    """What may be texted -> the printed phrase for it. name: folded."""
    for action in actions_of(pair, rest_only):
        for said in (f"{name} {action}", f"{action} {name}"):
            yield said, f"{name} {action}"


def ways_to_shut(names: Mapping[str, Pair]) -> Mapping[str, str]:
    """What may be texted to shut off what these let through -> the printed phrase; a thing's first name is printed.
    names: folded, of what is only ever closed."""
    found: dict[str, str] = {}
    for name, (_, close) in names.items():
        through = _VALVE.fullmatch(name)
        if through is not None:
            said = [each.format(through[1]) for each in (*_SHUT, *_GERMAN_SHUT)]
            said += [each.format(name) for each in _GERMAN_SHUT]
            for each in (*said, f"{through[1]} {close}", f"{close} {through[1]}"):
                found.setdefault(each, f"{name} {close}")
    return found


def shut_otherwise(text: str, ways: Mapping[str, str]) -> str | None:
    """The phrase for a cleaned text that is one of these ways to the letter: a slip away from "gas off" is "gas on"."""
    return ways.get(" ".join(word for word in text.split() if word not in _WITHOUT_MEANING))
