"""What has come from the broker and waits to be taken: messages, changes of the link, and a bound on both."""

import asyncio
from collections.abc import Callable

from gateway.doors.faces import Arrived, BusChange

RECEIVE_WINDOW = 500
"""QoS 1 messages that the broker may have unacknowledged with us (MQTT 5, Receive Maximum). It overrides the broker's
own limit of 20 (measured with mosquitto 2.0.11), and keeps the writer's batches large."""

MESSAGES_HELD = 4 * RECEIVE_WINDOW
"""Untaken messages at which reading stops. The window alone is no bound: QoS 0 is outside it, MQTT 3.1.1 has none, and
with a full window one acknowledgement released a whole new window (measured with mosquitto 2.0.11). Our choice."""

BYTES_HELD = 16 * 1024 * 1024
"""Untaken bytes of payload at which reading stops, against large payloads. Our choice: the whole process is to stay
under 90 MiB."""


class Intake:
    """The inbox of one bus, on the loop's thread."""

    def __init__(self, woken: Callable[[], None]) -> None:
        self.messages: list[Arrived] = []
        self.came = 0  # messages since the beginning
        self._changes: list[BusChange] = []
        self._bytes = 0
        self._woken = woken
        self.room_again: Callable[[], None] | None = None

    def put(self, message: Arrived) -> None:
        """Keep one message. Wakes nobody: the reader does so once for all it has read."""
        self.messages.append(message)
        self.came += 1
        self._bytes += len(message.payload)

    def tell(self, change: BusChange) -> None:
        """Keep one change of the link, and wake the service."""
        self._changes.append(change)
        self.wake()

    def wake(self) -> None:
        """Wake the service: there is something to take. An error of the service's own is reported, not passed on."""
        try:
            self._woken()
        except Exception as error:
            asyncio.get_running_loop().call_exception_handler(
                {"message": "waking the service failed", "exception": error}
            )

    @property
    def is_full(self) -> bool:
        """Reading must stop until the service has taken what is here."""
        return len(self.messages) >= MESSAGES_HELD or self._bytes >= BYTES_HELD

    def take(self) -> tuple[list[Arrived], list[BusChange]]:
        """All messages and changes since the last call, each in order; reading goes on when it had stopped."""
        taken = self.messages, self._changes
        self.messages, self._changes, self._bytes = [], [], 0
        if self.room_again is not None:
            self.room_again()
        return taken
