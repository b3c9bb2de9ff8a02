"""A practice alarm: "practice house bank low". The call-out of one point, step by step as it would go now, to show that
it reaches those who are on its list. It raises nothing, switches nothing, offers nothing, and gives way to a true one.

Rounds come when the list says so and to whom it names at that moment (hour, duty, stand-ins). What would not go in
truth does not go here: quiet hours, digests, phones that have opted out. A phone whose owner has not agreed to be
texted is left alone as well, because a practice is no alarm (our choice).
"""

from collections.abc import Sequence

from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.desk.bundle import Bundle
from gateway.desk.lists import list_now
from gateway.desk.practice_ends import calls, disturbs, end, waits
from gateway.desk.regular import takes_digest
from gateway.desk.reminding import quiet_until
from gateway.desk.rounds import mute_reason
from gateway.desk.situation import situation_of
from gateway.desk.taking_groups import FREE
from gateway.desk.turn import OPTED_OUT, Recorder
from gateway.desk.welcoming import NO_CONSENT
from gateway.people.settings import Person, Role
from gateway.telling.call import PRACTICE_RUNG, PRACTICE_TOLD
from gateway.telling.facts import HeldBack
from gateway.telling.notices import AlarmAnswer, Cannot
from gateway.telling.pacing import QUIET_HOURS
from gateway.telling.practice import Practice, PracticeBegan, PracticeCalled, PracticeEnd
from gateway.telling.practice_notices import (
    CannotPractise,
    PracticeBegun,
    PracticeRefused,
    PracticeRung,
    PracticeTold,
)
from gateway.telling.settings import Step
from gateway.vocabulary.moments import Ms
from gateway.wording.names import spoken
from gateway.wording.phrasebook import speaking, translated

IN_DIGEST = "cautions wait for the person's digest"


def may_practise(bundle: Bundle, boat: str) -> tuple[str, ...]:
    """Ids of those who may set one off: who minds the boat's wiring, and her owners. A caretaker may not, where there
    is an installer: it wakes people and costs texts, and it is the caretaker's turn that is tried (our choice)."""
    return tuple(dict.fromkeys((*bundle.minders(boat), *bundle.concerned(boat, Role.OWNER))))


def practise(rec: Recorder, person: Person, words: str, boat: str) -> None:
    """Set one off, unless something stands against it."""
    point = _called(rec, person, words, boat)
    refused = _against(rec, person, boat, point, words)
    if refused is not None or point is None:
        if refused is not None:
            rec.tell(refused)
        return
    rec.note(boat, PracticeBegan(point=point.id, boat=boat, person=person.id))
    callout = list_now(rec.state, rec.bundle, point.id, rec.now)
    first = next((step.tell for step in callout.steps if step.tell), ())
    ends = rec.state.practice.on[point.id].ends_at(callout)
    rec.tell(PracticeBegun(person=person.id, boat=boat, point=point.id, first=first, ends=ends))


def _called(rec: Recorder, person: Person, words: str, boat: str) -> Point | None:
    """The boat's point of that name: as the files call it, as its key says it, or as the person's language does."""
    with speaking(person.language):
        for point in rec.bundle.points.values():
            names = (point.name, spoken(point.id), translated(point.name), translated(point.name.lower()))
            if point.boat == boat and _plain(words) in map(_plain, names):
                return point
    return None


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split())


def _against(rec: Recorder, person: Person, boat: str, point: Point | None, words: str) -> PracticeRefused | None:
    """What stands against it; None when nothing does."""

    def no(cannot: CannotPractise, **more: object) -> PracticeRefused:
        return PracticeRefused(person=person.id, boat=boat, cannot=cannot, **more)  # type: ignore[arg-type]

    may = may_practise(rec.bundle, boat)
    if person.id not in may:
        return no(CannotPractise.NOT_YOURS, who=may)
    if point is None:
        return no(CannotPractise.NO_SUCH, words=words)
    if (running := rec.state.practice.of_boat(boat)) is not None:
        return no(CannotPractise.GOES_ON, point=running.point)
    if not rec.state.practice.may_begin(boat, rec.now):
        return no(CannotPractise.TOO_OFTEN)
    if (because := mute_reason(rec, point)) is not None:
        return no(CannotPractise.NOT_TOLD, because=because)
    everyone = list_now(rec.state, rec.bundle, point.id, rec.now).everyone
    if not any(one in rec.bundle.people for one in everyone):
        return no(CannotPractise.NOT_TOLD, because="its list names nobody")
    waiting = [call for call in calls(rec) if waits(call) and disturbs(call, boat, everyone)]
    own = rec.state.standing.by_point.get(point.id)
    if waiting or own is not None:
        number = own.number if own is not None else waiting[0].number
        return no(CannotPractise.ALARM_OPEN, number=number)
    return None


def next_due(rec: Recorder) -> Ms | None:
    """When a step of one falls due, or its end."""
    return min((at for _, at in _dues(rec)), default=None)


