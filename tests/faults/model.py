"""What must follow from what was taken in, worked out anew from the written rules, by none of the gateway's code.

It knows contacts that raise and clear a point at once, one phone that takes alarms, and the newest values. From the
rules: a point is raised by "on" unless its condition holds already; "off" ends the condition; who has it is who first
said so; an alarm whose condition has gone is over as soon as, or once, somebody has it. Numbers are given in turn.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

TAKES = re.compile(r"\s*have it (\d+)\s*", re.IGNORECASE)


LET_GO = "who had it was silent"
"""In the place of a value: that a holder's silence was found is taken from the record, when it may be is looked at
elsewhere (tests of the holder)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One thing that was taken in. at: number of its happening and its place there. what: a signal's id, or a person's.
    words: the value exactly as received, or the text."""

    at: tuple[int, int]
    what: str
    words: str
    text: bool


@dataclass(slots=True)
class Point:
    """holds: its condition. number: of its alarm, None while it is at rest. taken: somebody has it."""

    holds: bool = False
    number: int | None = None
    taken: bool = False


@dataclass(slots=True)
class Model:
    """points: by signal id. over: numbers of alarms that are over and rest. newest: the last value of every signal."""

    points: dict[str, Point] = field(default_factory=dict)
    over: set[int] = field(default_factory=set)
    newest: dict[str, str] = field(default_factory=dict)

    def hear(self, signal: str, words: str, number: int | None) -> None:
        """A contact's value came, or a number's. number: what an alarm raised by it is called."""
        self.newest[signal] = words
        point = self.points.get(signal)
        if point is None:
            return
        if words == "on" and not point.holds:
            point.holds = True
            point.number = point.number or number
            point.taken = False
        elif words == "off" and point.holds:
            point.holds = False
            if point.taken:
                self._end(point)

    def read(self, words: str) -> None:
        """The one phone wrote."""
        match = TAKES.fullmatch(words)
        for point in self.points.values():
            if match is not None and point.number == int(match[1]):
                point.taken = True
                if not point.holds:
                    self._end(point)

    def let_go(self, signal: str) -> None:
        """Who had it was asked again and did not answer."""
        if signal in self.points:
            self.points[signal].taken = False

    def _end(self, point: Point) -> None:
        assert point.number is not None
        self.over.add(point.number)
        point.number = None

    def stands(self) -> dict[str, tuple[int, bool, bool]]:
        """Of each signal whose alarm stands: its number, whether the condition holds, whether somebody has it."""
        found = {}
        for signal, point in self.points.items():
            if point.number is not None:
                found[signal] = (point.number, point.holds, point.taken)
        return found


def worked_out(said: Iterable[Said], points: Iterable[str], numbers: Mapping[str, int]) -> Model:
    """The model after all of this, in order. points: signals that raise. numbers: how the first alarm of each was
    called: that they are given in turn is looked at elsewhere."""
    model = Model({signal: Point() for signal in points})
    for one in sorted(said, key=lambda one: one.at):
        if one.words == LET_GO:
            model.let_go(one.what)
        elif one.text:
            model.read(one.words)
        else:
            model.hear(one.what, one.words, numbers.get(one.what))
    return model
