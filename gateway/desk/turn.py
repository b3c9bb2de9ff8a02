"""What one happening leads to, while it is being decided: entries made and applied, orders that wait for the commit."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from gateway.desk.applying import apply_fact
from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.logbook.chains import link, refer
from gateway.people.settings import Role
from gateway.requests.answers import Answer
from gateway.requests.number_answers import CommandsLocked, PhoneLostTold
from gateway.telling.call import PRACTICE_TOLD, TRIAL_TEXT
from gateway.telling.facts import HeldBack, MailQueued, TextQueued
from gateway.telling.notices import AlarmRung, Notice
from gateway.telling.practice import ENDS_AFTER
from gateway.telling.practice_notices import PracticeRung
from gateway.telling.trouble_notices import (
    BalanceLow,
    BlindTime,
    ClientIdTwice,
    ClockDoubtful,
    LinkTrouble,
    NotReached,
    OptOutSeen,
    ReachableAgain,
    RecordReplaced,
    SignalBad,
    StoreWasFull,
    StrangerWrote,
    TimesBad,
)
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import INSTALLATION, SealedPart, Written
from gateway.vocabulary.facts import Fact, body_of
from gateway.vocabulary.moments import HOUR, MINUTE, Ms
from gateway.vocabulary.orders import Order, SendMail, SendText
from gateway.vocabulary.plain import Plain
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Reading
from gateway.wording.held_back import with_held
from gateway.wording.mails import mail
from gateway.wording.say import kind_of, say, say_aloud
from gateway.wording.scene import Scene

Telling: TypeAlias = "Notice | Answer | AlarmRung | PracticeRung"

MAILED: frozenset[type] = frozenset(
    {
        StrangerWrote,
        OptOutSeen,
        ReachableAgain,
        NotReached,
        LinkTrouble,
        ClientIdTwice,
        BlindTime,
        SignalBad,
        TimesBad,
        ClockDoubtful,
        BalanceLow,
        StoreWasFull,
        RecordReplaced,
        CommandsLocked,
        PhoneLostTold,
    }
)
"""What an installer hears by mail as well, at once: trouble must not be told by the failing way alone."""

OPTED_OUT = "the phone has opted out"
"""Why nothing is texted to somebody (the carrier would refuse it, and what was asked for is kept to)."""

VALID_FOR: dict[Priority | None, Ms] = {
    Priority.EMERGENCY: 10 * MINUTE,  # within the 300 to 900 s advised for an alarm: the call-out goes on meanwhile
    Priority.ALARM: 15 * MINUTE,
    Priority.WARNING: 4 * HOUR,
    Priority.CAUTION: 4 * HOUR,
    None: HOUR,  # an answer that comes an hour late only confuses (our choice)
}
"""How long the carrier should try, by the priority of what is told."""


def valid_for(about: str, priority: Priority | None) -> Ms:
    """How long the carrier should try: a practice is over so soon after its last step, and is not asked for later."""
    return ENDS_AFTER if about == PRACTICE_TOLD else VALID_FOR[priority]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """What one happening led to. readings: as marked, in order. Orders may be carried out after the commit only."""

    happening: int
    now: Ms
    readings: tuple[Reading, ...]
    entries: tuple[Written, ...]
    orders: tuple[Order, ...]


@dataclass(slots=True)
class Recorder:
    """Makes the entries of one happening, applies each at once, and gathers the orders."""

    state: State
    bundle: Bundle
    draws: Draws
    now: Ms
    readings: list[Reading] = field(default_factory=list)
    facts: list[Fact] = field(default_factory=list)
    entries: list[Written] = field(default_factory=list)
    orders: list[Order] = field(default_factory=list)

    def note(self, chain: str, fact: Fact, sealed: Sequence[Plain] = (), *, boats: Sequence[str] = ()) -> None:
        """Make an entry of the fact in that chain and apply it. sealed: contents of its sealed parts.

        boats: a matter of several boats is one entry in the installation's chain and a reference in each of theirs.
        """
        parts = tuple(SealedPart(salt=self.draws.hex_for("salt"), content=content) for content in sealed)
        written = link(
            self.state.heads,
            chain=chain,
            now=self.now,
            happening=self.state.happening,
            kind=fact.kind,
            version=fact.version,
            body=body_of(fact),
            parts=parts,
        )
        self.entries.append(written)
        self.facts.append(fact)
        apply_fact(self.state, fact, self.now, parts)
        self.entries += [refer(self.state.heads, chain=boat, to=written) for boat in dict.fromkeys(boats)]

    def tell(
        self,
        what: Telling,
        *,
        priority: Priority | None = None,
        numbers: tuple[int, ...] = (),
        again: bool = False,
        named: tuple[int, ...] = (),
        boats: tuple[str, ...] = (),
    ) -> None:
        """Put one notice or answer into words and queue it for its person. A person who is gone gets nothing, nor
        does a phone that has opted out, but for the test text that ends it.

        named: of a grouped text, the alarms that a bare "have it" to it takes. boats: whose matter a text is that is no
        single boat's. A call reaches a phone that has opted out of texts as well.
        """
        person = self.bundle.people.get(what.person)
        if person is None:
            return
        about = kind_of(what)
        if type(what) in MAILED:
            self.mail(what)
        if person.id in self.state.telling.opted_out and about != TRIAL_TEXT and not isinstance(what, AlarmRung):
            held = HeldBack(person=person.id, about=about, because=OPTED_OUT, numbers=numbers, unreachable=True)
            self.note(what.boat or INSTALLATION, held)
            return
        spoken = isinstance(what, AlarmRung | PracticeRung)
        scene = self.scene()
        body = say_aloud(what, scene) if isinstance(what, AlarmRung | PracticeRung) else say(what, scene)
        says_held: tuple[int, ...] = ()
        if priority not in (None, Priority.EMERGENCY) and not spoken:  # never behind an answer, a code or an emergency
            waiting = self.state.telling.held.get(person.id, ())
            unsaid = tuple(number for number in waiting if number not in numbers)
            body, says_held = with_held(body, unsaid, person.language)
        order = self.draws.hex_for("order", 20)
        fact = TextQueued(
            order=order,
            person=person.id,
            boat=what.boat,
            about=about,
            numbers=numbers,
            priority=priority,
            again=again,
            named=named,
            spoken=spoken,
            says_held=says_held,
        )
        self.note(what.boat or INSTALLATION, fact, [{"number": person.number, "body": body}], boats=boats)
        boat = self.bundle.boats[what.boat or person.boats[0]]
        self.orders.append(
            SendText(
                id=order,
                carrier=boat.carrier,
                person=person.id,
                number=person.number,
                body=body,
                priority=priority or Priority.WARNING,
                valid_for=valid_for(about, priority),
                spoken=spoken,
            )
        )

    def mail(self, what: Telling) -> None:
        """Mail one notice of trouble, if its person is an installer with an address and there is a mail server."""
        person = self.bundle.people.get(what.person)
        if person is None or not (self.bundle.mailed and person.mail and person.role is Role.INSTALLER):
            return
        scene = self.scene()
        if isinstance(what, AlarmRung | PracticeRung):
            return
        subject, body = mail(what, say(what, scene), scene)
        order = self.draws.hex_for("mail", 20)
        sealed: dict[str, Plain] = {"address": person.mail, "subject": subject, "body": body}
        self.note(INSTALLATION, MailQueued(order=order, person=person.id, about=kind_of(what)), [sealed])
        self.orders.append(
            SendMail(id=order, person=person.id, address=person.mail, subject=subject, body=body, at=self.now)
        )

    def scene(self) -> Scene:
        """What words are chosen by, at this moment."""
        bundle = self.bundle
        return Scene(
            now=self.now,
            boats=bundle.boats,
            points=bundle.points,
            people=bundle.people,
            equipment=bundle.equipment,
            signals=bundle.signals,
            offset=self.state.clock_offset,
            own_wordings=bundle.own_wordings,
            first_names=bundle.first_names,
        )

    def turn(self) -> Turn:
        """The finished turn."""
        return Turn(
            happening=self.state.happening,
            now=self.now,
            readings=tuple(self.readings),
            entries=tuple(self.entries),
            orders=tuple(self.orders),
        )
