"""Texts come in: who may what, what is answered, and what is never done."""

from dataclasses import replace

import pytest

from gateway.alarms.aboard import BY_TEXT, Occupied
from gateway.alarms.facts import PersonSeen
from gateway.alarms.life import AlarmState
from gateway.desk.applying import apply_fact
from gateway.desk.turn import Turn
from gateway.people.quiet import QuietHours
from gateway.vocabulary.happenings import ReadingsCame
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, as_utc
from gateway.vocabulary.orders import PublishCommand, SendText
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsContact
from tests.desk.small_boat import (
    BEGAN,
    BOAT,
    INES,
    MARINA,
    RUTH,
    SHORE,
    STRANGER,
    TOBIAS,
    WATER,
    WATER_DELAY,
    Small,
    bundle_of,
    point,
    small,
    starter_bundle,
    with_salt_harrier,
)

S = AlarmState


def flooded(boat: Small) -> Small:
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    return boat


def dried(boat: Small) -> Small:
    boat.keeps_reading("water", "off", 2 * MINUTE)
    return boat


def answered(boat: Small, turn: Turn) -> list[tuple[str, str]]:
    kinds = {w.entry.body["order"]: str(w.entry.body["about"]) for w in boat.entries if w.entry.kind == "text-queued"}
    return [(order.person, kinds[order.id]) for order in turn.orders if isinstance(order, SendText)]


# ---------------------------------------------------------------- taking and resetting


def test_have_it_makes_the_sender_the_holder_and_the_others_hear_so_once() -> None:
    boat = flooded(small(WATER))
    boat.wait(5 * MINUTE)
    assert answered(boat, boat.texts(TOBIAS, "have it")) == [(TOBIAS, "alarm taken"), (INES, "alarm taken")]
    assert boat.desk.state.telling.calls[WATER.id].holder == TOBIAS
    assert answered(boat, boat.texts(TOBIAS, "have it 1")) == [(TOBIAS, "alarm taken")]


def test_a_second_person_who_wants_it_is_told_who_has_it_and_changes_nothing() -> None:
    boat = flooded(small(WATER))
    boat.texts(TOBIAS, "have it")
    turn = boat.texts(INES, "have it 1")
    assert boat.desk.state.telling.calls[WATER.id].holder == TOBIAS
    (text,) = turn.orders
    assert isinstance(text, SendText)
    assert "Tobias" in text.body


@pytest.mark.parametrize("body", ["ok", "seen", "got it", "\U0001f44d"])
def test_a_mere_answer_takes_nothing_and_is_answered_once_for_each_alarm_and_person(body: str) -> None:
    boat = flooded(small(WATER))
    boat.wait(5 * MINUTE)
    assert answered(boat, boat.texts(INES, body)) == [(INES, "not taken")]
    assert answered(boat, boat.texts(INES, body)) == []
    assert answered(boat, boat.texts(TOBIAS, body)) == [(TOBIAS, "not taken")]
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_a_mere_answer_when_somebody_has_it_or_nothing_is_open_gets_no_answer() -> None:
    boat = small(WATER)
    assert answered(boat, boat.texts(INES, "ok")) == []
    flooded(boat)
    boat.texts(TOBIAS, "have it")
    assert answered(boat, boat.texts(INES, "ok")) == []


def test_a_mere_answer_to_an_alarm_that_has_gone_by_itself_gets_no_answer() -> None:
    boat = small(SHORE)
    boat.keeps_reading("shore", "off", 6 * MINUTE)
    boat.keeps_reading("shore", "on", 2 * MINUTE)
    assert boat.state_of("shore") is S.GONE_UNACKNOWLEDGED
    assert answered(boat, boat.texts(INES, "ok")) == []


def test_a_mere_answer_of_somebody_who_was_not_told_gets_no_answer() -> None:
    boat = flooded(small(WATER))
    assert answered(boat, boat.texts(MARINA, "ok")) == []


def three_told() -> Small:
    """Alarms 1 to 3 of one boat were told to Ines; the emergency is 1."""
    hatch = point("hatch", when=IsContact(signal="hatch", wanted=True))
    boat = flooded(small(WATER, SHORE, hatch))
    boat.reads("hatch", "on")
    boat.keeps_reading("shore", "off", 6 * MINUTE)
    assert {alarm.number for alarm in boat.desk.state.standing.by_point.values()} == {1, 2, 3}
    return boat


