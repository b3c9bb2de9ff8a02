"""The boats' data: one MQTT broker."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from gateway.doors.faces.trouble import DoorTrouble
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokerSettings:
    """One MQTT broker. client_id must be the gateway's own; version 5 or 3 (3.1.1). Times in whole seconds.

    password is the secret itself, already fetched from where the installation says it lies; never printed.
    """

    name: str
    host: str
    port: int
    client_id: str
    version: int = 5
    user: str | None = None
    password: str | None = field(default=None, repr=False)
    ca_file: str | None = None
    keepalive: int = 25  # 20 to 30 s finds a half-open link within one to two keepalives (measured)
    session_expiry: int = 7 * 24 * 3600  # days, not minutes: an outage over a weekend must not lose the queue


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """One MQTT message, as it came. generation: number of the connection; a stale acknowledgement is dropped by it.

    topic is None when its bytes are no UTF-8. qos 0 messages need no acknowledgement.
    """

    generation: int
    mid: int
    qos: int
    topic: str | None
    payload: bytes
    retained: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BusChange:
    """The link to the broker came or went. memory_kept: the broker still knew our session. rival: it went because
    another client uses our client id, as far as can be seen."""

    up: bool
    memory_kept: bool = True
    detail: str = ""
    rival: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Overheard:
    """One message that somebody who only listens was given. topic: None when its bytes are no UTF-8. at: ms of a clock
    that only goes forward."""

    topic: str | None
    payload: bytes
    retained: bool
    at: Ms


class BrokerUnheard(DoorTrouble):
    """The broker could not be listened to."""


class Bus(Protocol):
    """One broker's link. All methods are called on the asyncio loop's own thread."""

    async def open(self, topics: Sequence[str]) -> None:
        """Begin to connect, and keep connecting for ever. Returns at once; a broker away is waited for."""
        ...

    def take(self) -> tuple[list[Arrived], list[BusChange]]:
        """All that has come since the last call, in order of arrival. `woken` is called when there is something."""
        ...

    def acknowledge(self, messages: Iterable[Arrived]) -> None:
        """Tell the broker that these are on disk, in order of arrival. Those of an older connection are dropped."""
        ...

    async def publish(self, topic: str, payload: str, *, retain: bool, expires_after: int | None) -> bool:
        """Publish at QoS 1; True when the broker took it within 10 s. expires_after in whole seconds (MQTT 5).

        Returns False at once while there is no connection: nothing is queued for later (a command never fires late).
        """
        ...

    async def close(self) -> None:
        """Disconnect cleanly; the session stays with the broker."""
        ...
