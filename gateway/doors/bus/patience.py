"""How long to wait between two connections, and when to say that somebody else uses our client id. Pure."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Patience:
    """Waits in seconds. The first attempt after a steady connection waits `first`, each further one twice as long, at
    most `longest`. A connection that lasted `steady` starts the row anew.

    Our choice: a boat's link comes back in seconds, and 30 s at most is lost when it does not. `steady` is twice
    `longest`, else two clients with one id, each waiting its longest, would look steady to each other.
    """

    first: float = 1.0
    longest: float = 30.0
    steady: float = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """How a connection ended. lived: seconds from the broker's welcome to the end, None when it was never welcome.
    cut: the other side ended it. taken_over: the broker says that another client came with our id (MQTT 5, 0x8E)."""

    detail: str
    lived: float | None = None
    cut: bool = False
    taken_over: bool = False


CUTS_TO_SUSPECT = 3
"""Short connections in a row, each cut by the other side, after which another client with our id is suspected.
MQTT 3.1.1 gives no reason; one cut is a broker restarting, two may be. Our choice."""


class Waits:
    """The row of attempts of one bus."""

    def __init__(self, patience: Patience) -> None:
        self._patience = patience
        self._attempts = 0
        self._cuts = 0
        self._taken_over = False

    def after(self, end: Ended) -> float:
        """Seconds to wait before the next connection, given how the last one ended."""
        steady = end.lived is not None and end.lived >= self._patience.steady
        if steady:
            self._attempts, self._cuts, self._taken_over = 0, 0, False
        if end.lived is not None:
            self._cuts = self._cuts + 1 if end.cut and not steady else 0
            self._taken_over = self._taken_over or end.taken_over
        wait = self._patience.first * 2.0 ** min(self._attempts, 16)
        self._attempts += 1
        return min(wait, self._patience.longest)

    def suspicion(self, client_id: str) -> str:
        """What to say about our client id, in the installer's words; empty when there is nothing to say."""
        if self._taken_over:
            return (
                f"another client has connected with our client id '{client_id}'; "
                "give every gateway a client_id of its own"
            )
        if self._cuts >= CUTS_TO_SUSPECT:
            return (
                f"the broker has cut us {self._cuts} times soon after welcoming us; another client may be using our "
                f"client id '{client_id}'; give every gateway a client_id of its own"
            )
        return ""
