"""What is known of a person's codes: wrong ones in a row, locks, and codes that can no longer confirm anything."""

from dataclasses import dataclass, replace

from gateway.requests.answers import CodeTrouble
from gateway.requests.facts import CodeSpent, PersonLocked
from gateway.vocabulary.moments import DAY, Ms

DEAD_CODES_KEPT = 20
"""Codes of one person that are known again after their end, for a day (our choice; more than can be asked in the
10 min in which a replay is likely)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeadCode:
    """A code that can no longer confirm anything, and what is answered when it comes again."""

    request: str
    mark: str
    trouble: CodeTrouble
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Tries:
    """Wrong codes of one person. wrong: their instants within the last day. series: how many since the last right one,
    or since a day without any; a lock leaves it. locked_until: first free instant.
    locked: without end, until the installer has proved the person again. locks: instants of those of the last day.
    locked_at: instant of the last lock, ms UTC.
    """

    in_a_row: int = 0
    series: int = 0
    wrong: tuple[Ms, ...] = ()
    locked_until: Ms | None = None
    locked: bool = False
    locks: tuple[Ms, ...] = ()
    locked_at: Ms = 0


def with_dead(codes: tuple[DeadCode, ...], fact: CodeSpent, now: Ms) -> tuple[DeadCode, ...]:
    """A person's dead codes and one more, those of the last day."""
    kept = tuple(code for code in codes if now - code.at < DAY)
    dead = DeadCode(request=fact.request, mark=fact.mark, trouble=fact.trouble, at=now)
    return (*kept, dead)[-DEAD_CODES_KEPT:]


def after_wrong(tries: Tries, now: Ms) -> Tries:
    """One wrong code more."""
    recent = tuple(at for at in tries.wrong if now - at < DAY)
    series = tries.series + 1 if recent else 1
    return replace(tries, in_a_row=tries.in_a_row + 1, series=series, wrong=(*recent, now))


def after_right(tries: Tries) -> Tries:
    """The right words end a row of wrong ones."""
    return replace(tries, in_a_row=0, series=0)


def after_lock(tries: Tries, fact: PersonLocked, now: Ms) -> Tries:
    """The person's commands are locked."""
    return replace(
        tries,
        in_a_row=0,
        locked_until=fact.until,
        locked=tries.locked or fact.until is None,
        locks=(*(at for at in tries.locks if now - at < DAY), now),
        locked_at=now,
    )
