"""All that the installer laid down, as the desk uses it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from gateway.alarms.settings import Point
from gateway.boat.settings import Boat, Shared, Signal
from gateway.people.roster import Shift
from gateway.people.settings import Person, Role
from gateway.reckoning.own_sums import OwnSum
from gateway.requests.paper_lists import PaperList
from gateway.requests.settings import Equipment
from gateway.telling.gathering import Matter, name_said
from gateway.telling.settings import CallOutList, Pacing
from gateway.vocabulary.priority import Priority
from gateway.wording.names import first_names
from gateway.wording.own_wording import OwnWording
from grammar.meanings import Meaning, Request, Understood


@dataclass(frozen=True, kw_only=True)
class Bundle:
    """One installation's settings. Keys of the mappings: boats by key; signals, points and equipment by id
    (``boat/key``); people by random id; call-out lists by key.

    fingerprint: SHA-256 (hex) over the files. read_text: the ready-made reader of texts. phrase: language
    and request -> the phrase that is printed for it there. code_words: the words that
    confirmation codes are drawn from. paper_lists: by random id, of those who have one.
    mailed: there is a mail server.
    sums: the boats' own, by id. readers: of other languages that persons have, by language.
    balance_low: by carrier's name, what its account holds at the least, in the account's own currency.
    own_wordings: the installer's own, by language and kind of text.
    """

    fingerprint: str
    boats: Mapping[str, Boat]
    signals: Mapping[str, Signal]
    points: Mapping[str, Point]
    people: Mapping[str, Person]
    callouts: Mapping[str, CallOutList]
    equipment: Mapping[str, Equipment]
    pacing: Pacing
    read_text: Callable[[str], Meaning]
    phrase: Callable[[str, Request], str]
    code_words: tuple[str, ...]
    paper_lists: Mapping[str, PaperList] = field(default_factory=dict)
    mailed: bool = False
    roster: tuple[Shift, ...] = ()
    balance_low: Mapping[str, Decimal] = field(default_factory=dict)
    sums: Mapping[str, OwnSum] = field(default_factory=dict)
    readers: Mapping[str, Callable[[str], Meaning]] = field(default_factory=dict)
    own_wordings: Mapping[tuple[str, str], OwnWording] = field(default_factory=dict)

    def read_from(self, person: Person | None, body: str) -> Meaning:
        """What a person's text says, in that person's language only. A stranger's is looked at in every language of the
        installation: nothing is carried out by it, but who is told depends on whether it gives an order."""
        if person is not None:
            return self.readers.get(person.language, self.read_text)(body)
        read = [reader(body) for reader in (self.read_text, *self.readers.values())]
        return next((meaning for meaning in read if isinstance(meaning, Understood)), read[0])

    @cached_property
    def person_by_number(self) -> Mapping[str, Person]:
        """Who has a number (E.164)."""
        return {person.number: person for person in self.people.values()}

    @cached_property
    def first_names(self) -> Mapping[str, int]:
        """How many persons have a first name, by that name as it is said."""
        return first_names(self.people.values())

    @cached_property
    def links(self) -> frozenset[str]:
        """The names of the links that the boats need, as links are named: ``broker:NAME``, ``carrier:NAME``, and the
        carrier's web hook, ``hook:NAME``, where there is one; and ``mail``, where there is a server for it."""
        boats = self.boats.values()
        brokers = {f"broker:{boat.broker}" for boat in boats}
        carriers = {f"{kind}:{boat.carrier}" for boat in boats for kind in ("carrier", "hook")}
        return frozenset(brokers | carriers | ({"mail"} if self.mailed else set()))

    def carrier_for(self, person: str, boat: str) -> str | None:
        """The name of the carrier by which this person is texted about a boat (key; "" for the gateway itself); None
        when there is no such person or boat any more."""
        known = self.people.get(person)
        key = boat or (known.boats[0] if known is not None and known.boats else "")
        return self.boats[key].carrier if key in self.boats else None

    @cached_property
    def sums_of(self) -> Mapping[str, tuple[OwnSum, ...]]:
        """By boat's key, the sums all of whose signals are there."""
        found: dict[str, tuple[OwnSum, ...]] = {}
        for own in self.sums.values():
            if self.signals.keys() >= set(own.signals.values()):
                found[own.boat] = (*found.get(own.boat, ()), own)
        return found

    @cached_property
    def matters(self) -> Mapping[str, Matter]:
        """What each point's cause is shared by, where two boats or more have it in common; emergencies are left out."""
        sharing: dict[tuple[Shared, str], Matter] = {}
        boats: dict[Matter, set[str]] = {}
        for boat in self.boats.values():
            for kind, name in boat.shares:
                matter = sharing.setdefault((kind, name_said(name)), Matter(str(kind), name))
                boats.setdefault(matter, set()).add(boat.key)
        found = {}
        for point in self.points.values():
            if point.shared is None or point.priority is Priority.EMERGENCY:
                continue
            shared = dict(self.boats[point.boat].shares).get(point.shared)
            common = sharing[(point.shared, name_said(shared))] if shared is not None else None
            if common is not None and len(boats[common]) > 1:
                found[point.id] = common
        return found

    @cached_property
    def lists(self) -> Mapping[str, CallOutList]:
        """Each point's call-out list."""
        return {point.id: self.callouts[point.callout] for point in self.points.values()}

    @cached_property
    def duty_boats(self) -> frozenset[str]:
        """The boats (keys) of which some list tells whoever is on duty."""
        return frozenset(
            point.boat for point in self.points.values() if any(step.by_duty for step in self.lists[point.id].steps)
        )

    def concerned(self, boat: str, *roles: Role) -> tuple[str, ...]:
        """Ids of the persons with one of these roles for whom this boat is a matter."""
        return tuple(p.id for p in self.people.values() if boat in p.boats and p.role in roles)

    def minders(self, boat: str) -> tuple[str, ...]:
        """Who minds the boat's wiring: its installers; without one, its owners and caretakers."""
        return self.concerned(boat, Role.INSTALLER) or self.concerned(boat, Role.OWNER, Role.CARETAKER)

    def with_role(self, *roles: Role) -> tuple[str, ...]:
        """Ids of all persons with one of these roles."""
        return tuple(p.id for p in self.people.values() if p.role in roles)
