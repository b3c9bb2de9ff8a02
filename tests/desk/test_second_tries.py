"""What is answered to a text that cannot be carried out as it is: the next try must be the right one."""

import re

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started
from gateway.vocabulary.orders import PublishCommand
from tests.desk.small_boat import (
    BEGAN,
    INES,
    TOBIAS,
    WATER,
    WATER_DELAY,
    Small,
    small,
    starter_bundle,
    well,
    with_salt_harrier,
)


def quay(bundle: Bundle) -> Small:
    """A desk that has just started."""
    boat = Small(Desk(bundle), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def of_two_boats() -> Small:
    return quay(with_salt_harrier(starter_bundle(), TOBIAS))


def answer(boat: Small, person: str, body: str) -> str:
    """The one text that is answered."""
    before = len(boat.sent)
    boat.texts(person, body)
    (text,) = boat.sent[before:]
    assert text.person == person
    return text.body


def test_a_stop_with_a_time_is_offered_with_the_boat_that_was_named_in_front_or_behind() -> None:
    for body in ("grey wagtail generator stop for 2 h", "generator stop for 2 h on grey wagtail"):
        assert answer(of_two_boats(), TOBIAS, body).endswith("Reply GREY WAGTAIL GENERATOR STOP")


def test_whoever_has_one_boat_need_not_name_it() -> None:
    assert answer(quay(starter_bundle()), TOBIAS, "grey wagtail generator stop for 2 h").endswith(
        "Reply GENERATOR STOP"
    )


def test_a_wrong_action_is_offered_both_right_ones_with_the_boat_that_was_named() -> None:
    asked = answer(of_two_boats(), TOBIAS, "grey wagtail generator open")
    assert "Did you mean GREY WAGTAIL GENERATOR START or GREY WAGTAIL GENERATOR STOP?" in asked


# ---------------------------------------------------------------- two words without what belongs before them


def words_in(text: str, head: str) -> str:
    """The two words behind GO or PROVE in one of our texts."""
    found = re.search(rf"{head} ([A-Z]+ [A-Z]+)", text)
    assert found is not None, text
    return found[1].lower()


def test_words_of_a_code_without_go_switch_nothing_count_nothing_and_hear_what_is_missing() -> None:
    boat = quay(starter_bundle())
    boat.take(ReadingsCame(readings=tuple(map(well, starter_bundle().signals.values()))))
    words = words_in(answer(boat, TOBIAS, "deck lights on"), "GO")
    tries, before = dict(boat.desk.state.requests.tries), boat.desk.state.requests.codes_of(TOBIAS)
    for body in (words, "viking vitamin"):
        assert answer(boat, TOBIAS, body) == (
            "GREY WAGTAIL: GO belongs before the two words. Nothing was done. Copy all of it from the last text"
        )
    assert boat.desk.state.requests.tries == tries
    assert boat.desk.state.requests.codes_of(TOBIAS) == before
    assert not any(isinstance(order, PublishCommand) for turn in boat.turns for order in turn.orders)


def test_without_a_code_waiting_two_words_are_any_two_words() -> None:
    assert answer(quay(starter_bundle()), TOBIAS, "viking vitamin").startswith("GREY WAGTAIL: not understood.")


# ---------------------------------------------------------------- persons


def test_a_lost_phone_of_nobody_hears_how_to_name_whose() -> None:
    for body in ("phone lost", "lost my phone", "phone lost Berta"):
        assert answer(quay(starter_bundle()), TOBIAS, body) == (
            "GREY WAGTAIL: nobody was named whose phone is lost. Nothing was done. "
            "Reply PHONE LOST and the name, or PHONE LOST ME"
        )


# ---------------------------------------------------------------- alarms


def test_the_number_and_ok_takes_nothing_and_is_answered_once() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    assert answer(boat, INES, "1 ok").startswith("NOT taken: alarm 1")
    before = len(boat.sent)
    boat.texts(INES, "1 ok")
    assert boat.sent[before:] == []


def test_several_alarms_in_one_text_are_offered_one_text_each() -> None:
    assert answer(quay(starter_bundle()), INES, "have it 4 and 5") == (
        "GREY WAGTAIL: one text is for one alarm. Nothing was done. Text each by itself: HAVE IT 4, HAVE IT 5"
    )


def test_whoever_named_no_boat_is_sent_the_whole_of_it_with_a_boat_in_front_its_time_as_well() -> None:
    asked = answer(of_two_boats(), TOBIAS, "turn off the fridge til 6pm")
    assert "Begin with its name, as in GREY WAGTAIL REFRIGERATION OFF UNTIL 18:00:" in asked


def test_a_slip_is_offered_what_was_meant() -> None:
    boat = of_two_boats()
    assert "Did you mean HAVE IT 4?" in answer(boat, TOBIAS, "haveit 4")
    assert "Did you mean GREY WAGTAIL STATUS FUEL?" in answer(boat, TOBIAS, "grey wagtail fuell")
