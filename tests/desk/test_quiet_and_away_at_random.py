"""Quiet hours and stand-ins together, whatever happens and in whatever order: of what stands somebody is told or the
record says why not, no emergency is late, quiet hours are kept, and what they held back is said when they end.

The model knows the people as the installer writes them, reckons their hours and days by the wall clock of their zones
in its own way, and reads the record alone.
"""

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, rule

from gateway.alarms.life import AlarmState
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.people.away import Days
from gateway.people.quiet import QuietHours
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, Started
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, from_rfc3339
from tests.desk.four_contacts import FLOOD, POINTS, FourContacts
from tests.desk.small_boat import INES, MARINA, RUTH, TOBIAS, Small, bundle_of
from tests.effort import tries

EVENING = from_rfc3339("2026-03-28T20:30:00Z")
"""The night in which the clocks of Europe go forward."""

LIST = CallOutList(
    key="list", steps=(Step(after=0, tell=(INES, TOBIAS)), Step(after=5 * MINUTE, tell=(MARINA,))), repeat=30 * MINUTE
)
SLIGHT = ("warning", "caution")
OF_ALARMS = frozenset({"alarm told", "alarm gone", "flood told"})


@dataclass(frozen=True)
class Sleeper:
    """Hours of the wall clock (begin, end) and the first and last day away, in a zone; who stands in."""

    zone: str
    quiet: tuple[int, int] | None
    away: tuple[date, date] | None = None
    stand_in: str | None = None

    def local(self, at: Ms) -> datetime:
        return datetime.fromtimestamp(at / 1000, UTC).astimezone(ZoneInfo(self.zone))

    def hours(self, caution: bool) -> tuple[int, int] | None:
        """When something slight waits: nothing written down, a caution waits for the end of the night all the same."""
        return (22, 7) if self.quiet is None and caution else self.quiet

    def sleeps(self, at: Ms, *, caution: bool = False) -> bool:
        hours = self.hours(caution)
        if hours is None:
            return False
        begins, ends = hours
        hour = self.local(at).hour
        return begins <= hour or hour < ends  # every one of them is over midnight

    def wakes(self, at: Ms) -> Ms:
        """The end of the quiet hours in which this instant lies."""
        begins, ends = self.quiet or (22, 7)
        local = self.local(at)
        day = local.date() + timedelta(days=local.hour >= begins)
        end = datetime(day.year, day.month, day.day, ends, tzinfo=ZoneInfo(self.zone))
        return round(end.timestamp() * 1000)

    def is_away(self, at: Ms) -> bool:
        return self.away is not None and self.away[0] <= self.local(at).date() <= self.away[1]


PEOPLE = {
    INES: Sleeper("Europe/London", (22, 7), (date(2026, 3, 29), date(2026, 3, 29)), RUTH),
    TOBIAS: Sleeper("Europe/Athens", (23, 6), (date(2026, 3, 28), date(2026, 3, 28)), RUTH),
    RUTH: Sleeper("America/New_York", (21, 8), (date(2026, 3, 30), date(2026, 3, 30))),
    MARINA: Sleeper("Europe/London", None),
}


@dataclass(frozen=True)
class Line:
    """A text, or what was held back, as the record has it. until: of what was held back."""

    place: int
    at: Ms
    person: str
    about: str
    numbers: tuple[int, ...]
    priority: str | None = None
    because: str = ""
    until: Ms | None = None
    says_held: tuple[int, ...] = ()

    def is_of(self, person: str, number: int) -> bool:
        return self.person == person and number in self.numbers


def line_of(place: int, written: Written) -> Line:
    body = written.entry.body
    more = {key: body[key] for key in ("priority", "because", "until") if key in body}
    if "says_held" in body:
        more["says_held"] = tuple(body["says_held"])  # type: ignore[arg-type]
    return Line(
        place,
        written.entry.now,
        str(body["person"]),
        str(body["about"]),
        tuple(body["numbers"]),  # type: ignore[arg-type]
        **more,  # type: ignore[arg-type]
    )


