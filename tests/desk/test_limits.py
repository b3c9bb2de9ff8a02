"""A boat's day and the day of all boats are limited as a person's is; what must go goes whatever was sent."""

from dataclasses import replace

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.telling.settings import CallOutList, Pacing, Step
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started
from gateway.vocabulary.moments import DAY, MINUTE
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsContact
from tests.desk.small_boat import BEGAN, BOAT, INES, SIGNALS, TOBIAS, Small, bundle_of, point, with_salt_harrier

WIDE = Pacing(alarm_repeats_an_hour=60, warnings_an_hour=60, warnings_a_day=1000)
LOST = point(
    "lost",
    when=IsContact(signal="shore", wanted=False),
    clears=IsContact(signal="shore", wanted=True),
    priority=Priority.WARNING,
)
OPEN = point(
    "open",
    when=IsContact(signal="hatch", wanted=True),
    clears=IsContact(signal="hatch", wanted=False),
    priority=Priority.ALARM,
)
WATER = point("water", when=IsContact(signal="water", wanted=True), priority=Priority.EMERGENCY)
BOTH = CallOutList(key="list", steps=(Step(after=0, tell=(INES, TOBIAS)),), repeat=None)
OTHER = "salt-harrier"


def started(bundle: Bundle) -> Small:
    boat = Small(Desk(bundle), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def limited(**limits: int) -> Small:
    bundle = bundle_of(LOST, OPEN, WATER, callouts=(BOTH,))
    return started(replace(bundle, pacing=replace(WIDE, **limits)))


def flaps(boat: Small, times: int) -> None:
    """The shore lead comes off and on again so often, far enough apart that each is an alarm of its own."""
    for _ in range(times):
        boat.keeps_reading("shore", "off", 11 * MINUTE)
        boat.keeps_reading("shore", "on", 11 * MINUTE)


def held(boat: Small) -> list[str]:
    return [str(one["because"]) for one in boat.held]


def test_no_more_than_a_boats_day_allows_goes_out_and_the_record_says_why() -> None:
    boat = limited(boat_a_day=10)
    flaps(boat, 5)  # each a text to two people, and one that it has gone
    assert len(boat.sent) == 10
    assert set(held(boat)) == {"limit on this boat's texts a day"}


def test_no_more_than_the_day_of_all_boats_allows_goes_out_and_the_record_says_why() -> None:
    boat = limited(all_boats_a_day=10)
    flaps(boat, 5)
    assert len(boat.sent) == 10
    assert set(held(boat)) == {"limit on all boats' texts a day"}


def test_emergencies_and_the_first_text_of_an_alarm_go_whatever_was_sent() -> None:
    boat = limited(boat_a_day=10, all_boats_a_day=10)
    flaps(boat, 5)
    before = len(boat.sent)
    boat.reads("hatch", "on")
    boat.reads("water", "on")
    told = [(text.person, text.priority) for text in boat.sent[before:]]
    assert sorted(told) == sorted(
        (who, priority) for who in (INES, TOBIAS) for priority in (Priority.ALARM, Priority.EMERGENCY)
    )


def test_what_must_go_uses_up_nobodys_day() -> None:
    boat = limited(boat_a_day=10)
    for _ in range(8):
        boat.keeps_reading("hatch", "on", 11 * MINUTE)
        boat.keeps_reading("hatch", "off", 11 * MINUTE)
    firsts = [one for one in boat.told() if one[1] == "alarm told"]
    assert len(firsts) > 10
    assert boat.rebuilt() == boat.bytes()


def test_there_is_room_again_when_the_oldest_is_a_day_old_and_what_waited_goes_then() -> None:
    boat = limited(boat_a_day=10)
    flaps(boat, 3)
    boat.keeps_reading("shore", "off", 11 * MINUTE)
    sent = len(boat.sent)
    boat.keeps_reading("shore", "off", DAY)
    assert [(text.person, "lost" in text.body) for text in boat.sent[sent:]] == [(INES, True), (TOBIAS, True)]
    times = [turn.now for turn in boat.turns for order in turn.orders if order in boat.sent]
    assert all(sum(end - DAY < at <= end for at in times) <= 10 for end in times)


def test_two_boats_in_one_moment_do_not_take_the_same_room_twice() -> None:
    signal = replace(SIGNALS[f"{BOAT}/shore"], id=f"{OTHER}/shore", boat=OTHER, topic=f"{OTHER}/shore")
    other = replace(LOST, id=f"{OTHER}/lost", boat=OTHER)
    alone = CallOutList(key="list", steps=(Step(after=0, tell=(INES,)),), repeat=None)
    bundle = with_salt_harrier(bundle_of(LOST, OPEN, callouts=(alone,)), INES)
    bundle = replace(
        bundle,
        signals={**bundle.signals, signal.id: signal},
        points={**bundle.points, other.id: other},
        pacing=replace(WIDE, warnings_an_hour=1),
    )
    boat = started(bundle)
    off = [
        Reading(signal=one, grade=Grade.CONTACT, text="off", own_time=None, retained=False)
        for one in (f"{BOAT}/shore", signal.id)
    ]
    boat.take(ReadingsCame(readings=tuple(off)))
    assert len(boat.sent) == 1
    assert held(boat) == ["limit on warning texts"]
    boat.wait(61 * MINUTE)
    assert len(boat.sent) == 2
