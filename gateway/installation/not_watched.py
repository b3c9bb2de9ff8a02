"""What is not watched: the handbook's hazards without an alarm point, signals that no alarm looks at, and whose silence
nobody would notice. Pure. Not a fault of the files: a list to read once and to answer for."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Senses
from gateway.desk.bundle import Bundle
from gateway.installation.uses import in_alarms, in_switching, named_in, silence_of_all
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsUnbelievable, IsUnreadable, NoNews, leaves_of


@dataclass(frozen=True, slots=True, kw_only=True)
class NotWatched:
    """what: the hazard, or the signal's key. why: how it comes that nobody is told. kind: hazard, signal or silence."""

    boat: str
    kind: str
    what: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """One hazard of the handbook's section 3. row: there. concerns: what its point is marked with, None where the
    interlocks need not know of it. words: whole words by which else a point is known, in its key, its name or its
    signal's key; but_not: words that show another hazard."""

    what: str
    row: str
    words: str
    concerns: Concerns | None = None
    but_not: str = ""

    def watched_by(self, point: Point) -> bool:
        """Whether the point tells of it. Guessed from words where nothing is marked: our choice. A point that tells
        only that its signal is silent or cannot be read ("fire detector silent") tells of no fire."""
        if all(isinstance(leaf, OF_THE_SIGNAL_ALONE) for leaf in leaves_of(point.when)):
            return False
        said = " ".join((point.key, point.name, *sorted(named_in(point.when)))).casefold().replace("-", " ")
        if self.but_not and re.search(rf"\b(?:{self.but_not})\b", said):
            return False
        if self.concerns is not None and point.concerns is self.concerns:
            return True
        return re.search(rf"\b(?:{self.words})\b", said) is not None


OF_THE_SIGNAL_ALONE = (NoNews, IsUnreadable, IsUnbelievable)
"""Conditions that say something of a sensor and nothing of what it senses."""

DETECTS = frozenset({Senses.CO, Senses.FIRE, Senses.GAS})
"""What a detector senses of which the silence must be noticed."""

HAZARDS = (
    Hazard(what="fire or smoke", row="P19", concerns=Concerns.FIRE, words="fire|smoke"),
    Hazard(what="carbon monoxide", row="P20", concerns=Concerns.CO, words="co|carbon monoxide"),
    Hazard(what="gas or petrol vapour", row="P21", concerns=Concerns.GAS, words="gas|lpg|petrol|vapour"),
    Hazard(
        what="high water in the bilge",
        row="P01",
        concerns=Concerns.FLOODING,
        words="bilge high|high water|bilge level",
        but_not="pump",
    ),
    Hazard(what="bilge pump runs too long", row="P02", words="bilge pump"),
    Hazard(what="shore power", row="P04", words="shore|mains"),
    Hazard(what="house bank", row="P07", words="house|service bank|service battery|domestic bank"),
    Hazard(what="start battery", row="P08", words="start|starter|cranking"),
    Hazard(what="cold food", row="P14", words="fridge|freezer|refrigerator|refrigeration"),
    Hazard(what="fuel", row="P16", words="fuel|diesel"),
    Hazard(
        what="somebody aboard unasked", row="P22", concerns=Concerns.INTRUSION, words="hatch|intrusion|motion|intruder"
    ),
    Hazard(what="adrift", row="P23", concerns=Concerns.DRIFT, words="drift|adrift|anchor|position"),
    Hazard(what="heat in the engine space", row="P24", words="engine (?:room|space) (?:hot|heat|temperature)"),
    Hazard(what="frost", row="P25", words="frost|freezing|freeze"),
    Hazard(what="the gateway's own supply", row="P27", words="gateway"),
)
"""What an unattended yacht is usually watched for (handbook 3); silence of the boat (P26) is looked for by itself."""


def not_watched(bundle: Bundle, no_gas_aboard: Mapping[str, str]) -> tuple[NotWatched, ...]:
    """Boat by boat: hazards first. no_gas_aboard: by boat, the installer's reason why nothing senses gas, or ""."""
    found: list[NotWatched] = []
    for boat in bundle.boats:
        points = [point for point in bundle.points.values() if point.boat == boat]
        found += _hazards(boat, points, no_gas_aboard.get(boat, ""))
        found += _signals(boat, points, bundle)
        found += _unnoticed(boat, points, bundle)
    return tuple(found)


def _hazards(boat: str, points: list[Point], no_gas: str) -> Iterator[NotWatched]:
    for hazard in HAZARDS:
        if any(hazard.watched_by(point) for point in points):
            continue
        why = f"no alarm tells of it (handbook 3, {hazard.row})"
        if hazard.concerns is Concerns.GAS and no_gas:
            why = f"none is aboard ({no_gas})"
        yield NotWatched(boat=boat, kind="hazard", what=hazard.what, why=why)
    if not silence_of_all(points):
        yield NotWatched(
            boat=boat, kind="hazard", what="silence of the boat", why='no alarm "no news for ..." (handbook 3, P26)'
        )


def _signals(boat: str, points: list[Point], bundle: Bundle) -> Iterator[NotWatched]:
    alarms = in_alarms(points)
    equipment = [piece for piece in bundle.equipment.values() if piece.boat == boat]
    switches = in_switching(equipment)
    silence = silence_of_all(points)
    for signal in bundle.signals.values():
        if signal.boat != boat or signal.key in alarms:
            continue
        if signal.key in switches:
            why = "only for switching"
        elif signal.senses is not None:
            why = "only for the interlocks"
        elif silence:
            why = "only as a sign of life"
        else:
            why = "for nothing but status"
        yield NotWatched(boat=boat, kind="signal", what=signal.key, why=why)


def _unnoticed(boat: str, points: list[Point], bundle: Bundle) -> Iterator[NotWatched]:
    """A detector that falls silent alone, while the rest of the boat is heard, raises nothing by itself."""
    heard = {leaf.signal for point in points for leaf in leaves_of(point.when) if isinstance(leaf, NoNews)}
    grave = {key for point in points if point.priority is Priority.EMERGENCY for key in named_in(point.when)}
    sensing = {one.key for one in bundle.signals.values() if one.boat == boat and one.senses in DETECTS}
    for key in sorted((grave | sensing) - heard):
        rests = "an emergency rests on it" if key in grave else "it is a detector"
        yield NotWatched(
            boat=boat, kind="silence", what=key, why=f'{rests}; write an alarm "no news from {key} for ..."'
        )
