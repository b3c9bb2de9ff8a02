"""A signal table in the installation's own form, proposed from what was heard on a topic.

A proposal is a beginning: what a value means, its unit and how often it comes when all is well are the installer's to
say. What was guessed stands in a comment behind the line.
"""

import json
import re
from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal

from gateway.boat.heard import Heard, Piece
from gateway.boat.looking import LONGEST_WORD, NO_VALUES
from gateway.boat.settings import Carries, Raw
from gateway.installation.lengths import spelt
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms

INTERVALS: tuple[Ms, ...] = (
    *(n * SECOND for n in (1, 2, 5, 10, 15, 30)),
    *(n * MINUTE for n in (1, 2, 5, 10, 15, 30)),
    *(n * HOUR for n in (1, 2, 6, 12, 24)),
)
"""Report intervals that are proposed: the next one not shorter than the longest pause heard (our choice)."""

UNHEARD: Ms = MINUTE
"""The interval proposed for what was heard once only; that of the starter's contacts (our choice)."""

SLACK = Decimal("0.1")
"""Part of an interval by which a pause may be longer and still count as it: a clock's jitter (our choice)."""


NOT_AVAILABLE: Mapping[str, Raw] = {
    "255": Raw.UNSIGNED_8,
    "65535": Raw.UNSIGNED_16,
    "4294967295": Raw.UNSIGNED_32,
    "127": Raw.SIGNED_8,
    "32767": Raw.SIGNED_16,
    "-32768": Raw.SIGNED_16,
    "2147483647": Raw.SIGNED_32,
    "-2147483648": Raw.SIGNED_32,
}
"""The topmost and lowest patterns, which carry no quantity (NMEA 2000 and SunSpec, from memory)."""


def proposed(heard: Heard, piece: Piece, *, boat: str | None, taken: Collection[str]) -> str | None:
    """``[signal.KEY]`` and its lines for one value of a topic; None when it carries nothing that can be watched.

    boat: the key of the boat below whose prefix the topic may stand. taken: keys that are in use.
    """
    carries = likeliest(piece)
    if carries is None:
        return None
    key = key_for(heard.topic, piece.part.pointer, boat, taken)
    topic = heard.topic
    if boat is not None and topic.startswith(f"{boat}/"):
        topic = "{boat}" + topic[len(boat) :]
    lines = [f"[signal.{key}]", f"topic = {quoted(topic)}"]
    if piece.part.pointer:
        lines.append(f"pointer = {quoted(piece.part.pointer)}")
    lines += _what(piece, carries)
    interval = interval_of(heard)
    if interval is None:
        lines.append(f'report_interval = "{spelt(UNHEARD)}"            # to set: heard no two live messages')
    else:
        longest = Decimal(heard.longest or 0) / SECOND
        lines.append(f'report_interval = "{spelt(interval)}"            # longest pause heard: {longest:.1f} s')
    lines += [
        f"# time_pointer = {quoted(other.part.pointer)}    # a time: use it if the sender's clock is right"
        for other in heard.pieces.values()
        if other.part.is_time
    ]
    return "\n".join(lines)


def likeliest(piece: Piece) -> Carries | None:
    """What the value is proposed as. Zeros and ones alone are taken for a contact."""
    if not piece.ways:
        return None
    if {Carries.NUMBER, Carries.CONTACT} <= set(piece.ways):
        return Carries.CONTACT
    return piece.ways[0]


def interval_of(heard: Heard) -> Ms | None:
    """How often it seems to report, rounded up; None when no pause between two live messages was heard."""
    if heard.longest is None:
        return None
    for each in INTERVALS:
        if heard.longest <= each * (1 + SLACK):
            return each
    return INTERVALS[-1]


def key_for(topic: str, pointer: str, boat: str | None, taken: Collection[str]) -> str:
    """A name for the signal: topic without the boat's prefix, and pointer, as words joined by hyphens."""
    bare = topic[len(boat) + 1 :] if boat is not None and topic.startswith(f"{boat}/") else topic
    words = re.findall(r"[a-z0-9]+", f"{bare}{pointer}".casefold())
    key = "-".join(words) or "signal"
    if not key[0].isalpha():
        key = f"signal-{key}"
    return next(name for name in _numbered(key) if name not in taken)


def _numbered(key: str) -> Iterator[str]:
    yield key
    number = 2
    while True:
        yield f"{key}-{number}"
        number += 1


def _what(piece: Piece, carries: Carries) -> list[str]:
    if carries is Carries.NUMBER:
        unit = piece.unit
        lines = [f"unit = {quoted(unit)}" if unit else '# unit = "V"    # to set: what the number is in']
        return lines + [
            f'# {sample} is what a bus holds for "not available": if it is that here, raw = "{NOT_AVAILABLE[sample]}"'
            for sample in piece.samples
            if sample in NOT_AVAILABLE
        ]
    lines = [f'carries = "{carries.value}"']
    if carries is Carries.CONTACT:
        if Carries.NUMBER in piece.ways:
            lines.append("# only 0 and 1 were heard: take `carries` away if it is a number")
        folded = {sample.casefold() for sample in piece.samples}
        if folded & {"open", "closed"}:
            lines.append('# "closed" counts as on; where open is the news: on_words = ["open"], off_words = ["closed"]')
    elif carries is Carries.WORD:
        heard = (word for word in piece.samples if len(word) <= LONGEST_WORD and word.casefold() not in NO_VALUES)
        words = ", ".join(map(quoted, heard))
        lines.append(f"words = [{words}]            # heard so far: add the others, an unknown word is unreadable")
    else:
        lines += [f"latitude = {quoted(piece.part.latitude)}", f"longitude = {quoted(piece.part.longitude)}"]
    return lines


def quoted(text: str) -> str:
    """A basic string of TOML 1.0."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
