"""Stories of many boats at one link, supply or berth: told as the others are, played by the desk alone.

Besides the lines of script.py::

    40 boats share the link Tarn Creek mast               each a copy of one; Ines owns the first, Tobias minds all
    22:10:00  boats 1-40: shore off                       a second apart from boat to boat
    22:30:00  boats 1-40: silent / heard

Every boat reports its shore power once a minute, each at its own second.
"""

import re
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path

from gateway.alarms.settings import Point
from gateway.boat.settings import Carries, Shared, Signal
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.logbook.chains import REFERENCE
from gateway.people.settings import Role
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import (
    InstallationCame,
    LinkChanged,
    ReadingsCame,
    Started,
    TextCame,
)
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsContact, IsNumber, NoNews, Than
from tests.stories import script
from tests.stories.script import NAMES, Played, Story
from tests.stories.taking import Taking

_SHARE = re.compile(r"(\d+) boats share the (link|supply|berth) (.+)")
_BOATS = re.compile(r"(\S+)  boats (\d+)-(\d+): (.+)")


@dataclass(kw_only=True)
class ManyBoats:
    """What the file says beside its story. moves: (instant, boat's number, signal or "", what)."""

    story: Story
    count: int = 0
    shares: list[tuple[Shared, str]] = field(default_factory=list)
    moves: list[tuple[Ms, int, str, str]] = field(default_factory=list)


def read(path: Path) -> ManyBoats:
    """One story of many boats."""
    many = ManyBoats(story=Story(name=path.stem))
    for line in path.read_text(encoding="utf-8").splitlines():
        words = line.split("#", 1)[0].rstrip()
        if shared := _SHARE.fullmatch(words):
            many.count = int(shared[1])
            many.shares.append((Shared(shared[2]), shared[3]))
        elif boats := _BOATS.fullmatch(words):
            at = script._at(many.story, boats[1], after=many.story.ends)
            signal, _, what = boats[4].rpartition(" ")
            for place, number in enumerate(range(int(boats[2]), int(boats[3]) + 1)):
                many.moves.append((at + place * SECOND, number, signal, what))
        elif words:
            script._line(many.story, words)
    return many


def fleet(bundle: Bundle, many: ManyBoats) -> Bundle:
    """The starter's bundle with so many copies of a boat of three signals and four points."""
    (grey,) = bundle.boats.values()
    keys = [f"boat-{number}" for number in range(1, many.count + 1)]
    boats = {
        key: replace(
            grey, key=key, name=key.upper().replace("-", " "), short_name=key, berth="", shares=tuple(many.shares)
        )
        for key in keys
    }
    signals = [
        Signal(
            id=f"{key}/{name}",
            boat=key,
            key=name,
            topic=f"{key}/{name}",
            carries=kind,
            report_interval=MINUTE,
            unit=unit,
        )
        for key in keys
        for name, kind, unit in (
            ("shore", Carries.CONTACT, ""),
            ("water", Carries.CONTACT, ""),
            ("volts", Carries.NUMBER, "V"),
        )
    ]
    people = {person.id: replace(person, boats=tuple(keys)) for person in bundle.people.values()}
    owner = next(person.id for person in people.values() if person.role is Role.OWNER)
    caretaker = next(person.id for person in people.values() if person.role is Role.CARETAKER)
    people[owner] = replace(people[owner], boats=(keys[0],))
    lists = {}
    for key in keys:
        both = (owner, caretaker) if key == keys[0] else (caretaker,)
        steps = (Step(after=0, tell=both), Step(after=30 * MINUTE, tell=both))
        lists[f"list {key}"] = CallOutList(key=f"list {key}", steps=steps, repeat=None)
    points = [point for key in keys for point in _points(key)]
    return replace(
        bundle,
        boats=boats,
        signals={one.id: one for one in signals},
        points={one.id: one for one in points},
        people=people,
        callouts=lists,
        equipment={},
    )


