"""The web hook by which a carrier calls us."""

from dataclasses import dataclass
from typing import Protocol

HOOK_TEXTS, HOOK_REPORTS = "/texts", "/reports"
"""Our two paths below a web hook's public address: for texts to us, and for what becomes of texts of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HookSettings:
    """A web hook: where one carrier calls us. host, port: where it listens on this machine (port 0: any free one).
    public_url: the address that the carrier is given, without a slash at its end; signatures are held against it.
    account, sender: as in CarrierSettings; calls for another account or number are not taken."""

    name: str
    host: str
    port: int
    public_url: str
    account: str
    sender: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HookedText:
    """A text as a web hook brought it. The call tells no time, and what it says may have been said before. mark: the
    carrier's own reading of it as opt-out or opt-in ("STOP", "START", "HELP"), "" when there is none."""

    message: str
    number: str
    body: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryWord:
    """What became of a text of ours, as a web hook brought it. order: our order's id. code: "" when there is none."""

    order: str
    status: str
    code: str


class HookTaker(Protocol):
    """Whoever takes in what a web hook brings. Called on the loop's thread."""

    async def text(self, text: HookedText) -> bool:
        """A text. True when it is on disk, now or since long; False when it is not within 10 s."""
        ...

    async def word(self, word: DeliveryWord) -> bool:
        """A word on a text of ours. True when it is on disk."""
        ...

    def doubted(self, detail: str) -> None:
        """A call named our account and was not signed as it should be: an address or a token may be wrong."""
        ...


class Inbox(Protocol):
    """One carrier's web hook. Called on the loop's thread."""

    async def open(self, taker: HookTaker) -> None:
        """Listen. Raises DoorTrouble when that is not possible; then it may be tried again."""
        ...

    async def close(self) -> None:
        """Listen no more; at once, whoever is connected."""
        ...
