"""Stories of the whole boat of the starter: told as the others are, played by the desk alone.

Besides the lines of script.py::

    usual: house-volts 12.6, shore on                     what is reported from the beginning on, every minute
    from 22:00:00 until 02:00:00  aboard: fuel-level 60 to 52      moves evenly, with as many decimals as written

A signal is called as in the installer's files; a position is written 50.0010/-5.0005. What nobody names is never heard.
"""

import re
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from gateway.boat.settings import Carries
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started, TextCame
from gateway.vocabulary.moments import MINUTE, Ms
from gateway.vocabulary.readings import Grade, Reading
from tests.stories import script
from tests.stories.script import Played, Story
from tests.stories.taking import Taking

BOAT = "grey-wagtail"
EVERY: Ms = MINUTE
"""Twice the report interval of most signals of the whole boat: still fresh, and half as much to play."""
_USUAL = re.compile(r"usual: (.+)")
_EVENLY = re.compile(r"from (\S+) until (\S+)  aboard: (\S+) (\S+) to (\S+)")
_ABOARD = re.compile(r"(\d\d:\d\d:\d\d)  aboard: (.+)")
_GRADES = {
    Carries.NUMBER: Grade.NUMBER,
    Carries.CONTACT: Grade.CONTACT,
    Carries.WORD: Grade.WORD,
    Carries.POSITION: Grade.POSITION,
}


@dataclass(frozen=True)
class Evenly:
    """One signal that moves evenly between two instants (ms UTC)."""

    signal: str
    begins: Ms
    ends: Ms
    first: Decimal
    last: Decimal

    def at(self, now: Ms) -> str:
        """Its value, with as many decimals as its ends have."""
        moved = self.first + (self.last - self.first) * Decimal(now - self.begins) / Decimal(self.ends - self.begins)
        return str(moved.quantize(max(self.first, self.last, key=lambda one: -one.as_tuple().exponent)))  # type: ignore[operator]


@dataclass(kw_only=True)
class WholeStory:
    """What the file says beside its story. usual: signals and values. steps: (instant, signal, value)."""

    story: Story
    usual: dict[str, str] = field(default_factory=dict)
    steps: list[tuple[Ms, str, str]] = field(default_factory=list)
    evenly: list[Evenly] = field(default_factory=list)

    def value(self, signal: str, now: Ms) -> str:
        """What a signal reports at an instant: what moves it evenly, else its last step, else the usual."""
        found = self.usual.get(signal, "")
        moves = [(at, text) for at, name, text in self.steps if name == signal and at <= now]
        moves += [(one.ends, str(one.last)) for one in self.evenly if one.signal == signal and one.ends <= now]
        for one in self.evenly:
            if one.signal == signal and one.begins <= now < one.ends:
                return one.at(now)
        return max(moves)[1] if moves else found

    @property
    def signals(self) -> list[str]:
        """Every signal that is ever heard."""
        named = [*self.usual, *(name for _, name, _ in self.steps), *(one.signal for one in self.evenly)]
        return list(dict.fromkeys(named))


def read(path: Path) -> WholeStory:
    """One story of the whole boat."""
    whole = WholeStory(story=Story(name=path.stem))
    for line in path.read_text(encoding="utf-8").splitlines():
        words = line.split("#", 1)[0].rstrip()
        if usual := _USUAL.fullmatch(words):
            whole.usual |= dict(_things(usual[1]))
        elif even := _EVENLY.fullmatch(words):
            begins = script._at(whole.story, even[1])
            ends = script._at(whole.story, even[2], after=begins)
            whole.evenly.append(Evenly(even[3], begins, ends, Decimal(even[4]), Decimal(even[5])))
        elif aboard := _ABOARD.fullmatch(words):
            at = whole.story.ends = script._at(whole.story, aboard[1], after=whole.story.ends)
            whole.steps += [(at, name, value) for name, value in _things(aboard[2])]
        elif words:
            script._line(whole.story, words)
    return whole


def _things(listed: str) -> list[tuple[str, str]]:
    return [(name, value) for name, value in (thing.split(" ") for thing in listed.split(", "))]


class WholeBoat(Taking):
    """Plays one story of the whole boat."""

    def __init__(self, bundle: Bundle, whole: WholeStory) -> None:
        super().__init__(whole.story, Desk(bundle))
        self.bundle, self.whole = bundle, whole

    def play(self) -> Played:
        """Every signal once a minute, and at once what is a step."""
        story = self.whole.story
        self.take(InstallationCame(fingerprint=self.bundle.fingerprint, people=tuple(self.bundle.people)))
        self.take(Started(stopped_at=None))
        self.take(LinkChanged(link="carrier:main", up=True))
        self.take(LinkChanged(link="broker:quay", up=True, memory_kept=True))
        steps = {at: [name for when, name, _ in self.whole.steps if when == at] for at, _, _ in self.whole.steps}
        texts = {one.at: [each for each in story.happens if each.at == one.at] for one in story.happens}
        rounds = range(story.begins, story.ends, EVERY)
        for at in sorted({*rounds, *steps, *texts}):
            self.until(at)
            self._hear(self.whole.signals if at in rounds else steps.get(at, []))
            for one in texts.get(at, ()):
                self.take(TextCame(message=f"text {at}", number=one.number, body=self.played.words_of(one), age=0))
        self.until(story.ends)
        again = rebuilt(self.bundle, None, self.entries, self.rows)
        self.played.verified = state_bytes(again.state) == state_bytes(self.desk.state)
        return self.played

    def _hear(self, names: list[str]) -> None:
        readings = []
        for name in names:
            text = self.whole.value(name, self.now).replace("/", " ")
            carries = self.bundle.signals[f"{BOAT}/{name}"].carries
            readings.append(Reading(signal=f"{BOAT}/{name}", text=text, grade=_GRADES[carries]))
        if readings:
            self.take(ReadingsCame(readings=tuple(readings)))
