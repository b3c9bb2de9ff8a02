"""Rounds of the call-out lists become texts, within each person's limits."""

from collections.abc import Iterable, Mapping

from gateway.alarms.aboard import BY_TEXT
from gateway.alarms.facts import AlarmStep
from gateway.alarms.life import AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Concerns, Point
from gateway.desk import grouping, regular
from gateway.desk.ahead import ahead_for
from gateway.desk.bank_ahead import bank_ahead
from gateway.desk.bundle import Bundle
from gateway.desk.held_from import have_room_still, just_told, may_go, passed_to, under_way
from gateway.desk.left_alone import Aside, named
from gateway.desk.left_alone import call as call_name
from gateway.desk.limits import has_room
from gateway.desk.lists import list_now, turns_now
from gateway.desk.offering import offers_for
from gateway.desk.reminding import ASKED_FOR_QUIET, quiet_until, wants_none
from gateway.desk.situation import measured_now, situation_of
from gateway.desk.standing_in import stands_in_for
from gateway.desk.turn import Recorder
from gateway.reckoning.own_sums import HOUSE_BANK
from gateway.telling.call import ALARM_GONE, ALARM_RUNG, Call
from gateway.telling.facts import HeldBack, NotCalled
from gateway.telling.gathering import Matter
from gateway.telling.notices import AlarmGone, AlarmRung, AlarmTold
from gateway.telling.pacing import QUIET_HOURS
from gateway.telling.rounds import Round, rounds_due
from gateway.telling.settings import CallOutList
from gateway.telling.situation import BankAhead
from gateway.vocabulary.priority import Priority
from gateway.wording.group_texts import named_by


def callouts_of(bundle: Bundle) -> Mapping[str, CallOutList]:
    """Each point's call-out list."""
    return bundle.lists


def call_out(rec: Recorder, aside: Aside) -> bool:
    """Carry out all rounds that are due now, but for what is left alone. True when there were any.

    What one person is to hear of one boat at one moment is one text (design rule 12); an emergency has one of its own.
    """
    bundle, calls = rec.bundle, rec.state.telling.calls
    lists = {point: list_now(rec.state, bundle, point, rec.now) for point in calls if point in bundle.lists}
    due = rounds_due(rec.state.telling, lists, rec.now, bundle.matters)
    found = [one for one in due if not aside.has(call_name(one.call.point))]
    gathered: dict[str, list[Round]] = {}
    muted: set[str] = set()
    for one in found:
        with named(call_name(one.call.point)):
            if _muted(rec, one.call):
                muted.add(one.call.point)
                continue
            rec.note(one.call.boat, one.fact)
        for person in one.persons:
            gathered.setdefault(person, []).append(one)
    for person, rounds in gathered.items():
        try:
            _tell_one(rec, person, rounds)
        except Exception:  # which of them? What was begun is thrown away with the state, so each can be tried alone
            for one in rounds:
                with named(call_name(one.call.point)):
                    _tell_one(rec, person, [one])
            raise
    for one in [one for one in found if one.call.point not in muted]:  # texts first: a call takes its time
        with named(call_name(one.call.point)):
            _ring(rec, one)
    return bool(found)


def _ring(rec: Recorder, one: Round) -> None:
    """Call those whom the list calls by voice. A phone that has opted out of texts is called of an emergency alone."""
    for person in one.rung:
        if wants_none(rec, one.call, person):
            fact = HeldBack(person=person, about=ALARM_RUNG, because=ASKED_FOR_QUIET, numbers=(one.call.number,))
            rec.note(one.call.boat, fact)
            continue
        if (until := quiet_until(rec, person, one.call.priority)) is not None:
            fact = HeldBack(
                person=person, about=ALARM_RUNG, because=QUIET_HOURS, numbers=(one.call.number,), until=until
            )
            rec.note(one.call.boat, fact)
            continue
        cut_off = person in rec.state.telling.opted_out
        if cut_off and one.call.priority is not Priority.EMERGENCY:
            because = "the phone has opted out"
            fact = HeldBack(person=person, about=ALARM_RUNG, because=because, numbers=(one.call.number,))
            rec.note(one.call.boat, fact)
            continue
        alarm = rec.state.standing.by_point[one.call.point]
        situation = situation_of(alarm, measured=measured_now(rec, alarm))
        rec.tell(
            AlarmRung(person=person, boat=one.call.boat, situation=situation, cut_off=cut_off),
            priority=one.call.priority,
            numbers=(one.call.number,),
            again=True,
        )


def _muted(rec: Recorder, call: Call) -> bool:
    """A point that is told only in certain ways of keeping the boat, or an intruder while a visit was announced;
    emergencies are never muted."""
    because = mute_reason(rec, rec.bundle.points[call.point])
    if because is None:
        return False
    rec.note(call.boat, NotCalled(number=call.number, point=call.point, because=because))
    return True


def mute_reason(rec: Recorder, point: Point) -> str | None:
    """Why nobody is told of this point now, None when it is told. An emergency always is, and so is a warning that has
    become an alarm."""
    alarm = rec.state.standing.by_point.get(point.id)
    if alarm is not None and alarm.worse:
        return None
    kept = rec.state.standing.kept(point.boat)
    if point.priority is Priority.EMERGENCY:
        return None
    if point.attendance and kept not in point.attendance:
        return f"the boat is kept {kept}"
    occupied = rec.state.standing.occupancy(point.boat)
    if point.concerns is Concerns.INTRUSION and occupied is not None and occupied.by == BY_TEXT:
        return "a named person is aboard"
    return None


