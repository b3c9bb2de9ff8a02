"""The interlocks that rest on the equipment itself: state seen, one at a time, hours, times, and its own sentences.

Handbook 5.1 (G4, G5) and 5.2. Unknown counts as no. Lengths are ms, instants ms UTC, hours are boat time.
"""

from collections.abc import Iterator

from gateway.conditions.judging import Verdict
from gateway.requests.answers import Rule
from gateway.requests.asked import Asked, Finding, against, clock, length, met, so_far
from gateway.requests.boat_interlocks import live
from gateway.requests.life import RequestState
from gateway.requests.settings import GRAVE, Sort
from gateway.requests.state import Requests
from gateway.requests.world import World
from gateway.vocabulary.moments import MINUTE
from grammar.meanings import say_condition

NO_LIMIT_ON_OFF = GRAVE | {Sort.GAS_VALVE}
"""Sorts that a text never lets come back to life by themselves (design 5; for the gas valve handbook 5.3)."""


def equipment_findings(asked: Asked, state: Requests, world: World) -> Iterator[Finding]:
    """Every interlock of this kind that binds the action, met or not, in the order in which it is told."""
    yield one_at_a_time(asked, state, world)
    yield from feedback(asked, state, world)
    yield from hours(asked, world)
    yield from timed_run(asked, world)
    yield from minimum_times(asked, state, world)
    yield from attempts(asked, state, world)
    yield from own_sentences(asked, world)


def one_at_a_time(asked: Asked, state: Requests, world: World) -> Finding:
    """One command of a piece of equipment at a time; the same one asked by two people counts once (handbook G5).
    A timed run stands until its end: it can be ended early, but not replaced, so that no end is ever lost."""
    equipment = asked.equipment
    out = state.under_way(equipment.id)
    if out is not None and out.id != asked.request:
        return against(Rule.PENDING, f"{out.action} is under way", "ask again when its result is told")
    run = state.runs.get(equipment.id)
    if run is not None and asked.request:
        if run.tries:
            return against(Rule.PENDING, f"{run.ends_with} is under way", "ask again when its result is told")
        if asked.action != run.ends_with or asked.ends is not None:
            return against(Rule.PENDING, "a timed run is not over", f"{run.ends_with} without a time first")
    for other in state.open.values():
        same = other.equipment == equipment.id and other.action == asked.action
        good = other.state is not RequestState.WAITING or world.now <= other.expires
        if same and good and asked.request and other.person != asked.asker:
            return against(
                Rule.PENDING, f"{other.action} is asked for already", "ask again when that code is used or over"
            )
    return met("pending: none")


def feedback(asked: Asked, state: Requests, world: World) -> Iterator[Finding]:
    """The state of the equipment must be fresh (handbook G4), and not the wanted one already."""
    equipment = asked.equipment
    value = live(world.signal(equipment.feedback), world)
    if value is None:
        yield against(
            Rule.STALE, f"{equipment.name}: no fresh data", "ask again when it reports again", signal=equipment.feedback
        )
        return
    already = (value == "on") is asked.starts
    if already and (asked.starts or equipment.id not in state.runs):
        says, cure = f"it is {value} already", "there is nothing to switch"
        yield against(Rule.ALREADY, says, cure, signal=equipment.feedback, measured=value)
    else:
        yield met(f"{equipment.name}: {value}")


def hours(asked: Asked, world: World) -> Iterator[Finding]:
    """Bringing it to life only within the permitted hours, start inside, end outside, and no run beyond their end
    (handbook 5.2: hours with name and reason; that a run must end inside is our choice)."""
    equipment = asked.equipment
    permitted = equipment.permitted
    if permitted is None or not asked.starts:
        return
    start, end = permitted.start, permitted.end
    minute = world.minute_of_day(equipment.boat, world.now)
    inside = start <= minute < end if start < end else minute >= start or minute < end
    span = f"{permitted.by} permits {clock(start)}-{clock(end)} ({permitted.reason})"
    if not inside:
        yield against(
            Rule.HOURS, f"{span}, it is {clock(minute)}", f"ask again from {clock(start)}", measured=clock(minute)
        )
    elif asked.ends is not None and asked.ends > world.next_clock_time(equipment.boat, end % (24 * 60)):
        yield against(Rule.HOURS, f"{span}, it would run on", f"ask for a run until {clock(end)} at the latest")
    else:
        yield met(f"hours: {clock(minute)}, {span}")


