"""What is told about who may command: numbers and their proof, phones that are lost, locks, lists on paper.

Each goes to one person (random id). Instants are ms UTC.
"""

from dataclasses import dataclass
from enum import StrEnum

from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperRunsLow:
    """A paper list is nearly used up. who: id of its person, who may be the reader. left: lines."""

    person: str
    who: str
    left: int
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProveFirst:
    """Nothing was switched, because nobody has made sure whose number it is: the two words that are to come back, and
    until when they are good. silent: it was proved once, and then sent nothing for 60 days."""

    person: str
    boat: str
    equipment: str
    action: str
    words: tuple[str, str]
    expires: Ms
    silent: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberIsProved:
    """The two words came back: the number may command from now on. Nothing was switched by that."""

    person: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CommandsLocked:
    """Five wrong codes in a row: told to owner and installer. who: id of the locked person. until: first instant at
    which commands are read again. endless: locked until the installer has proved the person again."""

    person: str
    who: str
    until: Ms
    boat: str = ""
    endless: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PhoneLostTold:
    """A phone was reported lost and commands nothing any more. who: id of its person; by: of who reported it. Either
    may be the reader. installers: ids of those who can give the commands back."""

    person: str
    who: str
    by: str
    installers: tuple[str, ...]
    boat: str = ""


class CannotReport(StrEnum):
    """Why a report that a phone is lost took nothing."""

    UNKNOWN = "nobody of that name"
    LOST_ITSELF = "reported lost itself"
    ALREADY = "reported already"
    NO_RIGHTS = "commands nothing"
    LAST = "the last who may command"


@dataclass(frozen=True, slots=True, kw_only=True)
class PhoneNotTaken:
    """A report that a phone is lost took nothing. who: id of the phone's person, None when nobody is called so.
    boat: whose last person with rights it is, else "". installers: as above."""

    person: str
    who: str | None
    cannot: CannotReport
    boat: str = ""
    installers: tuple[str, ...] = ()