def _tell_one(rec: Recorder, person: str, rounds: list[Round]) -> None:
    rounds = [one for one in rounds if not just_told(rec, person, one)]
    emergencies = [one for one in rounds if one.call.priority is Priority.EMERGENCY]
    emergencies = [one for one in emergencies if not under_way(rec, person, one)]
    for one in sorted(emergencies, key=lambda one: one.call.number):
        _tell_boat(rec, person, one.call.boat, [one])
    lesser = [one for one in rounds if one.call.priority is not Priority.EMERGENCY]
    passed = [(one, other) for one in lesser if (other := passed_to(rec, person, one)) is not None]
    lesser = [one for one in lesser if may_go(rec, person, one)]
    for other, boat in dict.fromkeys((other, one.call.boat) for one, other in passed):
        some = [one for one, whose in passed if (whose, one.call.boat) == (other, boat)]
        _tell_boat(rec, other, boat, some, instead_of=person)
    if not lesser or grouping.told_of(rec, person, lesser):
        return
    for matter, some in _parted(rec, lesser).items():
        boats = tuple(dict.fromkeys(one.call.boat for one in some))
        if isinstance(matter, Matter) and len(boats) > 1:
            if fitting := have_room_still(rec, person, some):
                grouping.tell_shared(rec, person, matter, fitting)
        else:
            for boat in boats:
                if fitting := have_room_still(rec, person, [one for one in some if one.call.boat == boat]):
                    _tell_boat(rec, person, boat, fitting)


def _parted(rec: Recorder, rounds: list[Round]) -> Mapping[Matter | str, list[Round]]:
    """What goes into one text each: by what boats share where it concerns several, else by boat."""
    found: dict[Matter | str, list[Round]] = {}
    for one in rounds:
        matter = rec.bundle.matters.get(one.call.point)
        if matter is not None:
            found.setdefault(matter, []).append(one)
    for shared, some in list(found.items()):
        if len({one.call.boat for one in some}) == 1:
            del found[shared]
    together = {one.call.point for some in found.values() for one in some}
    for one in rounds:
        if one.call.point not in together:
            found.setdefault(one.call.boat, []).append(one)
    return found


def _bank(rec: Recorder, point: Point) -> BankAhead | None:
    if point.reckon != HOUSE_BANK:
        return None
    return bank_ahead(rec.state, rec.bundle, point.boat, rec.now)


def _tell_boat(rec: Recorder, person: str, boat: str, going: list[Round], *, instead_of: str | None = None) -> None:
    """instead_of: id of the one from whom a limit held it back; else somebody who is away, or nobody."""
    going = sorted(going, key=lambda one: (-one.call.priority.gravity, one.call.number))
    again = all(person in one.call.told for one in going)
    cut_off = rec.state.telling.opted_out
    others = dict.fromkeys(
        p for one in going for p in (*one.call.heard_of, *(p for p in one.persons if p not in cut_off)) if p != person
    )
    situations = tuple(
        situation_of(
            rec.state.standing.by_point[one.call.point],
            offers=offers_for(rec, person, rec.bundle.points[one.call.point]),
            bank=_bank(rec, rec.bundle.points[one.call.point]),
            ahead=ahead_for(rec.state, rec.bundle, rec.bundle.points[one.call.point].reckon, rec.now),
            measured=measured_now(rec, rec.state.standing.by_point[one.call.point]),
            again=again,
        )
        for one in going
    )
    worst = going[0].call.point
    turns = turns_now(rec.state, rec.bundle, worst, rec.now)
    away = stands_in_for(rec.state, rec.bundle, person, turns, boat, rec.now)
    notice = AlarmTold(
        person=person,
        boat=boat,
        situations=situations,
        others=tuple(others),
        again=again,
        instead_of=instead_of or away,
    )
    rec.tell(
        notice,
        priority=going[0].call.priority,
        numbers=tuple(one.call.number for one in going),
        again=again,
        named=named_by(notice, rec.scene()) if len(going) > 1 else (),
    )


def tell_gone(rec: Recorder, point: Point, fact: AlarmStep, call: Call | None, alarm: Alarm) -> None:
    """Those who were told of an alarm hear once that its condition has gone; within their limits, except for
    emergencies."""
    if call is None or fact.before is fact.after:
        return
    latched = fact.after in (AlarmState.LATCHED_UNACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED)
    if call.heard_of and not latched and point.id in rec.bundle.matters:
        grouping.gather_clear(rec, point, call, alarm)
        return
    situation = situation_of(alarm)
    for person in call.heard_of:
        if regular.takes_digest(rec, person, call.priority):
            regular.gather(rec, person, alarm)
            continue
        if (until := quiet_until(rec, person, call.priority)) is not None:
            grouping.gather_quiet(rec, grouping.clear_of(rec, call, alarm, until), person)
            continue
        if not has_room(rec, person, point.boat, call.priority, True, about=ALARM_GONE, numbers=(fact.number,)):
            continue
        rec.tell(
            AlarmGone(person=person, boat=point.boat, situation=situation, latched=latched, holder=call.holder),
            priority=call.priority,
            numbers=(fact.number,),
            again=True,
        )


def persons_of(rec: Recorder, ids: Iterable[str], *, but: str) -> tuple[str, ...]:
    """Those of the ids that are still in the installation, without one."""
    return tuple(person for person in ids if person in rec.bundle.people and person != but)
