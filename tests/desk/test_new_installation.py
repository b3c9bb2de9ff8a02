"""A new installation while alarms stand: what is gone is closed, what stays goes on."""

from dataclasses import replace

from gateway.alarms.life import AlarmState
from gateway.desk.folding import rebuilt
from gateway.desk.snapshots import state_bytes
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from grammar.meanings import IsContact
from tests.desk.small_boat import BOAT, INES, MARINA, SHORE, TOBIAS, WATER, WATER_DELAY, Small, bundle_of, small

S = AlarmState


def flooded(boat: Small) -> Small:
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    return boat


def test_the_alarm_of_a_point_that_is_gone_is_closed_with_that_reason_and_called_out_no_more() -> None:
    boat = flooded(small(WATER, SHORE))
    turn = boat.uses(bundle_of(SHORE))
    (given_up,) = [w.entry for w in turn.entries if w.entry.kind == "alarm-given-up"]
    assert (given_up.body["number"], given_up.chain) == (1, BOAT)
    assert "no longer in the installation" in str(given_up.body["because"])
    assert boat.desk.state.standing.by_point == {}
    told = len(boat.sent)
    boat.wait(HOUR)
    assert len(boat.sent) == told
    assert boat.desk.next_due() is None


def test_between_the_new_files_and_the_word_of_them_nothing_that_is_gone_falls_over() -> None:
    boat = flooded(small(WATER, SHORE))
    boat.reads("shore", "off")
    boat.desk.use(bundle_of(SHORE))
    assert boat.desk.next_due() == boat.now + 5 * MINUTE or boat.desk.next_due() is None
    boat.now += HOUR
    boat.uses(bundle_of(SHORE))


def test_an_alarm_whose_point_stays_keeps_its_number_and_its_calling_out() -> None:
    boat = flooded(small(WATER, SHORE))
    boat.uses(bundle_of(replace(WATER, name="Bilge")))
    boat.wait(8 * MINUTE)
    assert boat.desk.state.standing.by_point[WATER.id].number == 1
    assert [who for who, what, _ in boat.told() if what == "alarm told"] == [INES, TOBIAS, MARINA]


def test_a_delay_that_the_newest_value_no_longer_meets_ends_with_the_old_files() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    other_way = replace(WATER, when=IsContact(signal="water", wanted=False, lasting=WATER_DELAY), clears=None)
    turn = boat.uses(bundle_of(other_way))
    (ended,) = [w.entry.body for w in turn.entries if w.entry.kind == "condition-ended"]
    assert ended["because"] == "the installation was changed"
    boat.wait(HOUR)
    assert boat.desk.state.standing.by_point == {}


def test_a_delay_whose_point_is_gone_ends_and_one_that_is_still_met_goes_on() -> None:
    boat = small(WATER, SHORE)
    boat.reads("water", "on")
    boat.reads("shore", "off")
    boat.uses(bundle_of(WATER))
    assert list(boat.desk.state.held.since) == [f"{WATER.id} when"]
    boat.wait(WATER_DELAY)
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_a_shorter_delay_that_is_already_over_raises_as_soon_as_the_desk_is_woken() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(10 * SECOND)
    boat.uses(bundle_of(replace(WATER, when=IsContact(signal="water", wanted=True, lasting=5 * SECOND))))
    boat.wait(SECOND)
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_who_is_no_longer_in_the_installation_holds_nothing_and_the_calling_out_begins_again() -> None:
    boat = flooded(small(WATER))
    boat.texts(TOBIAS, "have it")
    without = bundle_of(WATER)
    without = replace(without, people={key: one for key, one in without.people.items() if key != TOBIAS})
    before = len(boat.turns)
    boat.uses(without)
    boat.wait(8 * MINUTE)
    assert boat.state_of("water") is S.UNACKNOWLEDGED
    assert [who for who, what, _ in boat.told(before) if what == "alarm told"] == [INES, MARINA]


def test_a_holder_who_stays_goes_on_holding() -> None:
    boat = flooded(small(WATER))
    boat.texts(TOBIAS, "have it")
    before = len(boat.turns)
    boat.uses(bundle_of(WATER))
    boat.wait(HOUR)
    assert boat.told(before) == []


def test_the_names_and_numbers_of_the_people_stand_in_sealed_parts_alone() -> None:
    boat = small(WATER)
    turn = boat.uses(bundle_of(WATER))
    (used,) = [w for w in turn.entries if w.entry.kind == "installation-used"]
    assert len(used.parts) == 4
    assert b"Marlow" not in used.data
    assert b"7700" not in used.data


def test_a_change_of_installation_folds_like_anything_else() -> None:
    boat = flooded(small(WATER, SHORE))
    boat.reads("shore", "off")
    boat.uses(bundle_of(SHORE))
    rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
    assert state_bytes(rebuilt(bundle_of(SHORE), None, boat.entries, rows).state) == boat.bytes()
