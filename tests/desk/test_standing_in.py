"""Stand-ins: the turns of whoever is away, and what a limit holds back if it matters."""

from dataclasses import replace
from datetime import date
from zoneinfo import ZoneInfo

from gateway.alarms.settings import Point
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.people.away import Days
from gateway.people.quiet import QuietHours
from gateway.people.roster import Shift
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, OptFlagCame, Started
from gateway.vocabulary.moments import MINUTE, Ms, from_rfc3339
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, NUMBER_OF, RUTH, TOBIAS, WATER, WATER_DELAY, Small, bundle_of, point

PUMP = point("panel", when=IsContact(signal="panel", wanted=True), priority=Priority.ALARM)
SHORE = point(
    "shore",
    when=IsContact(signal="shore", wanted=False),
    clears=IsContact(signal="shore", wanted=True),
    priority=Priority.WARNING,
)
HATCH = point("hatch", when=IsContact(signal="hatch", wanted=True), priority=Priority.WARNING)
BOTH = CallOutList(
    key="list", steps=(Step(after=0, tell=(TOBIAS,)), Step(after=5 * MINUTE, tell=(INES,))), repeat=10 * MINUTE
)
NOON = from_rfc3339("2026-07-08T12:00:00Z")
HOLIDAY = (Days(date(2026, 7, 1), date(2026, 7, 14)),)


def of(*points: Point, callout: CallOutList = BOTH, **people: dict[str, object]) -> Bundle:
    """people: by key, what differs of them."""
    bundle = bundle_of(*points, callouts=(callout,))
    changed = {id: replace(one, **people.get(one.key, {})) for id, one in bundle.people.items()}  # type: ignore[arg-type]
    return replace(bundle, people=changed)


def quay(bundle: Bundle, at: Ms = NOON) -> Small:
    boat = Small(Desk(bundle), now=at - 10, began=at)
    boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = at
    return boat


