"""Answers to questions: what the boat said last, what is open, what may be texted."""

from gateway.alarms.one_alarm import Alarm
from gateway.boat.settings import Signal
from gateway.conditions.judging import said
from gateway.desk.ahead import ahead, all_ahead
from gateway.desk.bank_ahead import bank_ahead
from gateway.desk.moment import Moment
from gateway.desk.phrases import EVERYBODY, duty_phrases, kept_phrases, may_put_aside, switches
from gateway.desk.situation import situation_of
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.requests.settings import Equipment
from gateway.telling.notices import AlarmsAnswer, PhrasesAnswer, StatusAnswer, StatusLine, ThingAnswer
from grammar.meanings import signals_of


def status_answer(rec: Recorder, person: str, boat: str) -> StatusAnswer:
    """The open alarms, worst first, then the signals in the installer's order, each with its age when it is old."""
    lines = tuple(_line(rec, signal) for signal in rec.bundle.signals.values() if signal.boat == boat)
    return StatusAnswer(
        person=person,
        boat=boat,
        situations=tuple(situation_of(alarm) for alarm in _open(rec, boat)),
        lines=lines,
        silent_since=Moment(rec.state, rec.bundle, rec.now).silent_since(boat),
        bank=bank_ahead(rec.state, rec.bundle, boat, rec.now),
        ahead=tuple(one for one in all_ahead(rec.state, rec.bundle, boat, rec.now) if one.of_note),
    )


def _line(rec: Recorder, signal: Signal) -> StatusLine:
    latest = rec.state.seen.latest.get(signal.id)
    if latest is None:
        return StatusLine(signal=signal.id, measured="", age=None)
    age = rec.now - latest.measured
    return StatusLine(
        signal=signal.id, measured=said(latest, signal), age=age if age > signal.report_interval else None
    )


def thing_answer(rec: Recorder, person: Person, boat: str, called: str, piece: Equipment | None) -> ThingAnswer:
    """What is measured of one thing or subject, every value with its age, and the alarms that rest on it; of a detector
    also those that concern the same hazard, whatever they rest on. called: its name. piece: the equipment, None for a
    subject."""
    own = () if piece is None else (piece.feedback, piece.proof)
    signals = [
        signal
        for signal in rec.bundle.signals.values()
        if signal.boat == boat and (signal.id in own or called.casefold() in map(str.casefold, signal.spoken_names))
    ]
    ids_of = {signal.id for signal in signals}
    reckoned = [own for own in rec.bundle.sums_of.get(boat, ()) if not ids_of.isdisjoint(own.signals.values())]
    keys = {rec.bundle.signals[each].key for each in ids_of.union(*(own.signals.values() for own in reckoned))}
    matters = {signal.senses.value for signal in signals if signal.senses is not None}
    watching = [
        point
        for point in rec.bundle.points.values()
        if point.boat == boat
        and (keys & set(signals_of(point.when)) or (point.concerns is not None and point.concerns.value in matters))
    ]
    ids = {point.id for point in watching}
    lines = []
    for signal in signals:
        latest = rec.state.seen.latest.get(signal.id)
        measured = said(latest, signal) if latest is not None else ""
        age = rec.now - latest.measured if latest is not None else None
        lines.append(StatusLine(signal=signal.id, measured=measured, age=age))
    return ThingAnswer(
        person=person.id,
        boat=boat,
        about=called,
        equipment=piece.id if piece is not None else None,
        lines=tuple(lines),
        situations=tuple(situation_of(alarm) for alarm in _open(rec, boat) if alarm.point in ids),
        watched=bool(watching),
        bank=bank_ahead(rec.state, rec.bundle, boat, rec.now) if _on_the_bank(rec, boat, signals) else None,
        ahead=tuple(ahead(rec.state, rec.bundle, own, rec.now) for own in reckoned),
    )


def _on_the_bank(rec: Recorder, boat: str, signals: list[Signal]) -> bool:
    bank = rec.bundle.boats[boat].bank
    return bank is not None and any(signal.id in (bank.charge, bank.amps) for signal in signals)


def alarms_answer(rec: Recorder, person: str, boat: str, *, boats: tuple[str, ...] = ()) -> AlarmsAnswer:
    """The open alarms of the boat, worst first, with who has them. boats: all that are meant, where boat is ""."""
    alarms = _open(rec, *(boats or (boat,)))
    calls = rec.state.telling.calls
    return AlarmsAnswer(
        person=person,
        boat=boat,
        situations=tuple(situation_of(alarm) for alarm in alarms),
        boats=boats,
        holders=tuple(calls[a.point].holder if a.point in calls else None for a in alarms),
    )


def _open(rec: Recorder, *boats: str) -> list[Alarm]:
    alarms = [alarm for alarm in rec.state.standing.by_point.values() if alarm.boat in boats]
    return sorted(alarms, key=lambda a: (-rec.bundle.points[a.point].priority.gravity, a.number))


def phrases_answer(rec: Recorder, person: Person, boat: str) -> PhrasesAnswer:
    """What this person may text about this boat: first what everyone may, then each action the person has a right to,
    the equipment's name in front (no printed phrase begins with a word that carriers take as opt-out)."""
    phrases = [
        *EVERYBODY,
        *_switches(rec, person, boat),
        *kept_phrases(person),
        *duty_phrases(rec.bundle, person, boat),
    ]
    numbers = [alarm.number for alarm in rec.state.standing.by_point.values() if alarm.boat == boat]
    if numbers and may_put_aside(rec.bundle, person, boat):
        phrases += _puts_aside(min(numbers))
    return PhrasesAnswer(person=person.id, boat=boat, phrases=tuple(phrases))


def phrases_of_all(rec: Recorder, person: Person) -> PhrasesAnswer:
    """What a person with several boats may text: what is understood bare, then what needs a boat's name in front, each
    once, a switch if the person has a right to it on any of the boats."""
    named = dict.fromkeys(("status", "visit", "visit over"))
    for boat in person.boats:
        named |= dict.fromkeys(_switches(rec, person, boat))
    named |= dict.fromkeys(kept_phrases(person))
    minded = [boat for boat in person.boats if may_put_aside(rec.bundle, person, boat)]
    numbers = [alarm.number for alarm in rec.state.standing.by_point.values() if alarm.boat in minded]
    duty = dict.fromkeys(phrase for boat in person.boats for phrase in duty_phrases(rec.bundle, person, boat))
    bare = ("status", "alarms", "have it", "checked", *duty, *(_puts_aside(min(numbers)) if numbers else ()))
    return PhrasesAnswer(person=person.id, boat="", phrases=bare, boats=person.boats, named=tuple(named))


def _puts_aside(number: int) -> tuple[str, str]:
    return f"shelve {number} for 1 h", f"out of service {number} for 1 day"


def _switches(rec: Recorder, person: Person, boat: str) -> tuple[str, ...]:
    return tuple(f"{piece.called(person.language)} {action}" for piece, action in switches(rec.bundle, person, boat))
