"""Persons say who is on duty: "duty me", "duty Tobias until Sunday", "duty off", "who is on duty".

It passes when the new person answers; until then whoever has it keeps it. The roster of the files is the ground: a
person's word lies over it until the end that was said, else until the roster next names somebody else.
"""

from collections.abc import Iterable, Mapping, Sequence

from gateway.desk.attending import MAY_SAY
from gateway.desk.lists import duty_of, rostered, said_of
from gateway.desk.moment import Moment
from gateway.desk.turn import Recorder
from gateway.people.roster import changes_after
from gateway.people.settings import Person
from gateway.telling.duty import DutyAsked, DutyAskEnded, DutyEnded, DutyTaken
from gateway.telling.duty_notices import CannotDuty, DutyAnswer, DutyOf, DutyTold, DutyUnchanged, DutyWanted
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import HOUR, Ms, as_utc
from grammar.meanings import Duty

ANSWER_WITHIN: Ms = 4 * HOUR
"""How long whoever is asked has to answer: as long as the carrier tries a warning's text (our choice)."""

DECLINED = "declined"

Boats = tuple[str, ...]


def duty_said(rec: Recorder, person: Person, request: Duty, boats: Boats) -> None:
    """ "duty me" takes it at once; "duty Tobias" asks him. boats: those of the person that are
    meant."""
    having = _with_duty(rec, person, boats)
    if not having:
        return
    if request.person in (None, person.key):
        _take(rec, person, request, having)
        return
    who = next((one for one in rec.bundle.people.values() if one.key == request.person), None)
    shared = tuple(boat for boat in having if who is not None and boat in who.boats)
    if who is None or not shared or not _can(rec, who):
        unchanged(rec, person, shared or having, CannotDuty.CANNOT_HAVE, (who.id,) if who is not None else ())
    elif not _has_end(request) and all(duty_of(rec.state, rec.bundle, boat, rec.now) == who.id for boat in shared):
        unchanged(rec, person, shared, CannotDuty.ALREADY, (who.id,))
    else:
        _ask(rec, person, who, {boat: end_of(rec, boat, request) for boat in shared})


def nobody_known(rec: Recorder, person: Person, boats: Boats) -> None:
    """ "duty" for somebody whom nobody knows here: nothing is changed, and who could have it is said."""
    having = _with_duty(rec, person, boats)
    if having:
        unchanged(rec, person, having, CannotDuty.NOBODY_KNOWN, _could(rec, having[0], but=person.id))


def _with_duty(rec: Recorder, person: Person, boats: Boats) -> Boats:
    """Those of the boats that have a list for whoever is on duty, if the person may say who is; else what is wrong has
    been told."""
    having = tuple(boat for boat in boats if boat in rec.bundle.duty_boats)
    if not having:
        unchanged(rec, person, boats, CannotDuty.NO_ROSTER)
    elif person.role not in MAY_SAY:
        unchanged(rec, person, having, CannotDuty.NOT_YOURS, _could(rec, having[0], but=person.id))
        return ()
    return having


def _can(rec: Recorder, who: Person) -> bool:
    """Whether somebody can be on duty: owner, caretaker or installer, whose phone takes texts."""
    return who.role in MAY_SAY and who.id not in rec.state.telling.opted_out


def _could(rec: Recorder, boat: str, *, but: str) -> tuple[str, ...]:
    """Who could be on duty for a boat: those of the roster first."""
    rows = [shift.person for shift in rec.bundle.roster]
    people = [rec.bundle.people[one] for one in dict.fromkeys((*rows, *rec.bundle.people)) if one in rec.bundle.people]
    return tuple(one.id for one in people if one.id != but and boat in one.boats and _can(rec, one))


def _has_end(request: Duty) -> bool:
    return request.weekday is not None or request.minute is not None


