"""The words of switching: what is asked, what was done, what was not. Equipment's own pairs of actions."""

from dataclasses import dataclass

from gateway.requests.settings import GRAVE, Equipment, Sort


@dataclass(frozen=True, slots=True)
class ActionWords:
    """ask: "start {}". undone: after "NOT". done: the state afterwards. later: how a timed end is announced.
    past: "that it started"."""

    ask: str
    undone: str
    done: str
    later: str
    past: str


WORDS = {
    "start": ActionWords("start {}", "started", "running", "Stops by itself", "started"),
    "stop": ActionWords("stop {}", "stopped", "stopped", "Starts by itself", "stopped"),
    "on": ActionWords("switch {} on", "switched on", "on", "Off by itself", "went on"),
    "off": ActionWords("switch {} off", "switched off", "off", "On again by itself", "went off"),
    "open": ActionWords("open {}", "opened", "open", "Closes by itself", "opened"),
    "close": ActionWords("close {}", "closed", "closed", "Opens by itself", "closed"),
}
"""For the six actions that the language of texts knows."""


def words_for(action: str) -> ActionWords:
    """The words of an action; an unknown one is said as it is written."""
    return WORDS.get(action, ActionWords(f"{action} {{}}", f"switched to {action}", action, "Ends", f"did {action}"))


def is_engine(equipment: Equipment | None) -> bool:
    """Whether it is an engine. Equipment that is unknown by now is taken for one."""
    return equipment is None or equipment.sort is Sort.ENGINE


def starts_engine(equipment: Equipment | None, action: str) -> bool:
    """Whether this brings an engine to life."""
    return equipment is None or (is_engine(equipment) and action == equipment.pair[0])


def may_harm(equipment: Equipment | None) -> bool:
    """Whether it is an engine, a heater or an inverter."""
    return equipment is None or equipment.sort in GRAVE