def not_taken_of(boat: Small, body: str, person: str = INES) -> list[str]:
    """Which alarms the answers to this text are about."""
    before = len(boat.sent)
    boat.texts(person, body)
    return [text.body.partition("NOT taken: alarm ")[2].split()[0].rstrip(",") for text in boat.sent[before:]]


def test_a_number_and_ok_is_answered_of_that_alarm_and_a_bare_ok_of_the_gravest_left() -> None:
    boat = three_told()
    assert not_taken_of(boat, "3 ok") == ["3"]
    assert not_taken_of(boat, "3 ok") == []
    assert not_taken_of(boat, "ok") == ["1"]
    assert not_taken_of(boat, "ok 3") == []
    assert not_taken_of(boat, "grey wagtail seen 2") == ["2"]
    assert not_taken_of(boat, "ok") == []


def test_ok_with_the_number_of_what_somebody_has_or_of_what_is_closed_is_answered_of_nothing_else() -> None:
    boat = three_told()
    boat.texts(TOBIAS, "have it 3")
    boat.reads("hatch", "off")
    boat.texts(TOBIAS, "have it 2")
    assert not_taken_of(boat, "3 ok") == []
    assert not_taken_of(boat, "2 ok") == []
    assert not_taken_of(boat, "ok") == ["1"]


def test_ok_with_a_number_that_no_alarm_has_counts_as_ok_alone() -> None:
    assert not_taken_of(three_told(), "9 ok") == ["1"]


def test_ok_with_the_number_of_an_alarm_is_answered_also_to_whoever_was_not_told_of_it() -> None:
    boat = flooded(small(WATER))
    assert not_taken_of(boat, "1 ok", MARINA) == ["1"]


def test_checked_resets_a_latched_alarm_that_somebody_has_and_that_is_clear() -> None:
    boat = flooded(small(WATER))
    boat.texts(INES, "have it")
    assert answered(boat, boat.texts(INES, "checked")) == [(INES, "alarm answer")]
    assert boat.state_of("water") is S.ACKNOWLEDGED
    dried(boat)
    assert boat.state_of("water") is S.LATCHED_ACKNOWLEDGED
    assert answered(boat, boat.texts(INES, "checked")) == [(INES, "alarm reset")]
    assert boat.state_of("water") is S.NORMAL
    assert boat.desk.state.telling.calls == {}


def test_checked_before_anybody_has_it_is_refused_and_kept_as_refused() -> None:
    boat = dried(flooded(small(WATER)))
    turn = boat.texts(INES, "checked")
    assert boat.state_of("water") is S.LATCHED_UNACKNOWLEDGED
    (step,) = [w.entry.body for w in turn.entries if w.entry.kind == "alarm-step"]
    assert (step["event"], step["before"] == step["after"]) == ("reset", True)


def test_the_number_of_a_closed_alarm_is_answered_so_and_does_nothing() -> None:
    boat = dried(flooded(small(WATER)))
    boat.texts(INES, "have it")
    boat.texts(INES, "checked")
    flooded(boat)
    turn = boat.texts(INES, "have it 1")
    assert answered(boat, turn) == [(INES, "alarm answer")]
    assert boat.desk.state.standing.by_point[WATER.id].number == 2
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_with_several_alarms_open_none_is_guessed() -> None:
    boat = flooded(small(WATER, SHORE))
    boat.keeps_reading("shore", "off", 6 * MINUTE)
    turn = boat.texts(INES, "have it")
    assert answered(boat, turn) == [(INES, "alarm answer")]
    (text,) = turn.orders
    assert isinstance(text, SendText)
    assert {"1", "2"} <= set(text.body.replace(",", " ").replace(".", " ").split())
    assert {boat.state_of("water"), boat.state_of("shore")} == {S.UNACKNOWLEDGED}
    boat.texts(INES, "have it 1")
    assert answered(boat, boat.texts(INES, "have it"))[0] == (INES, "alarm taken"), "now only one is free"


