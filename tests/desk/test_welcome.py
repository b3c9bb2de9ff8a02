"""Whoever is new gets one text that says what comes and what STOP does; without a consent it waits for one."""

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from gateway.desk.applying import apply_fact
from gateway.desk.bundle import Bundle
from gateway.desk.facts import InstallationUsed
from gateway.desk.hub import Desk
from gateway.desk.state import State
from gateway.desk.welcoming import GIVEN_UP, NO_CONSENT
from gateway.people.settings import Person
from gateway.telling.outcomes import NO_ANSWER, OPTED_OUT
from gateway.vocabulary.facts import fact_of
from gateway.vocabulary.happenings import (
    DeliveryReported,
    InstallationCame,
    LinkChanged,
    SendAnswered,
    Started,
    WallClockStepped,
)
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms, from_rfc3339
from gateway.vocabulary.orders import SendText
from tests.desk.small_boat import (
    BEGAN,
    BOAT,
    INES,
    MARINA,
    RUTH,
    SHORE,
    TOBIAS,
    Small,
    bundle_of,
    small,
    starter_bundle,
)

NEW = "id-hanno"


def newcomer(consent: str = "2026-03-01, by word, asked by Ruth Okell") -> Person:
    known = starter_bundle().people["id-tobias"]
    return replace(
        known, id=NEW, key="hanno", name="Hanno Brack", number="+447700900345", boats=(BOAT,), consent=consent
    )


def with_new(fingerprint: str, person: Person) -> Bundle:
    bundle = bundle_of(SHORE)
    return replace(bundle, fingerprint=fingerprint, people={**bundle.people, person.id: person})


MORNING = from_rfc3339("2026-03-01T09:00:00Z")


