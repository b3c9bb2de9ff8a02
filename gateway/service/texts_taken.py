"""Which texts were taken in already: those on disk, and those on the way there. Each is taken once."""

from collections.abc import Awaitable, Callable, Sequence

from gateway.doors.faces import StoreTrouble, StoreUnreadable
from gateway.vocabulary.moments import Ms


class TextsTaken:
    """Used on the loop's thread. has_seen: asks the store.

    passed_over: (carrier's id, instant) of texts that are to be known without being acted on, not on disk yet.
    """

    def __init__(self, has_seen: Callable[[Sequence[str]], Awaitable[frozenset[str]]]) -> None:
        self._has_seen = has_seen
        self._on_the_way: set[str] = set()
        self.passed_over: tuple[tuple[str, Ms], ...] = ()

    async def unseen(self, messages: Sequence[str]) -> frozenset[str] | None:
        """Which of these have never been taken in; None while the store cannot say: better late than twice, and they
        are asked for again at the next poll."""
        asked = [message for message in messages if message not in self._on_the_way]
        if not asked:
            return frozenset()
        try:
            return frozenset(asked) - await self._has_seen(asked)
        except (StoreTrouble, StoreUnreadable):
            return None

    def take(self, message: str) -> bool:
        """This one is being taken in. False when it is already: by a poll and a web hook at the same time."""
        if message in self._on_the_way:
            return False
        self._on_the_way.add(message)
        return True

    def is_on_its_way(self, message: str) -> bool:
        """Whether this one was taken in and is not on disk yet."""
        return message in self._on_the_way

    def pass_over(self, message: str, now: Ms) -> None:
        """This one is to be known and nothing more."""
        self._on_the_way.add(message)
        self.passed_over += ((message, now),)

    def on_disk(self, seen: Sequence[tuple[str, Ms]]) -> None:
        """These are on disk: the store knows them from now on."""
        done = {message for message, _ in seen}
        self._on_the_way -= done
        self.passed_over = tuple(one for one in self.passed_over if one[0] not in done)