def end_of(rec: Recorder, boat: str, request: Duty) -> Ms | None:
    """The instant at which it ends, by the boat's clock: "until Sunday" at Sunday 24:00; without an end when the roster
    next names somebody else."""
    moment, zone = Moment(rec.state, rec.bundle, rec.now), rec.bundle.boats[boat].zone
    if request.weekday is not None:
        today = as_utc(moment.wall(rec.now)).astimezone(zone).weekday()
        return moment.day_at(boat, (request.weekday - today) % 7 + 1, 0)
    if request.minute is not None:
        return moment.next_clock_time(boat, request.minute)
    at = changes_after(rec.bundle.roster, moment.wall(rec.now), zone)
    return None if at is None else at - rec.state.clock_offset


def _take(rec: Recorder, person: Person, request: Duty, boats: Boats) -> None:
    """The person has it from now on. Who was asked for some boats answers for these."""
    asked = {boat: one for boat, one in rec.state.duty.asked.items() if one.person == person.id and boat in boats}
    boats = tuple(asked) or boats
    ends = {b: asked[b].until if b in asked and not _has_end(request) else end_of(rec, b, request) for b in boats}
    for until, some in _parted(ends):
        before = those(duty_of(rec.state, rec.bundle, boat, rec.now) for boat in some)
        askers = those(asked[boat].by for boat in some if boat in asked)
        by = next(iter(askers), None)
        note(rec, some, DutyTaken(person=person.id, boats=some, until=until, asked_by=by))
        before = tuple(one for one in before if one != person.id)
        for reader in dict.fromkeys((person.id, *before, *askers)):
            rec.tell(
                DutyTold(
                    person=reader,
                    boat=head(some),
                    boats=some,
                    who=person.id,
                    until=until,
                    before=before,
                    asked=reader in askers,
                )
            )


def _ask(rec: Recorder, person: Person, who: Person, ends: Mapping[str, Ms | None]) -> None:
    """Ask somebody; whoever has it keeps it until the answer."""
    for until, some in _parted(ends):
        lapses = rec.now + ANSWER_WITHIN if until is None else min(until, rec.now + ANSWER_WITHIN)
        keeps = those(duty_of(rec.state, rec.bundle, boat, rec.now) for boat in some)
        note(rec, some, DutyAsked(person=who.id, boats=some, until=until, asked_by=person.id, lapses=lapses))
        for reader in (who.id, person.id):
            rec.tell(
                DutyWanted(
                    person=reader,
                    boat=head(some),
                    boats=some,
                    who=who.id,
                    by=person.id,
                    until=until,
                    lapses=lapses,
                    keeps=keeps,
                )
            )


def duty_off(rec: Recorder, person: Person, boats: Boats) -> None:
    """Whoever was asked declines by it. Whoever has it goes back to the roster's person, who is asked first; without a
    successor it is refused, naming who could follow."""
    having = _with_duty(rec, person, boats)
    if not having:
        return
    asked = tuple(boat for boat in having if boat in rec.state.duty.asked and _asked(rec, boat) == person.id)
    if asked:
        _decline(rec, person, asked)
        return
    mine = tuple(boat for boat in having if duty_of(rec.state, rec.bundle, boat, rec.now) == person.id)
    if not mine:
        have = those(duty_of(rec.state, rec.bundle, boat, rec.now) for boat in having)
        unchanged(rec, person, having, CannotDuty.NOT_ON_DUTY, have)
        return
    waiting = tuple(boat for boat in mine if boat in rec.state.duty.asked)
    if waiting:
        unchanged(rec, person, waiting, CannotDuty.ASKED_ALREADY, those(_asked(rec, boat) for boat in waiting))
    after: dict[str, list[str]] = {}
    for boat in (boat for boat in mine if boat not in waiting):
        after.setdefault(_successor(rec, person, boat), []).append(boat)
    for successor, some in after.items():
        if successor:
            ends = {boat: end_of(rec, boat, Duty()) for boat in some}
            _ask(rec, person, rec.bundle.people[successor], ends)
        else:
            could = _could(rec, some[0], but=person.id)
            unchanged(rec, person, tuple(some), CannotDuty.NO_SUCCESSOR, could)


