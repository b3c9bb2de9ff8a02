"""Timed runs: their end is due whatever happened to the start, and a stop is sent until it is proved.

The boat's own timer ends a run as well and comes first in safety (handbook G7); this end is proved and told. A stop
is the one command that is repeated (design 4, rule 2). Switching on again after a timed "off" is tried once.
"""

from collections.abc import Mapping

from gateway.alarms.settings import Concerns
from gateway.people.settings import Person, Role
from gateway.requests.answers import NotDone, NotProved, Objection, Proved, Rule, StopTrouble
from gateway.requests.asked import Asked, length, line_of
from gateway.requests.carrying_out import send_end
from gateway.requests.decision import NOTHING, Decision, noted, told
from gateway.requests.interlocks import Checked, check
from gateway.requests.measured import feedback_says, number_since, shows
from gateway.requests.run_facts import Over, RunEnded, RunSeenOver, StopFreed, StopHeld, StopSent, Waits
from gateway.requests.runs import Run
from gateway.requests.settings import Equipment
from gateway.requests.state import Requests
from gateway.requests.world import World
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import MINUTE, Ms

AGAIN_AFTER = MINUTE
"""A stop that is not proved is sent again after this (design 4, rule 2)."""

MOST_TRIES = 10
"""How often a stop is sent at most (design 4, rule 2)."""

SURELY_OVER = MINUTE
"""How long the contact must show, without a break, that a run is over before its end is given up: a bouncing contact
must not cost a running set its stop (our choice)."""

LATEST_START = 5 * MINUTE
"""Switching on again is refused when it is overdue by more than this: no start fires late (design 4, rule 6; the
length is that of the oldest text that may command)."""


def follow_runs(state: Requests, signals: frozenset[str], equipment: Mapping[str, Equipment], world: World) -> Decision:
    """What new values of these signals (ids) mean for timed runs: an end is proved, a run is seen to be over, or what
    an end waited for has gone."""
    decision = NOTHING
    boats = {signal.partition("/")[0] for signal in signals}
    for run in state.runs.values():
        found = _contact(run, equipment.get(run.equipment), world) if run.feedback in signals else NOTHING
        if found == NOTHING and run.waits is not None and run.boat in boats and _held_by(run, world) is None:
            found = noted(run.boat, StopFreed(equipment=run.equipment))
        decision += found
    return decision


def run_due(run: Run) -> Ms | None:
    """The next instant at which something is to be done about a run; None while it waits for news."""
    over = run.over_since + SURELY_OVER if run.over_since is not None and run.sent is None else None
    return min((at for at in (run.next, over) if at is not None), default=None)


def run_falls_due(
    state: Requests,
    run: Run,
    equipment: Mapping[str, Equipment],
    people: Mapping[str, Person],
    world: World,
    draws: Draws,
) -> Decision:
    """Do what is due about a run."""
    piece = equipment.get(run.equipment)
    if run.over_since is not None and run.sent is None and world.now >= run.over_since + SURELY_OVER:
        if feedback_says(piece, world) == ("on" if run.wanted else "off"):
            return _over_by_itself(run)
        return noted(run.boat, RunSeenOver(equipment=run.equipment, over=False, at=world.now))
    if run.next is None or run.next > world.now:
        return NOTHING
    if run.repeats:
        return _stop(run, people, world, draws)
    return _switch_on_again(state, run, piece, people, world, draws)


def _contact(run: Run, piece: Equipment | None, world: World) -> Decision:
    """What the feedback contact says about a run."""
    contact = world.latest(run.feedback)
    if contact is None or not contact.sure:
        return NOTHING
    over = contact.value is run.wanted
    if run.sent is not None:
        if not shows(contact, run.sent, run.wanted):
            return NOTHING
        number = None if piece is None else number_since(piece, contact.arrived, run.wanted, world)
        if number is not None and not number.agrees:
            return NOTHING
        measured = "" if number is None else number.said
        return noted(run.boat, RunEnded(equipment=run.equipment, because=Over.PROVED, measured=measured)) + told(
            Proved(
                person=run.person,
                boat=run.boat,
                equipment=run.equipment,
                action=run.ends_with,
                measured=measured,
                after=contact.arrived - run.sent,
                ended=True,
            )
        )
    # A run that was never proved cannot be seen to be over: it may still be on its way to running.
    if run.proved is not None and over is (run.over_since is None) and contact.arrived >= run.proved:
        return noted(run.boat, RunSeenOver(equipment=run.equipment, over=over, at=contact.arrived))
    return NOTHING


def _over_by_itself(run: Run) -> Decision:
    """No end is needed any more. Told only to a person who was told of trouble with it."""
    decision = noted(run.boat, RunEnded(equipment=run.equipment, because=Over.BY_ITSELF))
    if not run.told:
        return decision
    return decision + told(
        Proved(
            person=run.person,
            boat=run.boat,
            equipment=run.equipment,
            action=run.ends_with,
            measured="",
            after=0,
            ended=True,
        )
    )