class Nights(FourContacts):
    """One boat with a point of each priority; two are told first, one stands in for both, one is never asleep."""

    def __init__(self) -> None:
        super().__init__()
        bundle = bundle_of(*POINTS.values(), callouts=(LIST,))
        people = {
            key: replace(
                bundle.people[key],
                zone=ZoneInfo(one.zone),
                quiet=None if one.quiet is None else QuietHours(one.quiet[0] * 60, one.quiet[1] * 60),
                away=() if one.away is None else (Days(*one.away),),
                stand_in=one.stand_in,
            )
            for key, one in PEOPLE.items()
        }
        bundle = replace(bundle, people=people)
        self.boat = Small(Desk(bundle), now=EVENING - 10, began=EVENING)
        self.boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(people)))
        self.boat.take(Started(stopped_at=None))
        self.boat.take(LinkChanged(link="broker:quay", up=True))
        self.boat.now = EVENING
        self.turns_read = self.places = 0
        self.texts: list[Line] = []
        self.held: list[Line] = []
        self.steps: list[tuple[int, int]] = []  # place, number

    def read_the_record(self) -> None:
        self.boat.wait(0)
        for turn in self.boat.turns[self.turns_read :]:
            for written in turn.entries:
                self.places += 1
                match written.entry.kind:
                    case "text-queued" if not written.entry.body["spoken"]:
                        self.texts.append(line_of(self.places, written))
                    case "held-back":
                        self.held.append(line_of(self.places, written))
                    case "alarm-step":
                        self.steps.append((self.places, int(str(written.entry.body["number"]))))
        self.turns_read = len(self.boat.turns)

    @initialize(after=st.integers(0, 30), bad=st.sets(st.sampled_from(sorted(POINTS)), min_size=1))
    def it_begins_at_some_hour_with_some_alarms(self, after: int, bad: set[str]) -> None:
        self.boat.wait(after * HOUR)
        for signal in sorted(bad):
            self.a_contact_changes(signal, True)

    @rule(length=st.sampled_from([4 * MINUTE, 35 * MINUTE, 2 * HOUR, 5 * HOUR, 9 * HOUR]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)

    @rule(
        who=st.sampled_from(sorted(PEOPLE)),
        says=st.sampled_from(["have it {n}", "hand over {n}", "ok", "STOP", "alarms"]),
        which=st.integers(0, 3),
    )
    def somebody_texts(self, who: str, says: str, which: int) -> None:
        numbers = sorted(alarm.number for alarm in self.boat.desk.state.standing.by_point.values()) or [1]
        self.boat.texts(who, says.format(n=numbers[which % len(numbers)]))

    @rule()
    def the_gateway_is_killed_and_started(self) -> None:
        boat = self.boat
        rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
        boat.desk = rebuilt(boat.desk.bundle, None, boat.entries, rows)
        boat.restarts()

    @invariant()
    def of_what_stands_somebody_is_told_or_the_record_says_why_not(self) -> None:
        self.read_the_record()
        known = {number for one in (*self.texts, *self.held) for number in one.numbers}
        for alarm in self.boat.desk.state.standing.by_point.values():
            if alarm.active and alarm.state is AlarmState.UNACKNOWLEDGED:
                assert alarm.number in known, alarm.point

    @invariant()
    def no_emergency_is_late_asleep_or_away_and_the_stand_in_hears_too(self) -> None:
        self.read_the_record()
        call = self.boat.desk.state.telling.calls.get(FLOOD.id)
        if call is None or call.over or call.holder is not None or call.rejoined:
            return
        for person in self._told_first(call.began):
            found = [one.at for one in (*self.texts, *self.held) if one.is_of(person, call.number)]
            assert call.began in found, person
        slept = [one for one in self.held if call.number in one.numbers and one.because == "quiet hours"]
        assert slept == []

    def _told_first(self, at: Ms) -> set[str]:
        """The first round, with the stand-ins of those who are away by the model."""
        cut_off = self.boat.desk.state.telling.opted_out
        away = [key for key in LIST.steps[0].tell if PEOPLE[key].is_away(at)]
        stand_ins = {str(PEOPLE[key].stand_in) for key in away}
        return {*LIST.steps[0].tell, *(one for one in stand_ins if one not in cut_off and not PEOPLE[one].is_away(at))}

    @invariant()
    def nobody_is_woken_by_what_quiet_hours_hold(self) -> None:
        self.read_the_record()
        for text in self.texts:
            if text.about in OF_ALARMS and text.priority in SLIGHT:
                assert not PEOPLE[text.person].sleeps(text.at, caution=text.priority == "caution"), text

    @invariant()
    def what_they_held_waits_for_their_end_and_is_told_then_if_nobody_has_it(self) -> None:
        self.read_the_record()
        for held in self.held:
            if held.because != "quiet hours" or held.about != "alarm told":
                continue
            sleeper, until = PEOPLE[held.person], held.until
            assert until is not None
            assert until >= sleeper.wakes(held.at)
            if until > sleeper.wakes(held.at):  # a limit leaves no room till then: the walks of limits look at that
                continue
            if self.boat.now <= until or sleeper.is_away(until):  # then it is the stand-in's turn
                continue
            for number in held.numbers:
                if self._changed_since(held.place, number) or self._held_longer(held, number):
                    continue
                found = (one for one in (*self.texts, *self.held) if one.is_of(held.person, number))
                assert any(until <= one.at <= until + SECOND for one in found), held

    def _changed_since(self, place: int, number: int) -> bool:
        """Whether the alarm was taken, went or came again after that: then it is told by what holds then."""
        return any(at > place and one == number for at, one in self.steps)

    def _held_longer(self, held: Line, number: int) -> bool:
        """Whether a limit was used up meanwhile, so that it waits for longer than the quiet hours."""
        assert held.until is not None
        later = (one for one in self.held if one.place > held.place and one.is_of(held.person, number))
        return any(one.until is not None and one.at < held.until < one.until for one in later)

    @invariant()
    def what_was_held_back_is_said_or_waits_to_be_said(self) -> None:
        self.read_the_record()
        for held in self.held:
            waits = self.boat.desk.state.telling.held.get(held.person, ())
            for number in held.numbers if held.until is not None else ():
                later = (one for one in self.texts if one.place > held.place and one.person == held.person)
                assert number in waits or any(number in (*one.numbers, *one.says_held) for one in later), held


TestNights = Nights.TestCase
TestNights.settings = settings(max_examples=tries(12), stateful_step_count=20, deadline=None)


def test_an_evening_of_everything_meets_quiet_hours_stand_ins_and_the_change_of_the_clocks() -> None:
    """What the random walks go through, once by hand, so that they cannot pass by seeing nothing."""
    night = Nights()
    for signal in sorted(POINTS):
        night.a_contact_changes(signal, True)
    for _ in range(11):
        night.time_passes(HOUR)
        night.of_what_stands_somebody_is_told_or_the_record_says_why_not()
        night.no_emergency_is_late_asleep_or_away_and_the_stand_in_hears_too()
        night.nobody_is_woken_by_what_quiet_hours_hold()
        night.what_they_held_waits_for_their_end_and_is_told_then_if_nobody_has_it()
        night.what_was_held_back_is_said_or_waits_to_be_said()
    reasons = {(one.person, one.because) for one in night.held}
    assert {(INES, "quiet hours"), (RUTH, "quiet hours")} & reasons
    assert {RUTH, MARINA} <= {one.person for one in night.texts}
    assert night.boat.rebuilt() == night.boat.bytes()
