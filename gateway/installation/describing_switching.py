"""Who may switch what behind which interlocks, read back from the desk's own bundle. Pure."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from gateway.boat.settings import Senses
from gateway.desk.bundle import Bundle
from gateway.requests.answers import Rule
from gateway.requests.asked import Asked, clock, length
from gateway.requests.boat_interlocks import WANTS_DETECTORS
from gateway.requests.equipment_interlocks import NO_LIMIT_ON_OFF
from gateway.requests.paper_lists import needs_line
from gateway.requests.settings import Equipment, PermittedHours, Sort
from gateway.vocabulary.moments import Ms
from grammar.meanings import say_condition


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One interlock in words, and the rule that an objection would rest on."""

    rule: Rule
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Switching:
    """One action. who: keys of the persons with the right. only_at: by key, the hours of those whose right has some
    ("08:00-20:00", boat time). hours: boat time, with who permitted them and why, None for
    any time. longest, unasked: ms of a timed run and of one without a time, None for no timed runs."""

    boat: str
    equipment: str
    name: str
    action: str
    who: tuple[str, ...]
    only_at: Mapping[str, tuple[str, ...]]
    hours: str | None
    longest: Ms | None
    unasked: Ms | None
    needs: tuple[Need, ...]


def switching(bundle: Bundle) -> tuple[Switching, ...]:
    """Every action of every piece of equipment, boat by boat in the order of the files."""
    found = []
    for piece in sorted(bundle.equipment.values(), key=lambda piece: piece.boat):
        for action in piece.actions:
            starts = action == piece.pair[0]
            found.append(
                Switching(
                    boat=piece.boat,
                    equipment=piece.key,
                    name=piece.name,
                    action=action,
                    who=tuple(
                        person.key for person in bundle.people.values() if person.may(piece.boat, piece.key, action)
                    ),
                    only_at=only_at(bundle, piece, action) if starts else {},
                    hours=hours(piece.permitted) if starts and piece.permitted else None,
                    longest=piece.run_limit if starts else None,
                    unasked=piece.default_run if starts else None,
                    needs=tuple(needs(bundle, piece, action)),
                )
            )
    return tuple(found)


def only_at(bundle: Bundle, piece: Equipment, action: str) -> Mapping[str, tuple[str, ...]]:
    """By person's key, the hours in which this may be asked for; whoever may ask at every hour is left out."""
    found = {}
    for person in bundle.people.values():
        rights = person.rights_to(piece.boat, piece.key, action)
        if rights and all(right.begins is not None for right in rights):
            found[person.key] = tuple(f"{clock(right.begins or 0)}-{clock(right.ends or 0)}" for right in rights)
    return found


def hours(permitted: PermittedHours) -> str:
    """Permitted hours as one line: "08:00-20:00 (who: why)", boat time."""
    return f"{clock(permitted.start)}-{clock(permitted.end)} ({permitted.by}: {permitted.reason})"


def needs(bundle: Bundle, piece: Equipment, action: str) -> Iterator[Need]:
    """The interlocks of one action, those of its own first. The same rules as the room of requests asks, in words
    (handbook 5.1, G0 to G5, and 5.2)."""
    asked = Asked(equipment=piece, action=action, asker="", role=None)
    for lock in piece.interlocks:
        if action in lock.actions:
            yield Need(rule=Rule.OWN, says=say_condition(lock.needs))
    if asked.grave_start:
        yield from _selector(bundle, piece)
        yield Need(rule=Rule.OCCUPIED, says="nobody aboard, said by a named person")
    if asked.starts:
        yield from _detectors(bundle, piece)
    if needs_line(piece, action):
        yield Need(rule=Rule.PAPER, says="a line of the person's paper list")
    if piece.second_persons.get(action):
        yield Need(rule=Rule.SECOND_PERSON, says=f"a second GO, of {' or '.join(piece.second_persons[action])}")
    if asked.starts and piece.permitted is not None:
        yield Need(rule=Rule.HOURS, says="within the permitted hours, the end of the run too")
    least = piece.minimum_off if asked.starts else piece.minimum_on
    if least:
        yield Need(rule=Rule.MINIMUM_TIME, says=f"{'off' if asked.starts else 'on'} for {length(least)} before")
    if asked.starts and piece.cooling_off:
        most = "" if piece.attempts is None else f", {piece.attempts} failures in a row at most"
        yield Need(rule=Rule.ATTEMPTS, says=f"{length(piece.cooling_off)} of rest after a failure{most}")
    if not asked.starts and piece.sort in NO_LIMIT_ON_OFF:
        yield Need(rule=Rule.LIMIT_ON_STOP, says="no time limit on it, which would start it later")
    yield from _always(bundle, piece, asked)


def _selector(bundle: Bundle, piece: Equipment) -> Iterator[Need]:
    fitted = piece.selector or _sensing(bundle, piece.boat, Senses.SELECTOR)
    if fitted or not piece.exception:
        yield Need(rule=Rule.SELECTOR, says="the boat's own selector in REMOTE")


def _detectors(bundle: Bundle, piece: Equipment) -> Iterator[Need]:
    if piece.sort is Sort.PUMP:
        return
    asks = (Senses.CO, Senses.FIRE, Senses.GAS) if piece.sort in WANTS_DETECTORS else (Senses.FIRE, Senses.GAS)
    fitted = [senses.value for senses in asks if _sensing(bundle, piece.boat, senses)]
    if fitted:
        yield Need(rule=Rule.DETECTOR_SILENT, says=f"detectors live and off: {', '.join(fitted)}")


def _always(bundle: Bundle, piece: Equipment, asked: Asked) -> Iterator[Need]:
    if piece.sort is not Sort.GAS_VALVE or asked.starts:
        yield Need(rule=Rule.GAS_OR_FIRE, says="no gas or fire alarm")
    if asked.starts:
        yield Need(rule=Rule.CO, says="no carbon monoxide alarm")
    if _sensing(bundle, piece.boat, Senses.LOCK_OUT):
        yield Need(rule=Rule.LOCK_OUT, says="maintenance lock-out off")
    yield Need(rule=Rule.LINK_DOWN, says="link up")
    yield Need(rule=Rule.SILENT_BOAT, says="boat heard")
    yield Need(rule=Rule.STALE, says="everything asked of it fresh")
    yield Need(rule=Rule.ALREADY, says="not so already")
    yield Need(rule=Rule.PENDING, says="nothing else of it under way")


ALWAYS = frozenset(
    {Rule.GAS_OR_FIRE, Rule.CO, Rule.LOCK_OUT, Rule.LINK_DOWN, Rule.SILENT_BOAT, Rule.STALE, Rule.ALREADY, Rule.PENDING}
)
"""Rules that bind nearly everything, said once above a table instead of in each of its lines."""


def _sensing(bundle: Bundle, boat: str, senses: Senses) -> bool:
    return any(signal.boat == boat and signal.senses is senses for signal in bundle.signals.values())