def timed_run(asked: Asked, world: World) -> Iterator[Finding]:
    """Run limit for what is brought to life; a limit on a stop is refused where it would mean a start later."""
    equipment = asked.equipment
    if asked.ends is None:
        return
    run = asked.ends - world.now
    limit = equipment.run_limit if equipment.run_limit is not None else equipment.default_run
    if run < MINUTE:
        yield against(Rule.RUN_LIMIT, "that time is over", "ask again with a later end")
    elif not asked.starts:
        if equipment.sort in NO_LIMIT_ON_OFF:
            yield against(Rule.LIMIT_ON_STOP, f"{asked.action} for a time would start it later", "ask without a time")
        elif run < equipment.minimum_off:
            yield against(Rule.MINIMUM_TIME, f"off for {length(run)}", f"at least {length(equipment.minimum_off)}")
    elif limit is None:
        yield against(Rule.RUN_LIMIT, f"{equipment.name} has no timed runs", "ask without a time")
    elif run > limit:
        yield against(Rule.RUN_LIMIT, f"{length(run)} asked, at most {length(limit)}", f"for {length(limit)} or less")
    elif run < equipment.minimum_on:
        yield against(Rule.MINIMUM_TIME, f"on for {length(run)}", f"at least {length(equipment.minimum_on)}")
    else:
        yield met(f"run: {length(run)}, at most {length(limit)}")


def minimum_times(asked: Asked, state: Requests, world: World) -> Iterator[Finding]:
    """So long it must have been off before it goes on, and on before it goes off (handbook 5.2, CHK-31). Counted from
    the arrival of the reading that showed the change; from the first reading of all when no change was seen yet."""
    equipment = asked.equipment
    least = equipment.minimum_off if asked.starts else equipment.minimum_on
    last = state.switched.get(equipment.id)
    was = "off" if asked.starts else "on"
    if least and last is None:
        yield against(Rule.MINIMUM_TIME, f"since when it is {was} is not known", f"wait {seconds(least)}")
    if not least or last is None or last.on is asked.starts:
        return
    for_now = world.now - last.at
    if for_now < least:
        yield against(
            Rule.MINIMUM_TIME, f"{was} for {so_far(for_now)}, needs {length(least)}", f"wait {seconds(least - for_now)}"
        )
    else:
        yield met(f"{was} for {so_far(for_now)}, needs {length(least)}")


def attempts(asked: Asked, state: Requests, world: World) -> Iterator[Finding]:
    """After a start that was not proved it rests, and after so many in a row only a person at the boat opens it again,
    by having it run there (handbook G5, 5.2, CHK-35). It never stands in the way of a stop."""
    equipment = asked.equipment
    if not asked.starts or not (equipment.attempts or equipment.cooling_off):
        return
    failed = state.failed_in_a_row(equipment.id, asked.action)
    if failed is None:
        yield met("starts not proved: none")
        return
    ago = world.now - failed.at
    if equipment.attempts is not None and failed.count >= equipment.attempts:
        yield against(
            Rule.ATTEMPTS, f"{failed.count} failed in a row: locked out", "a person looks and runs it once at the boat"
        )
    elif ago < equipment.cooling_off:
        rest = length(equipment.cooling_off)
        yield against(
            Rule.ATTEMPTS,
            f"failed {so_far(ago)} ago, rests for {rest}",
            f"wait {seconds(equipment.cooling_off - ago)}",
        )
    else:
        most = "" if equipment.attempts is None else f", at most {equipment.attempts}"
        yield met(f"starts not proved: {failed.count}{most}, the last {so_far(ago)} ago")


def seconds(wait: int) -> str:
    """A wait as it is said: "1 s more"."""
    return f"{length(wait)} more"


def own_sentences(asked: Asked, world: World) -> Iterator[Finding]:
    """The equipment's own interlocks, as the installer wrote them. Unknown counts as no."""
    for interlock in asked.equipment.interlocks:
        if asked.action not in interlock.actions:
            continue
        judged = world.judge(asked.equipment.boat, interlock.needs)
        needs = say_condition(interlock.needs)
        if judged.verdict is Verdict.HOLDS:
            yield met(f"{interlock.key}: {judged.measured}, needs {needs}")
            continue
        known = judged.verdict is Verdict.DOES_NOT
        value = judged.measured if known else "no fresh value"
        yield against(
            Rule.OWN,
            f"{interlock.says} ({value})" if known else f"cannot rule out {interlock.says} ({value})",
            f"needs {needs}",
            signal=judged.signal,
            measured=judged.measured,
        )
