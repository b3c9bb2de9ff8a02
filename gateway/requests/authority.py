"""Who may command at this moment: rights, the lock after wrong codes, the age of the text (handbook 6.1)."""

from collections.abc import Mapping
from dataclasses import dataclass

from gateway.people.settings import Person, Role
from gateway.requests.answers import CodeTrouble, Objection, Rule
from gateway.requests.asked import clock, length
from gateway.requests.codes import LATEST, WRONG_VOID
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.facts import LockLifted, PersonLocked, WrongCode
from gateway.requests.number_answers import CommandsLocked
from gateway.requests.settings import Equipment, Sort
from gateway.requests.state import Requests
from gateway.requests.tries import Tries
from gateway.requests.world import World
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339

WRONG_IN_A_ROW = 5
"""Wrong codes in a row that lock a person's commands (handbook 6.1, CHK-44). A new code does not reset the count
(SP 800-63B-4, 3.2.2)."""

LOCKED_FOR = (30 * MINUTE, HOUR)
"""How long the first lock lasts, and every further one within 24 h (handbook 6.1: 30 min; SP 800-63B-4, 3.2.2: waits
that grow, up to 1 h). After the third comes the one that the installer alone ends."""

FIRST_WAIT, LONGEST_WAIT = 30 * SECOND, HOUR
"""How long no words are compared after a wrong code: twice as long after each further one, up to an hour (handbook 6.1;
SP 800-63B-4, 3.2.2: waits that grow, from 30 s up to 1 h). Only the right words, or a day without a wrong one, begin
anew; a lock does not."""

WRONG_IN_A_DAY = 20
"""Wrong codes within 24 h that lock until the installer has proved the person again (handbook 6.1)."""

MINUTES_A_DAY = 24 * 60

FOR_GOOD: Ms = from_rfc3339("9999-12-31T00:00:00Z")
"""Told as the end of a lock that has none."""

NOT_PROVED = Objection(
    rule=Rule.NOT_PROVED, says="your number is not proved", cure="send back the two words it is sent"
)
"""What stands against a command of a number that nobody has made sure of."""


def proof_is_missing(state: Requests, person: Person, equipment: Equipment, action: str) -> bool:
    """Whether the number must be proved before this is done for it. What brings a thing to rest is never kept back."""
    return action == equipment.pair[0] and not state.numbers.is_proved(person.id)


def objection_to_person(
    state: Requests, equipment: Equipment, action: str, person: Person, age: Ms | None, world: World
) -> Objection | None:
    """What stands against this person's commanding now, before any interlock is looked at; None when nothing does."""
    without = no_right(equipment, action, person, world)
    if without is not None:
        return without
    if state.numbers.is_lost(person.id):
        return Objection(
            rule=Rule.LOST, says="your phone is reported lost", cure="the installer makes sure of your number"
        )
    if state.locked(person.id, world.now):
        until = locked_until(state, person.id)
        if until is None:
            return Objection(rule=Rule.LOCKED, says="your commands are locked", cure="the installer proves you again")
        at = clock(world.minute_of_day(equipment.boat, until))
        return Objection(rule=Rule.LOCKED, says="your commands are locked", cure=f"from {at}")
    if world.clock_doubtful():
        return Objection(rule=Rule.CLOCK, says="the gateway's clock is in doubt", cure="when it is right again")
    return too_old(age)


def no_right(equipment: Equipment, action: str, person: Person, world: World) -> Objection | None:
    """That the person has no right to this, or none at this hour. Hours bind what brings a thing to life; whoever may
    stop it may do so at every hour (our choice: nobody shall watch a thing run that he started before his hours
    ended)."""
    rights = person.rights_to(equipment.boat, equipment.key, action)
    if not rights:
        return Objection(rule=Rule.NOT_YOURS, says=f"{equipment.name} {action} is not among your rights")
    minute = world.minute_of_day(equipment.boat, world.now)
    if action != equipment.pair[0] or any(right.holds_at(minute) for right in rights):
        return None
    spans = sorted({(right.begins or 0, right.ends or 0) for right in rights})
    following = min(spans, key=lambda span: (span[0] - minute) % MINUTES_A_DAY)
    hours = " and ".join(f"{clock(begins)}-{clock(ends)}" for begins, ends in spans)
    return Objection(
        rule=Rule.NOT_NOW,
        says=f"your right to {equipment.name} {action} is for {hours}, it is {clock(minute)}",
        cure=f"ask again from {clock(following[0])}",
        measured=clock(minute),
    )


