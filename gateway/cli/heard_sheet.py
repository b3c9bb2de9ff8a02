"""What `listen` heard, as a sheet to read and as plain values for programs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from gateway.boat.heard import Heard, HeardOnBroker, Piece
from gateway.boat.settings import Carries
from gateway.desk.bundle import Bundle
from gateway.installation.lengths import spelt
from gateway.installation.signal_tables import likeliest
from gateway.vocabulary.moments import SECOND, Ms

SHOWN = 34
"""Characters of one sample that are shown (our choice)."""


@dataclass(frozen=True, slots=True)
class Uses:
    """By broker, topic and pointer: the signals that read it; by broker and topic: whose commands go out there.

    None for everything when the installation could not be read."""

    signals: Mapping[tuple[str, str, str], str]
    commands: Mapping[tuple[str, str], str]

    def of(self, broker: str, topic: str, pointer: str) -> str:
        """What uses it, in words, "" when nothing does."""
        if topic.startswith("heavingline/"):
            return "the gateway itself"
        command = self.commands.get((broker, topic))
        if command is not None:
            return f"commands to {command}"
        return self.signals.get((broker, topic, pointer), "")


def uses_of(bundle: Bundle) -> Uses:
    """Which topics the installation uses."""
    of_boat = {key: boat.broker for key, boat in bundle.boats.items()}
    signals: dict[tuple[str, str, str], str] = {}
    for signal in bundle.signals.values():
        place = (of_boat[signal.boat], signal.topic, signal.pointer)
        signals[place] = f"{signals[place]}, {signal.id}" if place in signals else signal.id
    commands = {(of_boat[piece.boat], piece.topic): piece.id for piece in bundle.equipment.values()}
    return Uses(signals, commands)


def sheet(broker: str, heard: HeardOnBroker, length: Ms, uses: Uses | None) -> Iterator[str]:
    """The lines for one broker. length: how long was listened, ms."""
    topics = heard.in_order()
    messages = sum(one.count for one in topics.values())
    yield f"Broker {broker}: {_counted(len(topics), 'topic')}, {_counted(messages, 'message')} in {spelt(length)}."
    for topic, one in topics.items():
        yield f"  {topic}"
        yield f"      {_how_often(one)}"
        for pointer, piece in one.pieces.items():
            yield f"      {_piece(pointer, piece)}{_used(broker, topic, pointer, uses)}"
    if heard.unnamed:
        yield f"  {_counted(heard.unnamed, 'message')} on topics that are no UTF-8: no signal can use them."
    if heard.beyond:
        yield f"  {_counted(heard.beyond, 'message')} on further topics are not shown; name fewer: --topics boat/#"


def unused(broker: str, heard: HeardOnBroker, uses: Uses) -> Iterator[tuple[Heard, Piece]]:
    """Values that carry something and are used by nothing, in order."""
    for topic, one in heard.in_order().items():
        for pointer, piece in one.pieces.items():
            if likeliest(piece) is not None and not uses.of(broker, topic, pointer):
                yield one, piece


def values_of(broker: str, heard: HeardOnBroker, uses: Uses | None) -> Iterator[dict[str, object]]:
    """One object a topic. used_by: None when the installation could not be read, "" when nothing uses the value."""
    for topic, one in heard.in_order().items():
        yield {
            "broker": broker,
            "topic": topic,
            "messages": one.count,
            "retained": one.retained,
            "cleared": one.cleared,
            "longest_pause": one.longest,
            "json": one.is_json,
            "values": [
                {
                    "pointer": pointer,
                    "carries": carries.value if (carries := likeliest(piece)) is not None else None,
                    "samples": piece.samples,
                    "unit": piece.part.unit,
                    "used_by": None if uses is None else uses.of(broker, topic, pointer),
                }
                for pointer, piece in one.pieces.items()
            ],
        }


def _how_often(one: Heard) -> str:
    said = []
    if one.live:
        said.append(_counted(one.live, "live message"))
    if one.longest is not None:
        said.append(f"longest pause {Decimal(one.longest) / SECOND:.1f} s")
    if one.retained:
        said.append(f"{one.retained} retained (of unknown age)")
    if one.cleared:
        said.append(f"{one.cleared} empty (a retained value being cleared)")
    if one.is_json:
        said.append("JSON")
    return ", ".join(said)


def _piece(pointer: str, piece: Piece) -> str:
    carries = likeliest(piece)
    samples = ", ".join(_cut(sample) for sample in piece.samples)
    unit = f" {piece.part.unit}" if piece.part.unit and carries is Carries.NUMBER else ""
    if carries is None:
        what = "time" if piece.part.is_time else "no one kind of value" if piece.part.carries else "nothing to watch"
    else:
        what = carries.value
    return f"{pointer + ' ' if pointer else ''}{what}: {samples}{unit}"


def _used(broker: str, topic: str, pointer: str, uses: Uses | None) -> str:
    if uses is None:
        return ""
    return f"   -> {uses.of(broker, topic, pointer) or 'NOT USED'}"


def _cut(text: str) -> str:
    shown = "".join(c if c.isprintable() else "." for c in text)
    return shown if len(shown) <= SHOWN else f"{shown[: SHOWN - 2]}.."


def _counted(count: int, one: str) -> str:
    return f"{count} {one if count == 1 else one + 's'}"
