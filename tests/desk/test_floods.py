"""In a flood one text stands for many alarms, but the first text of an alarm waits for no more than a minute."""

from gateway.telling.gathering import FLOOD_WINDOW, GATHERED_FOR
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.moments import DAY, MINUTE, SECOND
from gateway.vocabulary.plain import Plain
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, Small, point, small

ONCE = CallOutList(key="list", steps=(Step(after=0, tell=(INES,)),), repeat=None)
FLAPS = [
    point(f"shore-{place}", when=IsContact(signal="shore", wanted=False), priority=Priority.WARNING)
    for place in range(12)
]
HATCH = point("hatch", when=IsContact(signal="hatch", wanted=True), priority=Priority.ALARM)
PANEL = point("panel", when=IsContact(signal="panel", wanted=True), priority=Priority.ALARM)
DAMP = point("water", when=IsContact(signal="water", wanted=True), priority=Priority.WARNING)


def in_flood() -> Small:
    """Twelve warnings at once: the flood has been told by one text."""
    boat = small(*FLAPS, HATCH, PANEL, DAMP, callouts=(ONCE,))
    boat.reads("shore", "off")
    assert [(who, what) for who, what, _ in boat.told()] == [(INES, "flood told")]
    return boat


def number_of(boat: Small, key: str) -> int:
    return next(a.number for a in boat.desk.state.standing.by_point.values() if a.point.endswith(f"/{key}"))


def named_after(boat: Small, turns: int) -> list[tuple[int, Plain]]:
    """When (ms since the flood was told), and which alarms, from this turn on."""
    began = boat.turns[turns - 1].now
    entries = [written.entry for turn in boat.turns[turns:] for written in turn.entries]
    return [(one.now - began, one.body["numbers"]) for one in entries if one.kind == "text-queued"]


def test_the_first_text_of_an_alarm_comes_within_a_minute_and_brings_what_waits_along() -> None:
    boat = in_flood()
    told = len(boat.turns)
    boat.wait(10 * SECOND)
    boat.reads("water", "on")
    boat.reads("hatch", "on")
    boat.wait(MINUTE)
    ((at, numbers),) = named_after(boat, told)
    assert at == GATHERED_FOR
    assert isinstance(numbers, list | tuple)
    assert {number_of(boat, "hatch"), number_of(boat, "water")} <= set(numbers)
    assert boat.rebuilt() == boat.bytes()


def test_alarms_of_one_minute_in_a_flood_are_one_text() -> None:
    boat = in_flood()
    told = len(boat.turns)
    for signal in ("hatch", "panel"):
        boat.wait(10 * SECOND)
        boat.reads(signal, "on")
    boat.wait(5 * MINUTE)
    assert [at for at, _ in named_after(boat, told)] == [GATHERED_FOR]


def test_a_warning_waits_in_a_flood_for_ten_minutes() -> None:
    boat = in_flood()
    told = len(boat.turns)
    boat.wait(10 * SECOND)
    boat.reads("water", "on")
    boat.wait(DAY)
    assert [at for at, _ in named_after(boat, told)] == [FLOOD_WINDOW]