def test_with_alarms_open_on_two_boats_a_bare_have_it_takes_none_even_when_only_one_is_free() -> None:
    boat = small(WATER)
    bundle = with_salt_harrier(bundle_of(WATER), TOBIAS)
    other = replace(WATER, id="salt-harrier/water", boat="salt-harrier")
    signal = bundle.signals[f"{BOAT}/water"]
    hers = replace(signal, id="salt-harrier/water", boat="salt-harrier")
    boat.uses(replace(bundle, points={**bundle.points, other.id: other}, signals={**bundle.signals, hers.id: hers}))
    flooded(boat)
    boat.take(ReadingsCame(readings=(Reading(signal=hers.id, grade=Grade.CONTACT, text="on"),)))
    boat.wait(WATER_DELAY)
    boat.texts(TOBIAS, "have it 2")
    turn = boat.texts(TOBIAS, "mine")
    assert answered(boat, turn) == [(TOBIAS, "alarm answer")]
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_an_alarm_of_a_boat_that_is_no_matter_of_the_senders_cannot_be_taken() -> None:
    bundle = with_salt_harrier(bundle_of(WATER), TOBIAS)
    elsewhere = replace(bundle.people[TOBIAS], boats=("salt-harrier",))
    boat = small(WATER)
    boat.uses(replace(bundle, people={**bundle.people, TOBIAS: elsewhere}))
    flooded(boat)
    boat.texts(TOBIAS, "have it 1")
    assert boat.state_of("water") is S.UNACKNOWLEDGED


# ---------------------------------------------------------------- visits, and how old a text may be


def test_visit_and_visit_over_say_who_is_aboard() -> None:
    boat = small(WATER)
    boat.texts(TOBIAS, "visit")
    begun = boat.now
    assert boat.desk.state.standing.occupancy(BOAT) == Occupied(begun, "text", TOBIAS)
    boat.texts(TOBIAS, "visit over", age=5 * MINUTE)
    assert boat.desk.state.standing.occupancy(BOAT) is None


def of_two_boats() -> Small:
    boat = small(WATER)
    boat.uses(with_salt_harrier(bundle_of(WATER), TOBIAS, INES))
    seen = PersonSeen(boat="salt-harrier", by=BY_TEXT, at=boat.now, person=TOBIAS)
    apply_fact(boat.desk.state, seen, boat.now, ())
    return boat


def test_visit_over_for_a_boat_without_ones_visit_names_the_boat_where_it_stands() -> None:
    boat = of_two_boats()
    boat.texts(TOBIAS, "grey wagtail visit over")
    body = boat.sent[-1].body
    assert "no visit of yours stood here" in body
    assert "SALT HARRIER since 03:00 still stands" in body
    assert boat.desk.state.standing.occupancy("salt-harrier") is not None, "never guessed"


def test_whose_visit_stands_elsewhere_is_told_to_nobody_else() -> None:
    boat = of_two_boats()
    boat.texts(INES, "grey wagtail visit over")
    assert "SALT HARRIER" not in boat.sent[-1].body


def test_visit_over_without_a_name_asks_with_the_visited_boat_first() -> None:
    boat = of_two_boats()
    boat.texts(TOBIAS, "visit over")
    assert "SALT HARRIER VISIT OVER" in boat.sent[-1].body
    assert boat.desk.state.standing.occupancy("salt-harrier") is not None


@pytest.mark.parametrize("age", [5 * MINUTE + 1, None])
def test_a_text_older_than_5_min_or_of_unknown_age_ends_no_visit(age: int | None) -> None:
    boat = small(WATER)
    boat.texts(TOBIAS, "visit over", age=age)
    assert boat.desk.state.standing.occupancy(BOAT) is not None


def test_a_visit_begins_by_a_text_of_any_age_because_that_is_the_safe_side() -> None:
    boat = small(WATER)
    boat.texts(TOBIAS, "visit over")
    boat.texts(INES, "visit", age=None)
    assert boat.desk.state.standing.occupancy(BOAT) is not None


def lit() -> Small:
    """The whole starter, which has lights to switch."""
    whole = starter_bundle()
    boat = small(WATER)
    boat.uses(whole)
    return boat


