"""The self-check of names at the start: each is put into every pattern of phrase in which it may stand, and must read
back to its own key."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from grammar.cleaning import folded
from grammar.language import ENGLISH, Language
from grammar.meanings import (
    Ashore,
    Asking,
    AtBoat,
    Attend,
    Duty,
    DutyOff,
    HandOver,
    Meaning,
    PhoneLost,
    PutBack,
    Question,
    QuietAlarm,
    RemoveAlarm,
    Request,
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    Understood,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
)
from grammar.names import Pair, wordings
from grammar.phrases import say

_PLAIN_REQUESTS: tuple[Request, ...] = (
    *(Question(asking=asking) for asking in Asking),
    TakeAlarm(),
    TakeAlarm(alarm=14),
    ResetAlarm(),
    ResetAlarm(alarm=14),
    VisitBegins(),
    VisitOver(),
    ShelveAlarm(alarm=14, minutes=120),
    UnshelveAlarm(alarm=14),
    RemoveAlarm(alarm=14, days=3),
    PutBack(alarm=14),
    AtBoat(),
    AtBoat(alarm=14),
    Ashore(),
    Ashore(alarm=14),
    TakeOver(alarm=14),
    HandOver(alarm=14),
    Duty(),
    Duty(weekday=6),
    Duty(minute=18 * 60),
    DutyOff(),
    QuietAlarm(alarm=14, minutes=120),
    PhoneLost(),
    *(Attend(kept=kept) for kept in ("away", "aboard", "laid up", "in the yard")),
)
"""Confirmations are not among them: their words are drawn so that no name holds them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SelfCheck:
    """read: the reader that is checked. The rest as for `TextReader`."""

    read: Callable[[str], Meaning]
    boats: Mapping[str, str]
    equipment: Mapping[str, tuple[str, Pair]]
    subjects: Iterable[str]
    language: Language
    rest_only: frozenset[str]

    def misread(self) -> Iterator[str]:
        """What is wrong with the names, in plain words with the cure."""
        for name, (key, pair) in self.equipment.items():
            for phrase, switch in self._switch_patterns(folded(name), key, pair):
                if self.read(phrase) != Understood(request=switch):
                    yield f'the name "{name}" cannot be used: "{phrase}" is not read as meant; choose another name'
                    break
        for subject in self.subjects:
            phrase = say(Question(asking=Asking.STATUS, subject=folded(subject)), {}, self.language.printed)
            meant = self.read(phrase)
            asked = isinstance(meant, Understood) and isinstance(meant.request, Question)
            if not asked:
                yield f'the name "{subject}" cannot be used: "{phrase}" is not read as meant; choose another name'
        named = (*(one for phrase in self.boats for one in wordings(phrase)), *map(folded, self.equipment))
        for boat, key in self.boats.items():
            for phrase, request in self._boat_patterns(folded(boat), named):
                if self.read(phrase) != Understood(request=request, boat=key):
                    yield f'the boat name "{boat}" cannot be used: "{phrase}" is not read as meant; choose another'
                    break

    def _switch_patterns(self, name: str, key: str, pair: Pair) -> Iterator[tuple[str, Request]]:
        """Every printed phrase of a name of equipment, and what it must mean; in English the other orders as well."""
        printed, names = self.language.printed, {key: name}
        asking: list[Request] = []
        for action in self._ordered(key, pair):
            asking.append(Switch(equipment=key, action=action))
            if action not in ("stop", "close"):
                asking.append(Switch(equipment=key, action=action, minutes=90))
                asking.append(Switch(equipment=key, action=action, until=18 * 60))
        asking.append(Question(asking=Asking.STATUS, equipment=key))
        for request in asking:
            yield say(request, names, printed), request
        if self.language is ENGLISH:
            yield from _english_patterns(name, key, self._ordered(key, pair))

    def _ordered(self, key: str, pair: Pair) -> tuple[str, ...]:
        """Those of the pair that a text can order."""
        return pair[1:] if key in self.rest_only else pair

    def _boat_patterns(self, boat: str, named: Sequence[str]) -> Iterator[tuple[str, Request]]:
        """What may stand behind a boat's name. Every equipment only where another name goes on from this one: elsewhere
        one equipment reads as well as all of them, and a thousand boats are checked in seconds. named: every name of a
        boat or of equipment."""
        for request in _PLAIN_REQUESTS:
            yield f"{boat} {say(request, {}, self.language.printed)}", request
        goes_on = any(name.startswith(f"{boat} ") for name in named)
        for name, (key, pair) in list(self.equipment.items())[: None if goes_on else 1]:
            action = self._ordered(key, pair)[0]
            yield f"{boat} {folded(name)} {self.language.says(action)}", Switch(equipment=key, action=action)


def _english_patterns(name: str, key: str, actions: Iterable[str]) -> Iterator[tuple[str, Switch]]:
    """Every other pattern in which a name of equipment may stand, and what it must mean."""
    for action in actions:
        plain = Switch(equipment=key, action=action)
        first = f"turn {action}" if action in ("on", "off") else action
        yield f"{first} {name}", plain
        yield f"{first} the {name}", plain
        if action in ("on", "off"):
            yield f"turn {name} {action}", plain
            yield f"switch {action} {name}", plain
        if action not in ("stop", "close"):
            yield f"{first} {name} until 18:00", Switch(equipment=key, action=action, until=18 * 60)
            yield f"{name} {action} 2h", Switch(equipment=key, action=action, minutes=120)
