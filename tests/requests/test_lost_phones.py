"""A phone that is reported lost commands nothing; nobody is left without anybody who may command."""

from dataclasses import replace

import pytest

from gateway.people.settings import Person, Right, Role
from gateway.requests.answers import Answer, CautionAndCode, CodeAnswer, CodeTrouble, NotDone, Rule
from gateway.requests.lost_phones import report_lost
from gateway.requests.number_answers import CannotReport, PhoneLostTold, PhoneNotTaken, ProveFirst
from gateway.requests.number_facts import NumberUnproved, Unproved
from gateway.requests.proving_numbers import numbers_in_files
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from tests.requests.fake_world import BOAT, INES, LIGHTS, MARINA, PEOPLE, RUTH, TOBIAS, Room, person, room


def reports(one: Room, by: Person, lost: Person | None) -> tuple[Answer, ...]:
    return one.take(report_lost(one.state, by, lost, one.people))


def refused(answers: tuple[Answer, ...]) -> CannotReport:
    (answer,) = answers
    assert isinstance(answer, PhoneNotTaken)
    return answer.cannot


def rule(answer: Answer) -> Rule:
    assert isinstance(answer, NotDone), answer
    (objection,) = answer.objections
    return objection.rule


def test_a_lost_phone_starts_and_stops_nothing_and_the_others_go_on() -> None:
    one = room()
    reports(one, INES, TOBIAS)
    for action in LIGHTS.pair:
        assert rule(one.ask(LIGHTS, action, who=TOBIAS)) is Rule.LOST
    assert isinstance(one.ask(LIGHTS, "on", who=INES), CautionAndCode)


def test_both_are_told_and_so_are_owner_and_installer_once_each() -> None:
    one = room()
    answers = reports(one, MARINA, TOBIAS)
    assert all(isinstance(answer, PhoneLostTold) for answer in answers)
    assert [answer.person for answer in answers] == [MARINA.id, TOBIAS.id, INES.id, RUTH.id]
    assert one.facts[-1] == NumberUnproved(person=TOBIAS.id, because=Unproved.LOST, reported_by=MARINA.id)


def test_a_code_that_is_open_is_void_at_once() -> None:
    one = room()
    code = one.ask(LIGHTS, "on", who=TOBIAS)
    assert isinstance(code, CautionAndCode)
    reports(one, INES, TOBIAS)
    for answers in (one.go(code.words, who=TOBIAS), one.drop(code.words, who=TOBIAS)):
        (answer,) = answers
        assert isinstance(answer, CodeAnswer)
        assert answer.trouble is CodeTrouble.LOST
    assert one.orders == []
    assert not one.state.open_code()


def test_words_of_a_proof_give_nothing_back() -> None:
    one = room()
    one.state.numbers.proved.clear()
    asked = one.ask(LIGHTS, "on", who=TOBIAS)
    assert isinstance(asked, ProveFirst)
    reports(one, INES, TOBIAS)
    one.prove(asked.words, who=TOBIAS)
    assert rule(one.ask(LIGHTS, "on", who=TOBIAS)) is Rule.LOST


def test_what_is_due_to_stop_is_stopped_all_the_same() -> None:
    one = room()
    code = one.ask(LIGHTS, "on", minutes=30, who=TOBIAS)
    assert isinstance(code, CautionAndCode)
    one.go(code.words, who=TOBIAS)
    one.wait(SECOND)
    one.report(deck_lights_running="on")
    reports(one, INES, TOBIAS)
    before = len(one.orders)
    one.wait(30 * MINUTE + SECOND)
    assert len(one.orders) > before


def test_a_phone_that_is_reported_lost_reports_no_other() -> None:
    one = room()
    reports(one, INES, TOBIAS)
    assert refused(reports(one, TOBIAS, INES)) is CannotReport.LOST_ITSELF
    assert isinstance(one.ask(LIGHTS, "on", who=INES), CautionAndCode)


def test_the_last_who_may_command_a_boat_stays() -> None:
    one = room()
    one.people[RUTH.id] = replace(RUTH, rights=())
    reports(one, INES, TOBIAS)
    answers = reports(one, RUTH, INES)
    assert refused(answers) is CannotReport.LAST
    assert isinstance(one.ask(LIGHTS, "on", who=INES), CautionAndCode)


def test_the_last_of_one_boat_stays_although_others_command_another_one() -> None:
    one = room()
    both = person("both", Role.CARETAKER, boats=(BOAT, "salt-harrier"))
    one.people[both.id] = both
    (answer,) = reports(one, INES, both)
    assert isinstance(answer, PhoneNotTaken)
    assert (answer.cannot, answer.boat) == (CannotReport.LAST, "salt-harrier")
    one.people["edda"] = replace(
        person("edda", Role.OWNER, boats=("salt-harrier",)),
        rights=(Right(boat="salt-harrier", equipment="lights", actions=("off",)),),
    )
    assert isinstance(reports(one, INES, both)[0], PhoneLostTold)


def test_ones_own_phone_can_be_reported_and_nobodys_twice() -> None:
    one = room()
    assert [answer.person for answer in reports(one, TOBIAS, TOBIAS)] == [TOBIAS.id, INES.id, RUTH.id]
    assert refused(reports(one, INES, TOBIAS)) is CannotReport.ALREADY


@pytest.mark.parametrize("lost", [None, person("edda", Role.OWNER, boats=("salt-harrier",))])
def test_of_a_phone_that_is_no_matter_of_ones_own_boats_nothing_is_said(lost: Person | None) -> None:
    (answer,) = reports(room(), INES, lost)
    assert isinstance(answer, PhoneNotTaken)
    assert (answer.cannot, answer.who) == (CannotReport.UNKNOWN, None)


def test_a_phone_without_rights_has_none_to_lose() -> None:
    assert refused(reports(room(), INES, MARINA)) is CannotReport.NO_RIGHTS


# ---------------------------------------------------------------- and back


def vouched(one: Room, at: Ms, renumbered: tuple[str, ...] = ()) -> None:
    people = {**PEOPLE, TOBIAS.id: replace(TOBIAS, proved=at, proved_by=RUTH.key)}
    one.take(numbers_in_files(one.state, people, renumbered, one.world.now))


@pytest.mark.parametrize(("after", "back"), [(-1, False), (0, False), (1, True)])
def test_an_installers_word_after_the_report_gives_the_commands_back(after: Ms, back: bool) -> None:
    one = room()
    reports(one, INES, TOBIAS)
    reported = one.world.now
    one.wait(HOUR)
    vouched(one, reported + after)
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), CautionAndCode) is back


def test_another_number_is_not_lost_but_must_be_proved() -> None:
    one = room()
    reports(one, INES, TOBIAS)
    one.take(numbers_in_files(one.state, PEOPLE, (TOBIAS.id,), one.world.now))
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), ProveFirst)


def test_time_alone_gives_nothing_back() -> None:
    one = room()
    reports(one, INES, TOBIAS)
    one.wait(300 * DAY)
    assert rule(one.ask(LIGHTS, "on", who=TOBIAS)) is Rule.LOST
