"""Texts that are read and texts that are refused, as data: for tests, papers and whoever asks "would it take that?".

The names are those of EXAMPLE_BOATS and EXAMPLE_EQUIPMENT. Every line is `text => what it means`, where the meaning is
the printed phrase for a text that is read, and the reason (with the phrases offered) for one that is refused.
"""

from grammar.accepted_examples import ACCEPTED_LINES
from grammar.names import Pair
from grammar.refused_examples import REFUSED_LINES

EXAMPLE_BOATS: dict[str, str] = {
    "GREY WAGTAIL": "grey-wagtail",
    "SALT HARRIER": "salt-harrier",
    "LITTLE STINT": "little-stint",
}

EXAMPLE_EQUIPMENT: dict[str, tuple[str, Pair]] = {
    "generator": ("generator", ("start", "stop")),
    "gen": ("generator", ("start", "stop")),
    "refrigeration": ("refrigeration", ("on", "off")),
    "fridge": ("refrigeration", ("on", "off")),
    "deck lights": ("deck-lights", ("on", "off")),
    "skipper's light": ("skippers-light", ("on", "off")),
    "diesel heater": ("heater", ("start", "stop")),
    "gas valve": ("gas-valve", ("open", "close")),
    "bilge pump 1": ("bilge-pump-1", ("on", "off")),
    "bilge pump 2": ("bilge-pump-2", ("on", "off")),
    "a/c": ("air-conditioning", ("on", "off")),
}

EXAMPLE_SUBJECTS = ("battery", "batteries", "bilge")
"""Names of what is measured; what stands behind each is the installation's matter."""

EXAMPLE_PEOPLE: dict[str, str] = {
    "Tobias": "tobias",
    "Tobias Penhale": "tobias",
    "Will": "will",
    "the marina": "marina",
    "marina": "marina",
}
"""Phrase -> neutral key."""

EXAMPLE_NAMES: dict[str, str] = {
    "generator": "generator",
    "refrigeration": "refrigeration",
    "deck-lights": "deck lights",
    "skippers-light": "skipper's light",
    "heater": "diesel heater",
    "gas-valve": "gas valve",
    "bilge-pump-1": "bilge pump 1",
    "bilge-pump-2": "bilge pump 2",
    "air-conditioning": "a/c",
}
"""Neutral key -> the name that is printed."""


def accepted() -> list[tuple[str, str]]:
    """(text, printed phrase of what it means; the boat's name in front where it was named)."""
    return _pairs(ACCEPTED_LINES)


def refused() -> list[tuple[str, str, tuple[str, ...]]]:
    """(text, reason as in `Why`, phrases offered, best first)."""
    rows = []
    for text, answer in _pairs(REFUSED_LINES):
        why, _, offered = answer.partition(": ")
        rows.append((text, why, tuple(offered.split(" / ")) if offered else ()))
    return rows


def _pairs(lines: str) -> list[tuple[str, str]]:
    rows = [line.rpartition(" => ") for line in lines.splitlines() if line.strip() and not line.startswith("# ")]
    return [
        (text.encode().decode("unicode_escape") if "\\" in text else text, answer.strip()) for text, _, answer in rows
    ]
