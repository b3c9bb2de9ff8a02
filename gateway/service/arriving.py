"""Messages of the brokers become items: readings of one gathering together, the rest one by one."""

from collections.abc import Callable, Iterable, Mapping

from gateway.boat.decoding import decode, sample_of
from gateway.boat.directory import Directory, directory_of
from gateway.desk.bundle import Bundle
from gateway.doors.faces import Arrived, BusChange
from gateway.service.items import Item
from gateway.vocabulary.happenings import LinkChanged, ReadingsCame, UnknownTopicCame
from gateway.vocabulary.readings import Reading

MOST_AT_ONCE = 250
"""Messages in one happening, half the receive window: more would hold up the acknowledgements (our choice)."""


def directories_of(bundle: Bundle, brokers: Iterable[str]) -> Mapping[str, Directory]:
    """What each of these brokers carries of the boats, by the broker's name."""
    signals, boats = bundle.signals.values(), bundle.boats
    return {name: directory_of(s for s in signals if boats[s.boat].broker == name) for name in brokers}


def items_of(
    broker: str, directory: Directory, messages: Iterable[Arrived], apart: Mapping[str, Callable[[bytes], None]]
) -> list[Item]:
    """What these messages of one broker amount to, in order of arrival; every one of them ends in an item, so that
    every one is acknowledged. apart: topics of our own whose payload goes to a callback and nowhere else."""
    items: list[Item] = []
    readings: list[Reading] = []
    waiting: list[tuple[str, Arrived]] = []

    def close() -> None:
        if waiting:
            items.append(Item(ReadingsCame(readings=tuple(readings)), tuple(waiting)))
        readings.clear()
        waiting.clear()

    for message in messages:
        signals = directory.by_topic.get(message.topic) if message.topic is not None else None
        if signals is not None:
            readings.extend(decode(signals, message.payload, retained=message.retained))
        elif message.topic is not None and message.topic in apart:
            apart[message.topic](message.payload)
        else:
            close()
            topic = message.topic if message.topic is not None else "(not UTF-8)"
            unknown = UnknownTopicCame(broker=broker, topic=topic, sample=sample_of(message.payload))
            items.append(Item(unknown, ((broker, message),)))
            continue
        waiting.append((broker, message))
        if len(waiting) >= MOST_AT_ONCE:
            close()
    close()
    return items


def link_items(broker: str, changes: Iterable[BusChange]) -> list[Item]:
    """Comings and goings of a broker's link."""
    return [
        Item(
            LinkChanged(
                link=f"broker:{broker}",
                up=change.up,
                memory_kept=change.memory_kept,
                detail=change.detail,
                rival=change.rival,
            )
        )
        for change in changes
    ]