def too_old(age: Ms | None) -> Objection | None:
    """A text of unknown age counts as too old."""
    if age is None:
        return Objection(rule=Rule.TOO_OLD, says="the age of your text is not known", cure="send it again")
    if age > LATEST:
        return Objection(rule=Rule.TOO_OLD, says=f"came {length(age)} late", cure="send it again")
    return None


def never_from_afar(equipment: Equipment, action: str) -> Objection | None:
    """Opening a gas valve, which no text ever does (handbook 5.3)."""
    if equipment.sort is Sort.GAS_VALVE and action == equipment.pair[0]:
        return Objection(rule=Rule.NOT_CARRIED_OUT, says="a gas valve is opened at the boat only")
    return None


def wait_after(series: int) -> Ms:
    """How long no words are compared after so many wrong codes in a series (ms); 0 after none."""
    return min(FIRST_WAIT << (series - 1), LONGEST_WAIT) if series else 0


def waits_until(state: Requests, person: str) -> Ms:
    """First instant at which this person's words are compared again."""
    tries = state.tries.get(person, Tries())
    return tries.wrong[-1] + wait_after(tries.series) if tries.wrong else 0


def locked_until(state: Requests, person: str) -> Ms | None:
    """First instant at which a locked person may command again; None when only the installer can lift the lock."""
    tries = state.tries.get(person, Tries())
    return None if tries.locked else tries.locked_until


def proved_again(state: Requests, people: Mapping[str, Person], now: Ms) -> Decision:
    """Locks that an installer has lifted, by making sure since then whose number it is. A proof that lies in the future
    lifts nothing. now: instant, ms UTC."""
    decision = NOTHING
    ids = {person.key: person.id for person in people.values()}
    for person in people.values():
        if person.proved is None or not state.locked(person.id, now):
            continue
        if state.tries[person.id].locked_at < person.proved <= now:
            decision += noted(INSTALLATION, LockLifted(person=person.id, by=ids.get(person.proved_by, "")))
    return decision


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """What wrong words lead to. voids: the words that were open are void. until: first instant after the lock that they
    led to, None without one or without an end. left: tries. wait: ms until words are compared again, None when a lock
    is longer."""

    decision: Decision
    trouble: CodeTrouble
    voids: bool
    until: Ms | None
    left: int
    wait: Ms | None = None


def wrong_words(
    state: Requests, person: Person, held: tuple[str, int] | None, people: Mapping[str, Person], now: Ms
) -> Wrong:
    """Wrong words are counted, what was open is void at the third, commands are locked at the fifth in a row or the
    twentieth in a day. held: the id of what was open, and the wrong words held against it before; None: nothing was."""
    tries = state.tries.get(person.id, Tries())
    in_a_row = tries.in_a_row + 1
    in_a_day = 1 + sum(now - at < DAY for at in tries.wrong)
    request, before = held if held is not None else ("", 0)
    decision = noted(INSTALLATION, WrongCode(person=person.id, request=request))
    left = WRONG_VOID - before - 1
    if in_a_row >= WRONG_IN_A_ROW or in_a_day >= WRONG_IN_A_DAY:
        again = any(now - at < DAY for at in tries.locks)
        until = None if in_a_day >= WRONG_IN_A_DAY else now + LOCKED_FOR[again]
        wrong = in_a_day if until is None else in_a_row
        decision += noted(INSTALLATION, PersonLocked(person=person.id, until=until, wrong=wrong))
        decision += told(
            *(
                CommandsLocked(
                    person=other.id, who=person.id, until=FOR_GOOD if until is None else until, endless=until is None
                )
                for other in to_be_told(person, people)
            )
        )
        return Wrong(decision=decision, trouble=CodeTrouble.LOCKED, voids=True, until=until, left=0)
    wait = wait_after(tries.series + 1 if in_a_day > 1 else 1)
    if held is None:
        return Wrong(decision=decision, trouble=CodeTrouble.NOTHING_OPEN, voids=False, until=None, left=0, wait=wait)
    void = left <= 0
    trouble = CodeTrouble.VOID if void else CodeTrouble.WRONG
    return Wrong(decision=decision, trouble=trouble, voids=void, until=None, left=max(0, left), wait=wait)


def to_be_told(person: Person, people: Mapping[str, Person]) -> tuple[Person, ...]:
    """Owners and installers of the person's boats, in order of their ids; not the person, who is answered anyway."""
    return tuple(
        other
        for _, other in sorted(people.items())
        if other.id != person.id and other.role in (Role.OWNER, Role.INSTALLER) and set(other.boats) & set(person.boats)
    )