def _held_by(run: Run, world: World) -> tuple[Waits, int | None] | None:
    """What keeps an end from being sent now, with the number of the alarm; None when nothing does. A contactor that
    opens is a spark: gas or fire holds it (handbook G3)."""
    for concerns in (Concerns.GAS, Concerns.FIRE):
        number = world.alarm_active(run.boat, concerns)
        if number is not None:
            return Waits.GAS_OR_FIRE, number
    if not world.link_up(run.boat):
        return Waits.NO_LINK, None
    return (Waits.SILENT, None) if world.silent_since(run.boat) is not None else None


def _stop(run: Run, people: Mapping[str, Person], world: World, draws: Draws) -> Decision:
    if run.tries >= MOST_TRIES:
        ended = noted(run.boat, RunEnded(equipment=run.equipment, because=Over.GIVEN_UP))
        heads = {person.id for person in _heads(run.boat, people)} | set(_addressees(run, people))
        return ended + told(*(_trouble(run, person, run.tries, given_up=True) for person in sorted(heads)))
    held = _held_by(run, world)
    if held is not None:
        because, alarm = held
        waits = noted(run.boat, StopHeld(equipment=run.equipment, because=because, alarm=alarm))
        if because in run.told:
            return waits
        unreachable = because is not Waits.GAS_OR_FIRE
        return waits + told(
            *(_trouble(run, person, run.tries, alarm, unreachable=unreachable) for person in _addressees(run, people))
        )
    decision = _send(run, world, draws, world.now + AGAIN_AFTER)
    tries = run.tries + 1
    if tries == 1 or (tries - 1) * AGAIN_AFTER <= run.cool_down:
        return decision  # it may well be in its own cool-down: no trouble yet
    return decision + told(*(_trouble(run, person, tries) for person in _addressees(run, people)))


def _switch_on_again(
    state: Requests,
    run: Run,
    piece: Equipment | None,
    people: Mapping[str, Person],
    world: World,
    draws: Draws,
) -> Decision:
    """The end of a timed "off". It brings something to life, so every interlock is asked, and it is tried once."""
    if piece is None:
        return noted(run.boat, RunEnded(equipment=run.equipment, because=Over.LAPSED))
    if run.tries:
        return noted(run.boat, RunEnded(equipment=run.equipment, because=Over.GIVEN_UP)) + told(
            *(
                NotProved(
                    person=person,
                    boat=run.boat,
                    equipment=run.equipment,
                    action=run.ends_with,
                    waited=run.prove_within,
                    measured=feedback_says(piece, world),
                )
                for person in _addressees(run, people)
            )
        )
    checked = _checked(state, run, piece, people, world)
    if not checked.objections:
        return _send(run, world, draws, world.now + run.prove_within)
    if all(objection.rule is Rule.ALREADY for objection in checked.objections):
        return _over_by_itself(run)
    ended = RunEnded(
        equipment=run.equipment,
        because=Over.REFUSED,
        values=checked.values,
        objections=tuple(map(line_of, checked.objections)),
    )
    return noted(run.boat, ended) + told(
        *(
            NotDone(
                person=person,
                boat=run.boat,
                equipment=run.equipment,
                action=run.ends_with,
                objections=checked.objections,
                confirming=False,
            )
            for person in _addressees(run, people)
        )
    )


def _checked(state: Requests, run: Run, piece: Equipment, people: Mapping[str, Person], world: World) -> Checked:
    late = world.now - run.due
    if late > LATEST_START:
        objection = Objection(rule=Rule.TOO_OLD, says=f"was due {length(late)} ago", cure="ask for it again")
        return Checked(values=(line_of(objection),), objections=(objection,))
    person = people.get(run.person)
    role = None if person is None else person.role
    return check(Asked(equipment=piece, action=run.ends_with, asker=run.person, role=role), state, world)


def _send(run: Run, world: World, draws: Draws, again: Ms) -> Decision:
    order = send_end(run, world, draws)
    sent = StopSent(equipment=run.equipment, order=order.id, number=run.tries + 1, again=again)
    return noted(run.boat, sent) + Decision(orders=(order,))


def _trouble(
    run: Run, person: str, tries: int, alarm: int | None = None, *, given_up: bool = False, unreachable: bool = False
) -> StopTrouble:
    return StopTrouble(
        person=person,
        boat=run.boat,
        equipment=run.equipment,
        action=run.ends_with,
        tries=tries,
        held_by=alarm,
        given_up=given_up,
        unreachable=unreachable,
    )


def _addressees(run: Run, people: Mapping[str, Person]) -> tuple[str, ...]:
    """The person who asked; owner and installer when that person is no longer in the installation."""
    return (run.person,) if run.person in people else tuple(person.id for person in _heads(run.boat, people))


def _heads(boat: str, people: Mapping[str, Person]) -> tuple[Person, ...]:
    roles = (Role.OWNER, Role.INSTALLER)
    return tuple(person for _, person in sorted(people.items()) if boat in person.boats and person.role in roles)