@pytest.mark.parametrize("age", [5 * MINUTE + 1, None])
def test_a_text_older_than_5_min_or_of_unknown_age_asks_for_no_switch(age: int | None) -> None:
    boat = lit()
    boat.texts(INES, "deck lights on", age=age)
    assert not boat.desk.state.requests.open


def test_no_text_of_a_stranger_or_of_one_without_rights_switches_or_opens_anything() -> None:
    boat = lit()
    for who in (STRANGER, MARINA, RUTH):
        for body in ("generator start", "deck lights on", "go teapot marble", "have it", "checked", "visit over"):
            turn = boat.texts(who, body)
            assert not any(isinstance(order, PublishCommand) for order in turn.orders)
    assert not boat.desk.state.requests.open


def test_which_boat_is_asked_of_a_person_with_several_and_never_guessed() -> None:
    boat = small(WATER)
    boat.uses(with_salt_harrier(bundle_of(WATER), TOBIAS))
    assert answered(boat, boat.texts(TOBIAS, "visit")) == [(TOBIAS, "which boat")]
    assert answered(boat, boat.texts(TOBIAS, "visit over")) == [(TOBIAS, "which boat")]
    assert answered(boat, boat.texts(TOBIAS, "wagtail status")) == [(TOBIAS, "status")]


def test_status_without_a_boat_is_answered_over_all_boats_of_the_person_the_worst_first() -> None:
    boat = small(WATER)
    boat.uses(with_salt_harrier(bundle_of(WATER), TOBIAS))
    flooded(boat)
    assert answered(boat, boat.texts(TOBIAS, "status")) == [(TOBIAS, "status of all boats")]
    body = boat.sent[-1].body
    assert "2 boats: GREY WAGTAIL 1 WATER; SALT HARRIER never heard" in body
    assert body.endswith("For the values text a boat's name and STATUS")


def test_nobody_is_offered_a_phrase_that_is_of_no_use_to_him() -> None:
    boat = lit()
    boat.texts(INES, "deck lights onn")
    assert "DECK LIGHTS ON or DECK LIGHTS OFF" in boat.sent[-1].body
    boat.texts(INES, "unshelv 14")
    assert "SHELVE" not in boat.sent[-1].body
    for body in ("deck lights onn", "awya"):
        boat.texts(MARINA, body)
        assert "Did you mean" not in boat.sent[-1].body


def test_alarms_and_phrases_without_a_boat_are_answered_over_all_boats_of_the_person() -> None:
    boat = small(WATER)
    boat.uses(with_salt_harrier(bundle_of(WATER), TOBIAS))
    flooded(boat)
    turn = boat.texts(TOBIAS, "alarms")
    assert answered(boat, turn) == [(TOBIAS, "alarms")]
    assert boat.sent[-1].body.startswith("Open: GREY WAGTAIL 1 WATER since ")
    assert ("text-queued", "installation") in [(w.entry.kind, w.entry.chain) for w in turn.entries]
    assert BOAT in {w.entry.chain for w in turn.entries}, "and the boat's own chain refers to it"
    assert answered(boat, boat.texts(TOBIAS, "phrases")) == [(TOBIAS, "phrases")]
    assert "With a boat's name in front" in boat.sent[-1].body


def test_alarms_without_a_boat_tell_of_no_boat_that_is_not_the_persons() -> None:
    boat = small(WATER)
    bundle = with_salt_harrier(bundle_of(WATER), TOBIAS)
    stint = replace(bundle.boats[BOAT], key="little-stint", name="LITTLE STINT", short_name="stint")
    tobias = replace(bundle.people[TOBIAS], boats=("salt-harrier", "little-stint"))
    people = {**bundle.people, TOBIAS: tobias}
    boat.uses(replace(bundle, boats={**bundle.boats, stint.key: stint}, people=people))
    flooded(boat)
    boat.texts(TOBIAS, "alarms")
    assert boat.sent[-1].body.startswith("No alarm is open on your 2 boats")


def test_the_example_beside_which_boat_has_a_boat_s_name_before_it() -> None:
    boat = small(WATER)
    boat.uses(with_salt_harrier(bundle_of(WATER), TOBIAS))
    boat.texts(TOBIAS, "visit over")
    assert any("as in GREY WAGTAIL VISIT OVER: GREY WAGTAIL, SALT HARRIER" in text.body for text in boat.sent)