def _dues(rec: Recorder) -> list[tuple[Practice, Ms]]:
    lists = rec.bundle.lists  # steps keep their places whatever the hour and the duty are
    return [(one, one.due_at(lists[one.point])) for one in rec.state.practice.on.values() if one.point in lists]


def due(rec: Recorder) -> bool:
    """Call the next persons, or end what nobody had. True when there was any."""
    found = [one for one, at in _dues(rec) if at <= rec.now]
    for one in found:
        callout = list_now(rec.state, rec.bundle, one.point, rec.now)
        if one.ends_at(callout) <= rec.now:  # also where the gateway did not run meanwhile: nothing comes late
            end(rec, one, PracticeEnd.UNANSWERED)
            continue
        if any(waits(call) and disturbs(call, one.boat, callout.everyone) for call in calls(rec)):
            end(rec, one, PracticeEnd.TRUE_ALARM)  # the list has changed meanwhile: hour, duty, stand-ins, files
            continue
        passed = sum(one.began + step.after <= rec.now for step in callout.steps)
        steps = callout.steps[one.next_step : passed]
        _round(rec, one, steps, passed)
    return bool(found)


def _round(rec: Recorder, one: Practice, steps: Sequence[Step], passed: int) -> None:
    priority = rec.bundle.points[one.point].priority
    people = tuple(dict.fromkeys(person for step in steps for person in step.tell))
    fact = PracticeCalled(point=one.point, step=passed - 1, next_step=passed, people=people)
    rec.note(one.boat, fact)
    for person in dict.fromkeys(p for step in steps if step.text for p in step.tell):
        if _may_go(rec, one, person, PRACTICE_TOLD):
            rec.tell(PracticeTold(person=person, boat=one.boat, point=one.point, by=one.by))
    for person in dict.fromkeys(p for step in steps if step.rings(priority) for p in step.tell):
        if _may_go(rec, one, person, PRACTICE_RUNG):
            rec.tell(PracticeRung(person=person, boat=one.boat, point=one.point, by=one.by))


def _may_go(rec: Recorder, one: Practice, person: str, about: str) -> bool:
    """What holds a text or a call back is recorded with the reason."""
    known, priority = rec.bundle.people.get(person), rec.bundle.points[one.point].priority
    if known is None:
        return False
    because = ""
    if not known.consent:
        because = NO_CONSENT
    elif person in rec.state.telling.opted_out:
        because = OPTED_OUT
    elif takes_digest(rec, person, priority):
        because = IN_DIGEST
    elif quiet_until(rec, person, priority) is not None:
        because = QUIET_HOURS
    if because:
        rec.note(one.boat, HeldBack(person=person, about=about, because=because))
    return not because


def practice_over(rec: Recorder, person: Person, boat: str) -> None:
    """Whoever may set one off may end one."""
    one, may = rec.state.practice.of_boat(boat), may_practise(rec.bundle, boat)
    if person.id not in may:
        rec.tell(PracticeRefused(person=person.id, boat=boat, cannot=CannotPractise.NOT_YOURS, who=may))
    elif one is None:
        rec.tell(PracticeRefused(person=person.id, boat=boat, cannot=CannotPractise.NONE_ON))
    else:
        end(rec, one, PracticeEnd.SAID, person.id)


def take_practice(rec: Recorder, person: Person, boat: str | None) -> bool:
    """A "have it" without a number from somebody who was told of a practice. True when it has been answered. Where a
    true alarm was told to the person as well it is never guessed: that one asks for its number."""
    boats = person.boats if boat is None else (boat,)
    mine = [one for one in rec.state.practice.on.values() if person.id in one.told and one.boat in boats]
    if not mine:
        return False
    true = _told_and_free(rec, person, boats)
    if true:
        answer = AlarmAnswer(
            person=person.id,
            boat=true[0].boat if len({alarm.boat for alarm in true}) == 1 else "",
            cannot=Cannot.WHICH,
            numbers=tuple(alarm.number for alarm in true),
            situations=tuple(situation_of(alarm) for alarm in true),
        )
        rec.tell(answer)
        return True
    for one in mine:
        end(rec, one, PracticeEnd.TAKEN, person.id)
    return True


def _told_and_free(rec: Recorder, person: Person, boats: Sequence[str]) -> list[Alarm]:
    calls = rec.state.telling.calls
    free = [one for one in rec.state.standing.by_point.values() if one.state in FREE and one.boat in boats]
    told = [one for one in free if one.point in calls and person.id in calls[one.point].heard_of]
    return sorted(told, key=lambda one: (-one.priority.gravity, one.number))


def files_changed(rec: Recorder) -> None:
    """What is practised has gone from the installation."""
    for one in list(rec.state.practice.on.values()):
        if one.point not in rec.bundle.points:
            end(rec, one, PracticeEnd.GONE)
