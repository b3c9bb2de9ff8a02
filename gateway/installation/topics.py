"""Which topics are listened to on which broker, and that none of them means two things."""

from collections.abc import Iterable, Mapping

from gateway.boat.settings import Signal
from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings
from gateway.installation.named_levels import lets_in, meet


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


def check_filters(fleet: Iterable[Fitted], findings: Findings) -> None:
    """What is listened to through named levels lets in one boat only, none of our own commands, and nothing twice: a
    broker may deliver once for every filter that lets a topic in (MQTT 5, 3.3.4)."""
    fleet = tuple(fleet)
    commands = {
        (boat.boat.broker, piece.topic): piece.id for boat in fleet for piece in boat.equipment.values() if piece
    }
    filters: dict[tuple[str, str], str] = {}
    for boat in fleet:
        for key, wild in _filters(boat):
            path = ("signal", key, "topic")
            if wild.startswith("+"):
                findings.mistake(
                    boat.signal_tables,
                    path,
                    "begins with a named level, which lets in every boat of the broker",
                    "begin it with {boat}, or write the first level as {name} in place of +name",
                )
            for (broker, other), whose in filters.items():
                if broker == boat.boat.broker and other != wild and meet(other, wild):
                    findings.mistake(
                        boat.signal_tables,
                        path,
                        f'its named levels and those of "{whose}" let in the same topics ("{wild}" and "{other}")',
                        "write one of the levels as {name} in place of +name",
                    )
                    break
            filters.setdefault((boat.boat.broker, wild), f"{boat.boat.key}/{key}")
            for (broker, topic), piece in commands.items():
                if broker == boat.boat.broker and lets_in(wild, topic):
                    findings.mistake(
                        boat.signal_tables,
                        path,
                        f'its named level would let in the commands to "{piece}" ({topic})',
                        "give the relay node a command topic beside it, or write the level as {name} in place of +name",
                    )


def _filters(boat: Fitted) -> Iterable[tuple[str, str]]:
    """Key of a signal and what is subscribed to for it, each filter once; none for a signal that a table of its own
    gives another topic."""
    seen: set[str] = set()
    for key, wild in boat.signal_tables.filters.items():
        signal = boat.signals.get(key)
        if wild not in seen and signal is not None and lets_in(wild, signal.topic):
            seen.add(wild)
            yield key, wild


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
    """What to subscribe to, by broker's name, each once and in order: filters of named levels, and every topic that
    none of them lets in."""
    fleet = tuple(fleet)
    wild: dict[str, set[str]] = {}
    found: dict[str, set[str]] = {}
    for boat in fleet:
        wild.setdefault(boat.boat.broker, set()).update(one for _, one in _filters(boat))
    for boat in fleet:
        filters = wild[boat.boat.broker]
        mine = found.setdefault(boat.boat.broker, set(filters))
        mine.update(
            signal.topic
            for signal in boat.signals.values()
            if signal and not any(lets_in(one, signal.topic) for one in filters)
        )
    return {broker: tuple(sorted(topics)) for broker, topics in found.items()}
