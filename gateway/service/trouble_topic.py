"""Trouble with store, brokers and carriers also stands retained on a topic of our own, for whoever watches the gateway
by another way than texts."""

import json
from collections.abc import Callable, Coroutine, Mapping

from gateway.doors.faces import Bus
from gateway.vocabulary.happenings import LinkChanged


class TroubleTopic:
    """`heavingline/<client_id>/trouble` on every broker: a JSON object, for each link "up" or "down: why".

    start: runs a coroutine on the loop. What cannot be published now is with the next change; a broker that comes
    back is a change.
    """

    def __init__(
        self,
        buses: Mapping[str, Bus],
        client_ids: Mapping[str, str],
        start: Callable[[Coroutine[None, None, None]], None],
    ) -> None:
        self._buses, self._start = buses, start
        self._topics = {name: f"heavingline/{client_ids[name]}/trouble" for name in buses}
        self._words: dict[str, str] = {}

    def seen(self, change: LinkChanged) -> None:
        """A link came or went, or the store."""
        word = _word(change)
        if self._words.get(change.link) == word:
            return
        self._words[change.link] = word
        payload = json.dumps(dict(sorted(self._words.items())))
        for name, bus in self._buses.items():
            self._start(_say(bus, self._topics[name], payload))


def _word(change: LinkChanged) -> str:
    if not change.up:
        return f"down: {change.detail}" if change.detail else "down"
    # That a broker had lost its memory is over once it is known; a filter that it refuses stands on.
    return f"up, but {change.detail}" if change.detail and change.memory_kept else "up"


async def _say(bus: Bus, topic: str, payload: str) -> None:
    await bus.publish(topic, payload, retain=True, expires_after=None)