# ---------------------------------------------------------------- not understood


def test_at_most_4_texts_that_were_not_understood_are_answered_in_10_min() -> None:
    boat = small(WATER)
    for _ in range(10):
        boat.texts(INES, "please feed the parrot")
    assert [what for _, what, _ in boat.told()] == ["not understood"] * 4
    boat.wait(10 * MINUTE)
    assert answered(boat, boat.texts(INES, "please feed the parrot")) == [(INES, "not understood")]


def test_the_limit_on_answers_is_each_persons_own_and_touches_no_alarm_and_no_question() -> None:
    boat = small(WATER)
    for _ in range(10):
        boat.texts(INES, "please feed the parrot")
    assert answered(boat, boat.texts(TOBIAS, "please feed the parrot")) == [(TOBIAS, "not understood")]
    assert answered(boat, boat.texts(INES, "status")) == [(INES, "status")]
    before = len(boat.turns)
    flooded(boat)
    assert [(who, what) for who, what, _ in boat.told(before)] == [(INES, "alarm told")]


@pytest.mark.parametrize("body", ["", "x" * 1600, "\ud83d", "don't start the generator", "generator start?"])
def test_a_text_that_is_not_exactly_understood_does_nothing_but_stand_in_the_record(body: str) -> None:
    boat = lit()
    turn = boat.texts(INES, body)
    assert boat.kinds(turn)[0] == "text-received"
    assert not boat.desk.state.requests.open
    assert not any(isinstance(order, PublishCommand) for order in turn.orders)


def test_what_a_text_says_and_the_number_stand_in_the_sealed_part_alone() -> None:
    boat = small(WATER)
    turn = boat.texts(INES, "visit over tomorrow perhaps")
    (received,) = [w for w in turn.entries if w.entry.kind == "text-received"]
    assert received.parts[0] is not None
    assert received.parts[0].content == {"number": "+447700900123", "body": "visit over tomorrow perhaps"}
    assert b"tomorrow" not in received.data
    assert b"7700900123" not in b"".join(w.data for w in turn.entries)


# ---------------------------------------------------------------- strangers, opting out


def test_a_stranger_gets_no_answer_and_the_installer_hears_of_it_at_most_once_an_hour() -> None:
    boat = small(WATER)
    first = boat.now
    assert answered(boat, boat.texts(STRANGER, "have it")) == [(RUTH, "stranger wrote")]
    for _ in range(5):
        boat.wait(10 * MINUTE)
        assert answered(boat, boat.texts(STRANGER, "status")) == []
    boat.wait(first + HOUR - boat.now)
    turn = boat.texts("+447700900998", "hello")
    assert answered(boat, turn) == [(RUTH, "stranger wrote")]
    (told,) = [w.entry.body for w in turn.entries if w.entry.kind == "strangers-told"]
    assert told["count"] == 6
    assert STRANGER not in {order.number for order in boat.sent}


def test_chk_43_a_strangers_order_or_code_is_told_to_the_owner_too_each_once_an_hour() -> None:
    """Handbook 5.5, CHK-43: no answer and no hint, owner and installer told once an hour at most."""
    boat = small(WATER)
    assert answered(boat, boat.texts(STRANGER, "hello")) == [(RUTH, "stranger wrote")]
    for body in ("go teapot marble", "drop teapot marble", "prove teapot marble", "generator start"):
        told = [] if body != "go teapot marble" else [(INES, "stranger wrote")]
        assert answered(boat, boat.texts(STRANGER, body)) == told, body
    boat.wait(HOUR)
    assert answered(boat, boat.texts(STRANGER, "generator start")) == [
        (INES, "stranger wrote"),
        (RUTH, "stranger wrote"),
    ]
    assert not any(order.number == STRANGER for order in boat.sent)
    assert not boat.desk.state.requests.tries
    assert boat.rebuilt() == boat.bytes()


