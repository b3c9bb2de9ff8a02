"""Stories as data: text files that say what happens and, between, who gets which text when and what the boat obeys.

One line each, in order of time (boat time is UTC in winter; a time before the last one is of the next day)::

    2026-03-09 02:58:00  begins
    in people.toml: OLD -> NEW                            a change to the starter's files (the first place)
    before: TOPIC = PAYLOAD                               a retained message that lies with the broker before the start
    03:04:00  aboard: bilge-high on, hatch off            contacts and levels of the simulated boat
    03:05:00  Tobias writes: ok                           "{code}" is the code of the last text that asked for one,
                                                          "{heart}" that whole text as a phone quotes it for a reaction
    03:04:15  to Ines: BILGE HIGH WATER ... HAVE IT 1     pieces of the text, in their order
    08:05:00  the boat obeys: generator start
    10:30:05  the boat falls silent / is heard again
    03:10:00  the gateway is stopped / is killed          and starts again at once, or "for 5 min"
    from 22:10:00 every 20 min until 05:30:00  aboard: shore off
    03:59:00  ends

Texts are written at full half minutes, when the carrier is asked for them.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from gateway.demo.story import INES, MARINA, RUTH, STRANGER, TOBIAS
from gateway.vocabulary.moments import DAY, MINUTE, SECOND, Ms, as_utc, from_rfc3339

NUMBERS = {"Ines": INES, "Tobias": TOBIAS, "Ruth": RUTH, "the marina": MARINA, "a stranger": STRANGER}
NAMES = {number: name for name, number in NUMBERS.items()}
LISTENING_EVERY = 30 * SECOND


@dataclass(frozen=True, kw_only=True)
class Happens:
    """Something that happens aboard or to a phone."""

    at: Ms
    aboard: tuple[tuple[str, bool | str | float], ...] = ()
    silent: bool | None = None
    number: str = ""
    body: str = ""


@dataclass(frozen=True, kw_only=True)
class Restart:
    """The gateway ends, in order or as a crash would end it, and starts again after a while."""

    at: Ms
    in_order: bool
    away: Ms


@dataclass(frozen=True, kw_only=True)
class Told:
    """A text to somebody, at a full second."""

    at: str
    who: str
    pieces: tuple[str, ...]

    def fits(self, body: str) -> bool:
        place = 0
        for piece in self.pieces:
            found = body.find(piece, place)
            if found < 0:
                return False
            place = found + len(piece)
        return True


@dataclass(kw_only=True)
class Story:
    """name: of its file. changes: file, what stands there, what stands there instead. before: retained messages at the
    start. told, obeyed: what is expected, in order of time."""

    name: str
    begins: Ms = 0
    ends: Ms = 0
    changes: list[tuple[str, str, str]] = field(default_factory=list)
    before: list[tuple[str, str]] = field(default_factory=list)
    happens: list[Happens] = field(default_factory=list)
    restarts: list[Restart] = field(default_factory=list)
    told: list[Told] = field(default_factory=list)
    obeyed: list[str] = field(default_factory=list)

    def change(self, folder: Path) -> None:
        """Change the installation that lies there."""
        for file, old, new in self.changes:
            text = (folder / file).read_text(encoding="utf-8")
            assert old in text, f"{file} does not hold {old!r}"
            (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")

    def between(self, after: Ms, until: Ms) -> list[Happens]:
        """What happens later than `after` and not later than `until`."""
        return [one for one in self.happens if after < one.at <= until]


@dataclass(kw_only=True)
class Played:
    """What came of a story: texts as (time, name, body), commands as time and words. verified: the logbook is whole."""

    texts: list[tuple[str, str, str]] = field(default_factory=list)
    obeyed: list[str] = field(default_factory=list)
    verified: bool = True

    def last_code(self, name: str) -> str:
        return next(body for _, who, body in reversed(self.texts) if who == name and "GO " in body)

    def words_of(self, happens: Happens) -> str:
        """A text as it is written, with what it quotes put in."""
        name = NAMES[happens.number]
        body = happens.body
        if "{code}" in body:
            whose = "Tobias" if name == "a stranger" else name
            first, second, *_ = self.last_code(whose).split("GO ", 1)[1].split()
            body = body.replace("{code}", f"{first} {second}".lower())
        if "{heart}" in body:
            body = f"Loved \N{LEFT DOUBLE QUOTATION MARK}{self.last_code(name)}\N{RIGHT DOUBLE QUOTATION MARK}"
        return body


def differences(story: Story, played: Played) -> list[str]:
    """Texts that are missing, and texts and commands that nobody expected."""
    left = list(played.texts)
    wrong = []
    for told in story.told:
        found = next((text for text in left if text[:2] == (told.at, told.who) and told.fits(text[2])), None)
        if found is None:
            wrong.append(f"missing: {told.at} to {told.who}: {' ... '.join(told.pieces)}")
        else:
            left.remove(found)
    wrong += [f"not expected: {at} to {who}: {body}" for at, who, body in left]
    if story.obeyed != played.obeyed:
        wrong.append(f"the boat obeyed {played.obeyed}, not {story.obeyed}")
    if not played.verified:
        wrong.append("the logbook does not verify")
    return wrong


def clock(at: Ms) -> str:
    return f"{as_utc(at):%H:%M:%S}"


# ---------------------------------------------------------------- reading the files

_BEGIN = re.compile(r"(\d{4}-\d\d-\d\d \d\d:\d\d:\d\d)  begins")
_CHANGE = re.compile(r"in (\S+): (.*) -> (.*)")
_EVERY = re.compile(r"from (\S+) every (\d+) min until (\S+)  (.*)")
_TIMED = re.compile(r"(\d\d:\d\d:\d\d)  (.*)")
_RESTART = re.compile(r"the gateway is (stopped|killed)(?: for (\d+) min)?")


def read(path: Path) -> Story:
    """One story. Raises ValueError that names the line."""
    story = Story(name=path.stem)
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        words = line.split("#", 1)[0].rstrip()
        if words:
            try:
                _line(story, words)
            except (ValueError, KeyError) as wrong:
                raise ValueError(f"{path.name}:{number}: {line!r}: {wrong}") from wrong
    story.happens.sort(key=lambda one: one.at)
    return story


def _line(story: Story, line: str) -> None:
    if begin := _BEGIN.fullmatch(line):
        story.begins = story.ends = from_rfc3339(begin[1].replace(" ", "T") + "Z")
    elif change := _CHANGE.fullmatch(line):
        story.changes.append((change[1], change[2], change[3]))
    elif line.startswith("before: "):
        topic, _, payload = line.removeprefix("before: ").partition(" = ")
        story.before.append((topic, payload))
    elif every := _EVERY.fullmatch(line):
        at, end = _at(story, every[1]), _at(story, every[3])
        while at <= end:
            _event(story, at, every[4])
            at += int(every[2]) * MINUTE
    elif timed := _TIMED.fullmatch(line):
        at = story.ends = _at(story, timed[1], after=story.ends)
        _event(story, at, timed[2])
    else:
        raise ValueError("not a line of a story")


def _at(story: Story, shown: str, after: Ms | None = None) -> Ms:
    day = as_utc(story.begins if after is None else after)
    hour, minute, second = map(int, shown.split(":"))
    at = datetime(day.year, day.month, day.day, hour, minute, second, tzinfo=day.tzinfo)
    if at < as_utc(story.begins if after is None else after):
        at += timedelta(days=1)
    assert 0 <= round(at.timestamp() * 1000) - story.begins < DAY
    return round(at.timestamp() * 1000)


def _event(story: Story, at: Ms, words: str) -> None:
    head, _, rest = words.partition(": ")
    if head == "aboard":
        story.happens.append(Happens(at=at, aboard=tuple(_things(rest))))
    elif head.startswith("to "):
        pieces = tuple(piece.strip() for piece in rest.split("..."))
        story.told.append(Told(at=clock(at), who=head.removeprefix("to "), pieces=pieces))
        assert story.told[-1].who in NUMBERS
    elif head.endswith(" writes"):
        if at % LISTENING_EVERY:
            raise ValueError("texts are written at full half minutes")
        story.happens.append(Happens(at=at, number=NUMBERS[head.removesuffix(" writes")], body=rest))
    elif head == "the boat obeys":
        story.obeyed.append(f"{clock(at)} {rest}")
    elif words in ("the boat falls silent", "the boat is heard again"):
        story.happens.append(Happens(at=at, silent=words.endswith("silent")))
    elif restart := _RESTART.fullmatch(words):
        away = int(restart[2] or 0) * MINUTE
        story.restarts.append(Restart(at=at, in_order=restart[1] == "stopped", away=away))
    elif words != "ends":
        raise ValueError("nothing that can happen")


def _things(listed: str) -> Iterator[tuple[str, bool | str | float]]:
    for thing in listed.split(", "):
        name, value = thing.split(" ")
        yield name, {"on": True, "off": False}.get(value, value if value.isalpha() else float(value))  # type: ignore[arg-type]