def _asked(rec: Recorder, boat: str) -> str:
    return rec.state.duty.asked[boat].person


def _successor(rec: Recorder, person: Person, boat: str) -> str:
    """Whom the roster itself names now, when it is another; "" for nobody."""
    ground = rostered(rec.state, rec.bundle, boat, rec.now)
    able = ground is not None and ground != person.id and _can(rec, rec.bundle.people[ground])
    return ground if able and ground is not None else ""


def _decline(rec: Recorder, person: Person, boats: Boats) -> None:
    by = those(rec.state.duty.asked[boat].by for boat in boats)
    note(rec, boats, DutyAskEnded(person=person.id, boats=boats, because=DECLINED))
    for reader in dict.fromkeys((person.id, *by)):
        unchanged(rec, rec.bundle.people.get(reader), boats, CannotDuty.DECLINED, (person.id,))


def who_is_on_duty(rec: Recorder, person: Person, boats: Boats) -> None:
    """Who is, until when, and who follows, of all these boats; those with the same are told together. Where no list
    tells whoever is on duty, that is the answer."""
    having = tuple(boat for boat in boats if boat in rec.bundle.duty_boats)
    if not having:
        rec.tell(DutyAnswer(person=person.id, boat=head(boats), duties=()))
        return
    found: dict[tuple[str | None, Ms | None, str | None], list[str]] = {}
    for boat in having:
        found.setdefault(_duty(rec, boat), []).append(boat)
    duties = tuple(
        DutyOf(boats=tuple(some), who=who, until=until, following=following)
        for (who, until, following), some in found.items()
    )
    rec.tell(DutyAnswer(person=person.id, boat=head(having), duties=duties))


def _duty(rec: Recorder, boat: str) -> tuple[str | None, Ms | None, str | None]:
    """Who is on duty for a boat, until when, who follows."""
    said = said_of(rec.state, rec.bundle, boat, rec.now)
    until = said.until if said is not None else end_of(rec, boat, Duty())
    following = None if until is None else rostered(rec.state, rec.bundle, boat, until)
    return duty_of(rec.state, rec.bundle, boat, rec.now), until, following


def unchanged(
    rec: Recorder, person: Person | None, boats: Boats, cannot: CannotDuty, who: tuple[str, ...] = ()
) -> None:
    """Tell a person why who is on duty stays as it was."""
    if person is not None and all(boat in rec.bundle.boats for boat in boats):
        rec.tell(DutyUnchanged(person=person.id, boat=head(boats), boats=boats, cannot=cannot, who=who))


def note(rec: Recorder, boats: Boats, fact: DutyTaken | DutyAsked | DutyAskEnded | DutyEnded) -> None:
    """In the boat's chain; a matter of several boats in the installation's, with a reference in each of theirs."""
    known = [boat for boat in boats if boat in rec.bundle.boats]
    rec.note(boats[0] if len(boats) == 1 else INSTALLATION, fact, boats=() if len(boats) == 1 else known)


def head(boats: Sequence[str]) -> str:
    """The boat at the head of a text, "" for several."""
    return boats[0] if len(boats) == 1 else ""


def those(ids: Iterable[str | None]) -> tuple[str, ...]:
    """Each once, without nobody."""
    return tuple(dict.fromkeys(one for one in ids if one is not None))


def _parted(ends: Mapping[str, Ms | None]) -> list[tuple[Ms | None, Boats]]:
    """The boats by their end: clocks of several zones are several ends."""
    found: dict[Ms | None, list[str]] = {}
    for boat, until in ends.items():
        found.setdefault(until, []).append(boat)
    return [(until, tuple(boats)) for until, boats in found.items()]