def asleep(boat: Small, person: str) -> None:
    """This person has quiet hours now, for eight hours from the last full hour on."""
    bundle = boat.desk.bundle
    known = bundle.people[person]
    hour = as_utc(boat.now).astimezone(known.zone).hour
    quiet = replace(known, quiet=QuietHours(begins=hour * 60, ends=(hour + 8) % 24 * 60))
    boat.uses(replace(bundle, people={**bundle.people, person: quiet}))


def test_what_a_stranger_writes_by_night_is_told_once_when_quiet_hours_end() -> None:
    boat = small(WATER)
    asleep(boat, RUTH)
    for _ in range(3):
        assert answered(boat, boat.texts(STRANGER, "who are you")) == []
        boat.wait(HOUR)
    before = len(boat.sent)
    boat.wait(5 * HOUR)
    told = [order for order in boat.sent[before:] if "no list" in order.body]
    assert [order.number for order in told] == [boat.desk.bundle.people[RUTH].number]
    assert "3 texts came in your quiet hours" in told[0].body
    assert STRANGER not in told[0].body
    boat.wait(DAY)
    assert [order for order in boat.sent[before:] if "no list" in order.body] == told
    assert boat.rebuilt() == boat.bytes()


@pytest.mark.parametrize("body", ["go teapot marble", "generator start"])
def test_a_strangers_order_or_code_wakes_owner_and_installer_at_any_hour(body: str) -> None:
    boat = small(WATER)
    asleep(boat, RUTH)
    asleep(boat, INES)
    assert answered(boat, boat.texts(STRANGER, body)) == [(INES, "stranger wrote"), (RUTH, "stranger wrote")]


def test_an_order_of_a_stranger_is_told_to_the_owner_of_the_boat_that_it_names_alone() -> None:
    boat = small(WATER)
    boat.uses(with_salt_harrier(boat.desk.bundle, TOBIAS, RUTH))
    assert answered(boat, boat.texts(STRANGER, "go teapot marble")) == [(RUTH, "stranger wrote")], "of no boat's code"
    assert answered(boat, boat.texts(STRANGER, "grey wagtail generator start")) == [(INES, "stranger wrote")]


def test_the_number_of_a_stranger_is_told_masked() -> None:
    boat = small(WATER)
    boat.texts(STRANGER, "status")
    assert all("900999" not in order.body for order in boat.sent)


def test_a_bare_opt_out_word_is_noticed_told_to_the_others_once_and_never_answered() -> None:
    boat = small(WATER)
    turn = boat.texts(INES, "STOP")
    assert {who for who, what in answered(boat, turn) if what == "opt-out seen"} == {TOBIAS, RUTH}
    assert INES not in {who for who, _ in answered(boat, turn)}
    assert answered(boat, boat.texts(INES, "stop")) == []
    assert INES in boat.desk.state.telling.opted_out
    assert answered(boat, boat.texts(INES, "START")) == [(INES, "test text")]
    assert INES in boat.desk.state.telling.opted_out, "only a text that has arrived ends it"


def test_the_carriers_word_that_somebody_has_opted_out_is_noticed_like_a_text() -> None:
    boat = flooded(small(WATER))
    turn = boat.refuses(boat.sent[0], code="21610")
    assert {who for who, what in answered(boat, turn) if what == "opt-out seen"} == {TOBIAS, RUTH}
    assert INES in boat.desk.state.telling.opted_out


def test_a_refused_text_is_told_to_those_who_can_help_once_until_one_gets_through() -> None:
    boat = flooded(small(WATER))
    assert {who for who, what in answered(boat, boat.refuses(boat.sent[0])) if what == "not reached"} == {TOBIAS, RUTH}
    boat.texts(INES, "status")
    last = boat.sent[-1]
    assert last.person == INES
    assert "not reached" not in [what for _, what in answered(boat, boat.refuses(last))]


def test_a_refused_word_of_a_refusal_makes_no_further_word() -> None:
    boat = flooded(small(WATER))
    boat.refuses(boat.sent[0])
    (word,) = [order for order in boat.sent if order.person == RUTH]
    assert answered(boat, boat.refuses(word)) == []


def test_the_time_of_the_scenario_is_that_of_the_boat() -> None:
    boat = flooded(small(WATER))
    assert "03:00" in boat.sent[0].body
    assert boat.sent[0].valid_for == 10 * MINUTE
    assert BEGAN % SECOND == 0