def of_first_files(*changed: Person) -> Small:
    """A desk that has just started for the first time, at 03:00, with people who have all agreed."""
    whole = bundle_of(SHORE)
    people = {key: replace(one, consent="2026-03-01, in writing") for key, one in whole.people.items()}
    boat = Small(Desk(replace(whole, people={**people, **{one.id: one for one in changed}})), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=whole.fingerprint, people=tuple(people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def welcomed(boat: Small) -> list[str]:
    return [text.body for text in boat.sent if text.person == NEW]


def by_day(boat: Small, at: Ms = MORNING) -> None:
    """Wait until then."""
    boat.wait(at - boat.now)


def test_who_is_new_is_told_once_which_boat_what_comes_and_what_stop_does() -> None:
    boat = small(SHORE)
    boat.uses(with_new("b" * 64, newcomer()))
    by_day(boat)
    (body,) = welcomed(boat)
    for said in ("GREY WAGTAIL", "alarms", "HAVE IT", "STOP ends ALL texts"):
        assert said in body
    boat.uses(with_new("c" * 64, newcomer()))
    boat.restarts()
    boat.wait(2 * DAY)
    assert len(welcomed(boat)) == 1
    assert boat.rebuilt() == boat.bytes()


def test_everybody_of_the_first_files_gets_it_once_and_by_day_only() -> None:
    boat = of_first_files()
    by_day(boat, MORNING - 1)
    assert boat.sent == []
    by_day(boat)
    assert sorted(boat.told()) == sorted((who, "welcome", MORNING - BEGAN) for who in (INES, TOBIAS, RUTH, MARINA))
    boat.restarts()
    boat.uses(replace(boat.desk.bundle, fingerprint="b" * 64))
    boat.wait(2 * DAY)
    assert len(boat.sent) == 4
    assert boat.rebuilt() == boat.bytes()


def test_it_goes_by_day_of_the_persons_own_zone() -> None:
    far = replace(starter_bundle().people[INES], zone=ZoneInfo("Australia/Sydney"), boats=(BOAT,))
    boat = of_first_files(far)  # 14:00 in Sydney
    assert [text.person for text in boat.sent] == [INES]


@pytest.mark.parametrize("by", [-4 * HOUR, 4 * HOUR])
def test_it_goes_by_the_day_of_a_clock_that_was_set_right(by: int) -> None:
    boat = of_first_files()
    boat.take(WallClockStepped(by=by))
    by_day(boat, MORNING - by - 1)
    assert boat.sent == [], "it is not 09:00 there"
    by_day(boat, MORNING - by)
    assert len(boat.sent) == 4


def test_whose_consent_is_taken_out_of_the_files_before_the_morning_is_not_told() -> None:
    boat = of_first_files()
    whole = boat.desk.bundle
    people = {**whole.people, INES: replace(whole.people[INES], consent="")}
    boat.uses(replace(whole, fingerprint="b" * 64, people=people))
    by_day(boat)
    assert sorted(text.person for text in boat.sent) == [MARINA, RUTH, TOBIAS]


def test_where_the_gateway_did_not_run_by_day_it_waits_for_the_next_one() -> None:
    boat = of_first_files()
    boat.restarts(after=20 * HOUR)  # 23:00
    assert [one for one in boat.told() if one[1] == "welcome"] == []
    boat.wait(11 * HOUR)
    assert len([one for one in boat.told() if one[1] == "welcome"]) == 4


def test_a_record_from_before_says_that_the_first_people_were_told_by_word_and_they_are_not_told_again() -> None:
    body = {"fingerprint": "f", "people": [INES, TOBIAS], "renumbered": []}
    state = State()
    apply_fact(state, fact_of(InstallationUsed, 2, body), BEGAN, ())
    assert state.telling.welcomes.had == [INES, TOBIAS]
    assert fact_of(InstallationUsed, 1, {"fingerprint": "f", "people": []}).greets is False


def test_another_number_gets_it_once_more_and_is_no_longer_opted_out() -> None:
    boat = of_first_files()
    by_day(boat)
    boat.texts(INES, "stop")
    before, bundle = len(boat.sent), boat.desk.bundle
    ines = replace(bundle.people[INES], number="+447700900345")
    boat.desk.use(replace(bundle, fingerprint="b" * 64, people={**bundle.people, INES: ines}))
    boat.take(InstallationCame(fingerprint="b" * 64, people=tuple(bundle.people), renumbered=(INES,)))
    boat.wait(MINUTE)
    new = boat.sent[before:]
    assert [(one.person, one.number) for one in new] == [(INES, "+447700900345")]
    boat.restarts()
    boat.wait(2 * DAY)
    assert len(boat.sent) == before + 1
    assert boat.rebuilt() == boat.bytes()


def test_without_consent_it_is_held_back_with_the_reason_and_goes_once_there_is_one() -> None:
    boat = small(SHORE)
    turn = boat.uses(with_new("b" * 64, newcomer(consent="")))
    by_day(boat)
    assert welcomed(boat) == []
    held = [w.entry.body for w in turn.entries if w.entry.kind == "held-back" and w.entry.body["person"] == NEW]
    assert [(one["person"], one["about"], one["because"]) for one in held] == [(NEW, "welcome", NO_CONSENT)]
    boat.uses(with_new("c" * 64, newcomer()))
    boat.wait(MINUTE)
    assert len(welcomed(boat)) == 1


def test_it_says_whom_to_ask_where_there_is_room() -> None:
    boat = small(SHORE)
    ruth = boat.desk.bundle.people[RUTH]
    boat.uses(with_new("b" * 64, newcomer()))
    by_day(boat)
    assert welcomed(boat)[0].endswith(f"Ask {ruth.name.split()[0]}")


# ---------------------------------------------------------------- what the carrier does not take, or does not bring


def new_alone() -> Small:
    """A desk with one person who is new and has agreed; it is the morning, and the first text is on its way."""
    boat = small(SHORE)
    boat.uses(with_new("b" * 64, newcomer()))
    by_day(boat)
    assert len(welcomed(boat)) == 1
    return boat


def last(boat: Small) -> SendText:
    return [text for text in boat.sent if text.person == NEW][-1]


def goes_wrong(boat: Small, how: str) -> None:
    """The carrier's words on the newest first text."""
    order = last(boat).id
    word = DeliveryReported(order=order, status="undelivered", code="30003")
    taken = SendAnswered(order=order, accepted=True, message="SM1")
    match how:
        case "not taken within its hour":
            boat.wait(HOUR)
            boat.refuses(last(boat), NO_ANSWER)
        case "refused":
            boat.refuses(last(boat))
        case "did not arrive":
            boat.take(taken)
            boat.take(word)
        case "did not arrive, said before its answer":
            boat.take(word)
            boat.take(taken)


WRONG = ["not taken within its hour", "refused", "did not arrive", "did not arrive, said before its answer"]


@pytest.mark.parametrize("how", WRONG)
def test_one_that_went_wrong_goes_again_the_next_morning_and_three_times_in_all(how: str) -> None:
    boat = new_alone()
    for day in (1, 2):
        goes_wrong(boat, how)
        by_day(boat, MORNING + day * DAY - 1)
        assert len(welcomed(boat)) == day, "not before the next morning"
        by_day(boat, MORNING + day * DAY)
        assert len(welcomed(boat)) == day + 1
    goes_wrong(boat, how)
    turn = boat.turns[-1]
    held = [w.entry.body for w in turn.entries if w.entry.kind == "held-back"]
    assert [(one["person"], one["about"], one["because"]) for one in held] == [(NEW, "welcome", GIVEN_UP)]
    told = {who for who, what, _ in boat.told(len(boat.turns) - 1) if what == "not reached"}
    assert {INES, RUTH} <= told, "somebody is to ring"
    boat.uses(with_new("c" * 64, newcomer()))
    boat.restarts()
    boat.wait(5 * DAY)
    assert len(welcomed(boat)) == 3
    assert boat.rebuilt() == boat.bytes()


@pytest.mark.parametrize("status", ["sent", "delivered"])
def test_one_that_the_carrier_took_goes_once(status: str) -> None:
    boat = new_alone()
    boat.take(SendAnswered(order=last(boat).id, accepted=True, message="SM1"))
    boat.take(DeliveryReported(order=last(boat).id, status=status))
    boat.uses(with_new("c" * 64, newcomer()))
    boat.restarts()
    boat.wait(5 * DAY)
    assert len(welcomed(boat)) == 1
    assert boat.rebuilt() == boat.bytes()


def test_new_files_do_not_bring_the_next_try_forward() -> None:
    boat = new_alone()
    goes_wrong(boat, "refused")
    boat.uses(with_new("c" * 64, newcomer()))
    boat.wait(MINUTE)
    assert len(welcomed(boat)) == 1
    by_day(boat, MORNING + DAY)
    assert len(welcomed(boat)) == 2


def test_while_the_carrier_has_not_answered_new_files_send_no_second_one() -> None:
    boat = new_alone()
    boat.uses(with_new("c" * 64, newcomer()))
    boat.wait(MINUTE)
    assert len(welcomed(boat)) == 1


def test_another_number_begins_the_tries_anew() -> None:
    boat = new_alone()
    for _ in range(2):
        goes_wrong(boat, "refused")
        boat.wait(DAY)
    goes_wrong(boat, "refused")
    boat.desk.use(with_new("c" * 64, replace(newcomer(), number="+447700900346")))
    boat.take(InstallationCame(fingerprint="c" * 64, people=tuple(boat.desk.bundle.people), renumbered=(NEW,)))
    boat.wait(MINUTE)
    assert len(welcomed(boat)) == 4
    assert last(boat).number == "+447700900346"


def test_a_phone_that_has_opted_out_gets_it_once_texts_arrive_there_again() -> None:
    boat = new_alone()
    boat.refuses(last(boat), OPTED_OUT)
    assert boat.desk.state.regular.welcomes == {}, "nothing is planned for a phone that takes nothing"
    boat.wait(2 * DAY)
    assert len(welcomed(boat)) == 1
    boat.texts(newcomer().number, "START")
    trial = last(boat)
    boat.take(SendAnswered(order=trial.id, accepted=True, message="SM2"))
    boat.take(DeliveryReported(order=trial.id, status="delivered"))
    boat.wait(MINUTE)
    assert last(boat).body == welcomed(boat)[0]