def told(boat: Small) -> list[tuple[str, int]]:
    return [(person, at // MINUTE) for person, about, at in boat.told() if about == "alarm told"]


AWAY = {"stand_in": RUTH, "away": HOLIDAY}


def test_the_turns_of_who_is_away_go_to_the_stand_in_who_hears_for_whom() -> None:
    boat = quay(of(PUMP, tobias=AWAY))
    boat.reads("panel", "on")
    boat.wait(6 * MINUTE)
    assert told(boat) == [(RUTH, 0), (INES, 5)]
    bodies = {text.person: text.body for text in boat.sent}
    assert "To you in place of Tobias" in bodies[RUTH]
    assert "in place of" not in bodies[INES]
    boat.texts(RUTH, "have it 1")
    assert boat.desk.state.telling.calls[PUMP.id].holder == RUTH
    assert boat.rebuilt() == boat.bytes()


def test_both_days_belong_to_it_by_the_clock_of_the_person_who_is_away() -> None:
    def first(at: str, zone: str = "Europe/London") -> str:
        boat = quay(of(PUMP, tobias={**AWAY, "zone": ZoneInfo(zone)}), from_rfc3339(at))
        boat.reads("panel", "on")
        return boat.sent[0].person

    assert first("2026-06-30T22:59:00Z") == TOBIAS
    assert first("2026-06-30T23:00:00Z") == RUTH, "midnight by the summer's clock"
    assert first("2026-07-14T22:59:00Z") == RUTH
    assert first("2026-07-14T23:00:00Z") == TOBIAS
    assert first("2026-07-14T23:00:00Z", "America/New_York") == RUTH


def test_of_an_emergency_both_are_told() -> None:
    boat = quay(of(WATER, tobias=AWAY))
    boat.reads("water", "on")
    boat.wait(WATER_DELAY + MINUTE)
    assert told(boat) == [(TOBIAS, 0), (RUTH, 0)]


def test_a_stand_in_who_cannot_be_told_takes_nothing() -> None:
    as_well = quay(of(PUMP, tobias=AWAY, ruth={"away": HOLIDAY, "stand_in": INES}))
    as_well.reads("panel", "on")
    assert told(as_well) == [(TOBIAS, 0)]
    without = quay(of(PUMP, tobias=AWAY, ruth={"boats": ("salt-harrier",)}))
    without.reads("panel", "on")
    assert told(without) == [(TOBIAS, 0)]
    cut_off = quay(of(PUMP, tobias=AWAY))
    cut_off.take(OptFlagCame(number=NUMBER_OF[RUTH], out=True))
    since = len(cut_off.told())
    cut_off.reads("panel", "on")
    assert [(who, kind) for who, kind, _ in cut_off.told()[since:]] == [(TOBIAS, "alarm told")]


def test_somebody_who_is_on_the_list_as_well_is_told_once() -> None:
    together = CallOutList(key="list", steps=(Step(after=0, tell=(TOBIAS, INES)),), repeat=None)
    boat = quay(of(PUMP, callout=together, tobias={"stand_in": INES, "away": HOLIDAY}))
    boat.reads("panel", "on")
    boat.wait(MINUTE)
    assert told(boat) == [(INES, 0)]


def test_duty_passes_with_the_turns() -> None:
    plan = CallOutList(key="list", steps=(Step(after=0, tell=(TOBIAS, INES), by_duty=(TOBIAS, INES)),), repeat=None)
    bundle = of(PUMP, callout=plan, tobias=AWAY)
    boat = quay(replace(bundle, roster=(Shift(person=TOBIAS, days=tuple(range(7))),)))
    boat.reads("panel", "on")
    assert told(boat) == [(RUTH, 0)]


# ---------------------------------------------------------------- what a limit holds back

ALONE = CallOutList(key="list", steps=(Step(after=0, tell=(TOBIAS,)),), repeat=None)


def spent(**people: dict[str, object]) -> Small:
    """Tobias has had the three warnings of an hour, and now the hatch is open."""
    boat = quay(of(SHORE, HATCH, callout=ALONE, **people))
    for _ in range(2):
        boat.reads("shore", "off")
        boat.reads("shore", "on")
        boat.wait(11 * MINUTE)
    boat.reads("hatch", "on")
    return boat


def about_the_hatch(boat: Small) -> list[str]:
    return [text.person for text in boat.sent if "hatch" in text.body]


def test_what_a_limit_holds_back_goes_to_the_stand_in_and_waits_for_the_person_as_well() -> None:
    boat = spent(tobias={"stand_in": RUTH})
    assert about_the_hatch(boat) == [RUTH]
    assert "To you in place of Tobias" in boat.sent[-1].body
    boat.wait(60 * MINUTE)
    assert about_the_hatch(boat) == [RUTH, TOBIAS]
    assert boat.rebuilt() == boat.bytes()


def test_without_a_stand_in_it_waits() -> None:
    assert about_the_hatch(spent()) == []


def test_a_caution_waits_well_enough() -> None:
    bundle = of(SHORE, replace(HATCH, priority=Priority.CAUTION), callout=ALONE, tobias={"stand_in": RUTH})
    boat = quay(bundle)
    for _ in range(2):
        boat.reads("shore", "off")
        boat.reads("shore", "on")
        boat.wait(11 * MINUTE)
    boat.reads("hatch", "on")
    assert about_the_hatch(boat) == []


def test_a_stand_in_is_not_woken_for_what_a_limit_holds_back() -> None:
    sleeps = {"quiet": QuietHours(12 * 60, 20 * 60)}
    assert about_the_hatch(spent(tobias={"stand_in": RUTH}, ruth=sleeps)) == []


def test_what_waits_for_the_persons_own_morning_is_passed_to_nobody() -> None:
    sleeps = {"stand_in": RUTH, "quiet": QuietHours(13 * 60 + 15, 20 * 60)}  # from before the hatch is open
    boat = spent(tobias=sleeps)
    assert about_the_hatch(boat) == []
    boat.wait(from_rfc3339("2026-07-08T19:00:00Z") - boat.now)
    assert about_the_hatch(boat) == [TOBIAS]


def test_a_flood_is_one_for_the_stand_in_as_well() -> None:
    many = [
        point(f"panel-{number}", when=IsContact(signal="panel", wanted=True), priority=Priority.ALARM)
        for number in range(12)
    ]
    boat = quay(of(*many, tobias=AWAY))
    boat.reads("panel", "on")
    boat.wait(MINUTE)
    floods = [w.entry.body for w in boat.entries if w.entry.kind == "flood-step"]
    assert RUTH in {one["person"] for one in floods if one["begun"]}
    assert [text.person for text in boat.sent if "12 alarms" in text.body or "more" in text.body].count(RUTH) == 1
    assert boat.rebuilt() == boat.bytes()
