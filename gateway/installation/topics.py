"""Which topics are listened to on which broker, and that none of them means two things."""

from collections.abc import Iterable, Mapping

from gateway.boat.settings import Signal
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


def check_overlaps(fleet: Iterable[Fitted], servers: Mapping[str, tuple[str, int]], findings: Findings) -> None:
    """What loads and is probably a slip: one payload read in two ways that exclude each other, two topics that differ
    in nothing but capitals or a slash at an end (to a broker they are two: MQTT 5, 4.7.3), one topic heard through two
    brokers of one address.

    servers: host and port of each broker.
    """
    alike: dict[tuple[tuple[str, int], str], tuple[str, str, str]] = {}
    for boat in fleet:
        by_topic: dict[str, list[Signal]] = {}
        for key, signal in boat.signals.items():
            if signal is None:
                continue
            path = ("signal", key, "topic")
            by_topic.setdefault(signal.topic, []).append(signal)
            server = servers.get(boat.boat.broker)
            if server is None:
                continue
            nearly = signal.topic.casefold().strip("/")
            topic, broker, other = alike.setdefault((server, nearly), (signal.topic, boat.boat.broker, signal.id))
            if topic != signal.topic:
                findings.warn(
                    boat.signal_tables,
                    path,
                    f'"{signal.topic}" is almost "{topic}" of "{other}", and a broker keeps them apart',
                )
            elif broker != boat.boat.broker:
                findings.warn(
                    boat.signal_tables,
                    path,
                    f'"{topic}" is also that of "{other}": the brokers {broker} and {boat.boat.broker} are one',
                )
        for signals in by_topic.values():
            _read_two_ways(boat, signals, findings)


def _read_two_ways(boat: Fitted, signals: list[Signal], findings: Findings) -> None:
    """On one topic, a pointer to a value and a pointer into it: one of the two can never be read."""
    for signal in signals:
        for other in signals:
            if signal is not other and signal.pointer.startswith(f"{other.pointer}/"):
                whole = f'"{other.pointer}" of it' if other.pointer else "the payload whole"
                findings.warn(
                    boat.signal_tables,
                    ("signal", signal.key, "pointer"),
                    f'looks inside what "{other.key}" takes for one value ({whole})',
                )


def topics_by_broker(fleet: Iterable[Fitted]) -> Mapping[str, tuple[str, ...]]:
    """The topics to subscribe to, by broker's name, each once and in order."""
    found: dict[str, set[str]] = {}
    for boat in fleet:
        mine = found.setdefault(boat.boat.broker, set())
        mine.update(signal.topic for signal in boat.signals.values() if signal)
    return {broker: tuple(sorted(topics)) for broker, topics in found.items()}
