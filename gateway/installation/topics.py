"""Which topics are listened to on which broker, and that none of them means two things."""

from collections.abc import Iterable, Mapping

from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings


def check_topics(fleet: Iterable[Fitted], findings: Findings) -> None:
    """On one broker no two signals of different boats share topic and pointer, and no command topic is a signal's or
    another boat's command topic."""
    fleet = tuple(fleet)
    values: dict[tuple[str, str, str], str] = {}
    heard: dict[tuple[str, str], str] = {}
    commands: dict[tuple[str, str], str] = {}
    for boat in fleet:
        for key, signal in boat.signals.items():
            if signal is None:
                continue
            where = (boat.boat.broker, signal.topic)
            heard.setdefault(where, signal.id)
            other = values.setdefault((*where, signal.pointer), signal.id)
            if other.partition("/")[0] != boat.boat.key:
                findings.mistake(
                    boat.signal_tables,
                    ("signal", key, "topic"),
                    f'topic and pointer are also those of "{other}"',
                    "begin each boat's topics with its own name: {boat}",
                )
    for boat in fleet:
        for key, piece in boat.equipment.items():
            if piece is None:
                continue
            where = (boat.boat.broker, piece.topic)
            path = ("equipment", key, "topic")
            if where in heard:
                findings.mistake(
                    boat.equipment_tables,
                    path,
                    f'commands would go out on the topic of the signal "{heard[where]}"',
                    "give the relay node a command topic of its own",
                )
            other = commands.setdefault(where, piece.id)
            if other.partition("/")[0] != boat.boat.key:
                findings.mistake(
                    boat.equipment_tables,
                    path,
                    f'is also the command topic of "{other}"',
                    "begin each boat's topics with its own name: {boat}",
                )


def topics_by_broker(fleet: Iterable[Fitted]) -> Mapping[str, tuple[str, ...]]:
    """The topics to subscribe to, by broker's name, each once and in order."""
    found: dict[str, set[str]] = {}
    for boat in fleet:
        mine = found.setdefault(boat.boat.broker, set())
        mine.update(signal.topic for signal in boat.signals.values() if signal)
    return {broker: tuple(sorted(topics)) for broker, topics in found.items()}
