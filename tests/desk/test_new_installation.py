"""A new installation while alarms stand: what is gone is closed, what stays goes on."""

from dataclasses import replace

import pytest

from gateway.alarms.life import AlarmState
from gateway.desk.facts import InstallationUsed
from gateway.desk.folding import rebuilt
from gateway.desk.snapshots import state_bytes
from gateway.requests.facts import PersonLocked
from gateway.vocabulary.facts import fact_of
from gateway.vocabulary.happenings import InstallationCame
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from grammar.meanings import IsContact
from tests.desk.small_boat import (
    BEGAN,
    BOAT,
    INES,
    MARINA,
    RUTH,
    SHORE,
    TOBIAS,
    WATER,
    WATER_DELAY,
    Small,
    bundle_of,
    small,
)

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


def locked_for_good(proved: Ms | None) -> Small:
    """A desk that has locked Tobias without end at the small boat's `now`, then gets files that say he was proved."""
    boat = small(WATER)
    boat.desk.state.requests.apply(PersonLocked(person=TOBIAS, until=None, wrong=20), boat.now, ())
    boat.wait(HOUR)
    bundle = bundle_of(WATER)
    tobias = replace(bundle.people[TOBIAS], proved=None if proved is None else boat.now + proved, proved_by="ruth")
    turn = boat.uses(replace(bundle, people={**bundle.people, TOBIAS: tobias}))
    lifted = [w.entry.body for w in turn.entries if w.entry.kind == "commands-unlocked"]
    assert lifted in ([], [{"person": TOBIAS, "by": RUTH}])
    assert boat.desk.state.requests.locked(TOBIAS, boat.now) is (lifted == [])
    return boat


def test_an_installers_proof_after_the_lock_gives_the_commands_back_and_says_by_whom() -> None:
    assert not locked_for_good(-30 * MINUTE).desk.state.requests.locked(TOBIAS, BEGAN + DAY)


@pytest.mark.parametrize("proved", [None, -2 * HOUR, MINUTE], ids=["never", "before the lock", "in the future"])
def test_no_other_proof_lifts_a_lock(proved: Ms | None) -> None:
    assert locked_for_good(proved).desk.state.requests.locked(TOBIAS, BEGAN + 300 * DAY)


def test_an_entry_of_the_first_version_said_of_nobody_that_the_number_had_changed() -> None:
    read = fact_of(InstallationUsed, 1, {"fingerprint": "f", "people": [INES]})
    assert read == InstallationUsed(fingerprint="f", people=(INES,), renumbered=(), greets=False)


def test_another_number_in_the_files_must_be_proved_again() -> None:
    boat = small(WATER)
    assert boat.desk.state.requests.numbers.is_proved(TOBIAS), "by the installer's word in the starter"
    boat.take(InstallationCame(fingerprint="f" * 64, people=tuple(boat.desk.bundle.people), renumbered=(TOBIAS,)))
    assert not boat.desk.state.requests.numbers.is_proved(TOBIAS)
    assert boat.desk.state.requests.numbers.is_proved(INES)
    assert boat.rebuilt() == boat.bytes()


def test_a_number_that_was_silent_for_sixty_days_is_unproved_by_its_next_text() -> None:
    boat = small(WATER)
    boat.texts(INES, "status")
    boat.now += 60 * DAY - MINUTE
    boat.texts(TOBIAS, "status")
    assert boat.kinds(boat.texts(INES, "status"))[:2] == ["text-received", "text-queued"]
    assert not boat.desk.state.requests.numbers.is_proved(TOBIAS), "proved before the first day, and never heard"
    assert boat.rebuilt() == boat.bytes()