def _points(key: str) -> list[Point]:
    def point(name: str, called: str, priority: Priority, **more: object) -> Point:
        return Point(
            id=f"{key}/{name}",
            boat=key,
            key=name,
            name=called,
            priority=priority,
            callout=f"list {key}",
            **more,  # type: ignore[arg-type]
        )

    low = IsNumber(signal="volts", than=Than.BELOW, limit=Decimal(12), unit="V")
    return [
        point(
            "silent",
            "Boat silent",
            Priority.WARNING,
            when=NoNews(signal=None, lasting=10 * MINUTE),
            clears=None,
            shared=Shared.LINK,
        ),
        point(
            "shore-lost",
            "Shore power lost",
            Priority.WARNING,
            when=IsContact(signal="shore", wanted=False, lasting=MINUTE),
            clears=IsContact(signal="shore", wanted=True, lasting=MINUTE),
            shared=Shared.SUPPLY,
        ),
        point("house-low", "House bank low", Priority.ALARM, when=low, clears=None),
        point(
            "water", "Bilge high water", Priority.EMERGENCY, when=IsContact(signal="water", wanted=True), clears=None
        ),
    ]


class Fleet(Taking):
    """Plays one story of many boats."""

    def __init__(self, bundle: Bundle, many: ManyBoats) -> None:
        super().__init__(many.story, Desk(bundle))
        self.bundle, self.many = bundle, many

    def play(self) -> Played:
        story = self.story
        self.take(InstallationCame(fingerprint=self.bundle.fingerprint, people=tuple(self.bundle.people)))
        self.take(Started(stopped_at=None))
        self.take(LinkChanged(link="carrier:main", up=True))
        self.take(LinkChanged(link="broker:quay", up=True, memory_kept=False))
        silent: set[int] = set()
        shore = dict.fromkeys(range(1, self.many.count + 1), "on")
        for at, number, signal, what in sorted(self._everything(), key=lambda one: (one[0], one[1])):
            self.until(at)
            if signal == "text":
                self.take(TextCame(message=f"text {at}", number=script.NUMBERS[what], body=self._body(at, what), age=0))
            elif what in ("silent", "heard"):
                silent = silent | {number} if what == "silent" else silent - {number}
                if what == "heard":
                    self._hear(number, "shore", shore[number])
            elif signal and number not in silent:
                shore[number] = what if signal == "shore" else shore[number]
                self._hear(number, signal, what)
            elif number not in silent:
                self._hear(number, "shore", shore[number])
        self.until(story.ends)
        self.played.verified = self._folds()
        return self.played

    def references(self) -> dict[int, list[str]]:
        """The chains that refer to each entry of the installation's."""
        found: dict[int, list[str]] = {}
        for written in self.entries:
            if written.entry.kind == REFERENCE:
                found.setdefault(int(str(written.entry.body["n"])), []).append(written.entry.chain)
        return found

    def _everything(self) -> list[tuple[Ms, int, str, str]]:
        story = self.many.story
        found = list(self.many.moves)
        for number in range(1, self.many.count + 1):
            first = story.begins + number % 60 * SECOND
            found += [(at, number, "", "") for at in range(first, story.ends, MINUTE)]
        return found + [(one.at, 0, "text", NAMES[one.number]) for one in story.happens]

    def _body(self, at: Ms, who: str) -> str:
        return next(one.body for one in self.many.story.happens if one.at == at and NAMES[one.number] == who)

    def _hear(self, number: int, signal: str, value: str) -> None:
        grade = Grade.NUMBER if signal == "volts" else Grade.CONTACT
        self.take(ReadingsCame(readings=(Reading(signal=f"boat-{number}/{signal}", text=value, grade=grade),)))

    def _folds(self) -> bool:
        again = rebuilt(self.bundle, None, self.entries, self.rows)
        return state_bytes(again.state) == state_bytes(self.desk.state)
