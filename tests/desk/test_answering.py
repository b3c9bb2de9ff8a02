"""Answers to questions, and what may be offered with an alarm."""

from dataclasses import replace

from gateway.desk.answering import alarms_answer, phrases_answer, status_answer
from gateway.desk.bundle import Bundle
from gateway.desk.offering import offers_for
from gateway.desk.turn import Recorder
from gateway.requests.settings import GRAVE
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.happenings import ReadingsCame
from gateway.vocabulary.moments import SECOND
from gateway.vocabulary.readings import Grade, Reading
from tests.desk.small_boat import (
    BOAT,
    INES,
    MARINA,
    SHORE,
    SIGNALS,
    TOBIAS,
    WATER,
    WATER_DELAY,
    Small,
    bundle_of,
    small,
    starter_bundle,
)


def recorder(boat: Small) -> Recorder:
    return Recorder(state=boat.desk.state, bundle=boat.desk.bundle, draws=Draws(bytes(32)), now=boat.now)


def test_status_gives_every_signal_of_the_boat_with_its_age_only_when_it_is_old() -> None:
    boat = small(WATER)
    boat.reads("volts", "12.4")
    boat.wait(30 * SECOND)
    boat.reads("shore", "on")
    lines = {line.signal: line for line in status_answer(recorder(boat), INES, BOAT).lines}
    assert set(lines) == set(SIGNALS)
    assert (lines[f"{BOAT}/volts"].measured, lines[f"{BOAT}/volts"].age) == ("12.4 V", None)
    boat.wait(1)
    lines = {line.signal: line for line in status_answer(recorder(boat), INES, BOAT).lines}
    assert lines[f"{BOAT}/volts"].age == 30 * SECOND + 1
    assert lines[f"{BOAT}/shore"].age is None
    assert (lines[f"{BOAT}/water"].measured, lines[f"{BOAT}/water"].age) == ("", None)


def test_alarms_are_given_worst_first_with_who_has_them() -> None:
    boat = small(WATER, SHORE)
    boat.keeps_reading("shore", "off", 6 * 60 * SECOND)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    boat.texts(TOBIAS, "have it 1")
    answer = alarms_answer(recorder(boat), INES, BOAT)
    assert [situation.point for situation in answer.situations] == [WATER.id, SHORE.id]
    assert answer.holders == (None, TOBIAS)


def test_phrases_are_those_that_the_person_has_a_right_to() -> None:
    boat = small(WATER)
    boat.uses(starter_bundle())
    people = boat.desk.bundle.people
    owner = phrases_answer(recorder(boat), people[INES], BOAT).phrases
    assert {"status", "have it", "visit over", "generator start", "generator stop"} <= set(owner)
    office = phrases_answer(recorder(boat), people[MARINA], BOAT).phrases
    assert set(office) == {"status", "alarms", "have it", "checked", "visit", "visit over", "at boat", "ashore"}


def test_no_phrase_that_is_taught_begins_with_a_word_that_carriers_take_as_opt_out_or_opt_in() -> None:
    boat = small(WATER)
    boat.uses(starter_bundle())
    taken = {"stop", "stopall", "unsubscribe", "cancel", "end", "quit", "start", "yes", "unstop", "help", "info"}
    for person in boat.desk.bundle.people.values():
        for phrase in phrases_answer(recorder(boat), person, BOAT).phrases:
            assert phrase.split()[0].lower() not in taken


# ---------------------------------------------------------------- offers


def lit_bundle(*offer: str) -> Bundle:
    """The whole starter, with these phrases offered with the bilge alarm."""
    whole = starter_bundle()
    key = f"{BOAT}/bilge-high"
    return replace(whole, points={**whole.points, key: replace(whole.points[key], offer=offer)})


def offered(*phrases: str, person: str = INES, fresh: bool = True) -> tuple[str, ...]:
    boat = small(WATER)
    boat.uses(lit_bundle(*phrases))
    boat.texts(TOBIAS, "wagtail visit over")
    if fresh:
        node = f"{BOAT}/refrigeration"
        some = (
            Reading(signal=f"{node}-running", grade=Grade.CONTACT, text="on"),
            Reading(signal=f"{node}-count", grade=Grade.NUMBER, text="5"),
            *(
                Reading(signal=f"{BOAT}/{key}", grade=Grade.CONTACT, text="off")
                for key in ("co", "fire", "gas", "lock-out")
            ),
        )
        boat.take(ReadingsCame(readings=some))
        boat.wait(15 * 60 * SECOND)
        boat.take(ReadingsCame(readings=some))
        for _ in range(2):  # what comes behind a silence may be old, until it comes in its own rhythm
            boat.wait(60 * SECOND)
            boat.take(ReadingsCame(readings=some))
    return offers_for(recorder(boat), person, boat.desk.bundle.points[f"{BOAT}/bilge-high"])


def test_what_would_be_taken_up_now_is_offered_and_nothing_else() -> None:
    assert offered("refrigeration off") == ("refrigeration off",)
    assert offered("refrigeration off", fresh=False) == ()
    assert offered("refrigeration on") == ()


def test_nothing_is_offered_to_a_person_without_the_right_to_it() -> None:
    assert offered("refrigeration off", person=MARINA) == ()
    assert offered("refrigeration off", person="nobody") == ()


def test_an_engine_is_never_offered_unasked_whatever_the_installer_wrote() -> None:
    assert starter_bundle().equipment[f"{BOAT}/generator"].sort in GRAVE
    assert offered("generator start", "generator stop") == ()


def test_what_is_no_phrase_for_a_switch_is_never_offered() -> None:
    assert offered("have it", "feed the parrot", "visit over") == ()


def test_looking_for_offers_changes_nothing() -> None:
    boat = small(WATER)
    boat.uses(lit_bundle("refrigeration off"))
    before = boat.bytes()
    offers_for(recorder(boat), INES, boat.desk.bundle.points[f"{BOAT}/bilge-high"])
    assert boat.bytes() == before
    assert bundle_of(WATER).equipment == {}
