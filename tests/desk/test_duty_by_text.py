"""Who is on duty by a person's word: it passes when the new person answers, and the roster is the ground."""

from collections.abc import Sequence
from dataclasses import replace

from gateway.desk.bundle import Bundle
from gateway.desk.duty import ANSWER_WITHIN
from gateway.desk.hub import Desk
from gateway.desk.lists import duty_of
from gateway.people.roster import Shift
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, OptFlagCame, Started
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms, from_rfc3339
from tests.desk.small_boat import (
    BOAT,
    INES,
    MARINA,
    NUMBER_OF,
    RUTH,
    TOBIAS,
    WATER,
    WATER_DELAY,
    Small,
    bundle_of,
    with_salt_harrier,
)

WEDNESDAY = from_rfc3339("2026-03-04T12:00:00Z")
WEEK, WEEKEND = (0, 1, 2, 3, 4), (5, 6)
ROSTER = (
    Shift(person=TOBIAS, days=WEEK, begins=0, ends=0),
    Shift(person=INES, days=WEEKEND, begins=0, ends=0),
)
LIST = CallOutList(key="list", steps=(Step(after=0, tell=(TOBIAS, INES), by_duty=(TOBIAS, INES)),), repeat=10 * MINUTE)


def bundle(roster: tuple[Shift, ...] = ROSTER, callout: CallOutList = LIST) -> Bundle:
    return replace(bundle_of(WATER, callouts=(callout,)), roster=roster)


def two_boats(*people: str) -> Bundle:
    """The same list for SALT HARRIER, a matter of these people too."""
    point, whole = replace(WATER, id="salt-harrier/water", boat="salt-harrier"), bundle()
    return with_salt_harrier(replace(whole, points={**whole.points, point.id: point}), *people)


def quay(at: Ms = WEDNESDAY, of: Bundle | None = None) -> Small:
    """A desk that has just started at that instant."""
    boat = Small(Desk(of if of is not None else bundle()), now=at - 10, began=at)
    boat.take(InstallationCame(fingerprint=boat.desk.bundle.fingerprint, people=tuple(boat.desk.bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = at
    return boat


def on_duty(boat: Small) -> str | None:
    return duty_of(boat.desk.state, boat.desk.bundle, BOAT, boat.now)


def said(boat: Small, person: str, body: str) -> list[tuple[str, str]]:
    """A text, and what is answered to whom."""
    before = len(boat.sent)
    boat.texts(person, body)
    return [(text.person, text.body) for text in boat.sent[before:]]


def called_out(boat: Small) -> list[str]:
    """Who is told when water comes."""
    before = len(boat.told())
    boat.reads("water", "on")
    boat.wait(WATER_DELAY + MINUTE)
    return [person for person, about, _ in boat.told()[before:] if about == "alarm told"]


def people_of(answers: Sequence[tuple[str, str]]) -> list[str]:
    return [person for person, _ in answers]


# ---------------------------------------------------------------- taking it


def test_duty_me_passes_it_at_once_until_the_roster_names_somebody_else() -> None:
    boat = quay()
    assert on_duty(boat) == TOBIAS
    answers = said(boat, INES, "duty me")
    assert answers[0][0] == INES
    assert answers[0][1].startswith("GREY WAGTAIL: you are on duty until Fri 24:00, no longer Tobias.")
    assert answers[1:] == [(TOBIAS, "GREY WAGTAIL: Ines is on duty until Fri 24:00, you no longer")]
    assert on_duty(boat) == INES
    assert called_out(boat) == [INES]
    assert boat.rebuilt() == boat.bytes()


def test_after_its_end_the_roster_holds_again() -> None:
    boat = quay()
    said(boat, RUTH, "duty me until 18:00")
    assert on_duty(boat) == RUTH
    assert called_out(boat) == [RUTH], "also somebody who stands on no roster"
    boat.wait(6 * HOUR)
    assert on_duty(boat) == TOBIAS


def since(boat: Small, count: int) -> list[tuple[str, str, Ms]]:
    """Texts from this one on: person, kind, minutes since the begin."""
    return [(who, about, at // MINUTE) for who, about, at in boat.told()[count:]]


def test_at_the_very_moment_of_its_end_who_had_it_and_who_follows_hear_so() -> None:
    boat = quay()
    said(boat, INES, "duty me until 18:00")
    before = len(boat.sent)
    boat.wait(WEDNESDAY + 6 * HOUR - 1 - boat.now)
    assert boat.sent[before:] == []
    assert on_duty(boat) == INES
    boat.wait(1)
    assert on_duty(boat) == TOBIAS
    assert since(boat, before) == [(INES, "duty over", 360), (TOBIAS, "duty over", 360)]
    own, follower = (text.body for text in boat.sent[before:])
    assert own == "GREY WAGTAIL: your duty ended 18:00. On duty now: Tobias"
    assert follower.startswith("GREY WAGTAIL: you are on duty now by the roster until Fri 24:00, no longer Ines")
    boat.wait(DAY)
    assert len(boat.sent) == before + 2
    assert boat.rebuilt() == boat.bytes()


def test_an_alarm_that_nobody_has_goes_over_to_who_follows_and_is_named() -> None:
    boat = quay()
    said(boat, INES, "duty me until 18:00")
    boat.wait(6 * HOUR - 5 * MINUTE)
    assert called_out(boat) == [INES]
    before = len(boat.sent)
    boat.wait(12 * MINUTE)
    assert [one for one in since(boat, before) if one[1] == "alarm told"] == [(TOBIAS, "alarm told", 365)]
    assert "Open alarms: 1" in next(text.body for text in boat.sent[before:] if text.person == TOBIAS)


def test_whoever_follows_herself_hears_nothing_of_an_end() -> None:
    boat = quay()
    said(boat, TOBIAS, "duty me until 18:00")
    before = len(boat.sent)
    boat.wait(DAY)
    assert boat.sent[before:] == []
    assert "duty-ended" in boat.kinds()


def test_where_nobody_follows_who_had_it_hears_that_all_are_told() -> None:
    boat = quay(of=bundle((Shift(person=INES, days=WEEKEND, begins=0, ends=0),)))
    said(boat, TOBIAS, "duty me until 18:00")
    before = len(boat.sent)
    boat.wait(7 * HOUR)
    (text,) = boat.sent[before:]
    assert text.person == TOBIAS
    assert text.body.endswith("On duty now: nobody, so all of the roster are told")


def test_an_end_while_the_gateway_did_not_run_is_told_at_the_start_and_after_half_a_day_to_nobody() -> None:
    for away, told in ((10 * HOUR, 2), (30 * HOUR, 0)):
        boat = quay()
        said(boat, INES, "duty me until 18:00")
        before = len(boat.sent)
        boat.restarts(after=away)
        boat.wait(MINUTE)
        assert len([one for one in since(boat, before) if one[1] == "duty over"]) == told
        assert boat.desk.state.duty.said == {}


def test_two_boats_of_one_duty_end_in_one_text_a_person() -> None:
    boat = quay(of=two_boats(TOBIAS, INES))
    said(boat, INES, "duty me until 18:00")
    before = len(boat.sent)
    boat.wait(7 * HOUR)
    assert since(boat, before) == [(INES, "duty over", 360), (TOBIAS, "duty over", 360)]
    assert boat.sent[-1].body.startswith("2 boats: you are on duty now")


def test_until_sunday_ends_at_its_24_00_boat_time() -> None:
    boat = quay()
    said(boat, INES, "duty me until Sunday")
    end = from_rfc3339("2026-03-09T00:00:00Z")
    assert boat.desk.state.duty.said[BOAT].until == end
    boat.now = end - 1
    assert on_duty(boat) == INES
    boat.now = end
    assert on_duty(boat) == TOBIAS


def test_until_sunday_said_on_sunday_is_to_the_end_of_that_day() -> None:
    boat = quay(from_rfc3339("2026-03-08T09:00:00Z"))
    answers = said(boat, TOBIAS, "duty me until Sunday")
    assert boat.desk.state.duty.said[BOAT].until == from_rfc3339("2026-03-09T00:00:00Z")
    assert "until 24:00" in answers[0][1]


def test_until_sunday_of_the_night_of_a_clock_change_is_boat_time() -> None:
    boat = quay(from_rfc3339("2026-03-27T12:00:00Z"))  # London's clock goes forward on Sunday the 29th
    said(boat, INES, "duty me until Sunday")
    assert boat.desk.state.duty.said[BOAT].until == from_rfc3339("2026-03-29T23:00:00Z")


def test_a_step_of_the_wall_clock_brings_the_end_nearer() -> None:
    boat = quay()
    said(boat, INES, "duty me until 18:00")
    boat.desk.state.duty.clock_moved(HOUR)
    assert boat.desk.state.duty.said[BOAT].until == WEDNESDAY + 5 * HOUR


# ---------------------------------------------------------------- asking another


def test_whoever_is_asked_has_it_from_the_answer_on_and_until_then_the_old_one_keeps_it() -> None:
    boat = quay()
    answers = said(boat, TOBIAS, "duty Ines until Thursday")
    assert people_of(answers) == [INES, TOBIAS]
    assert "Tobias asks you to be on duty until Thu 24:00. Will you? Reply DUTY ME, else DUTY OFF" in answers[0][1]
    assert "Ines is asked to be on duty until Thu 24:00. Nothing has changed yet: it is you" in answers[1][1]
    assert on_duty(boat) == TOBIAS
    assert called_out(boat) == [TOBIAS]
    answers = said(boat, INES, "duty me")
    assert "you are on duty until Thu 24:00, no longer Tobias" in answers[0][1]
    assert answers[1] == (TOBIAS, "GREY WAGTAIL: Ines is on duty until Thu 24:00, you no longer, as you asked")
    assert on_duty(boat) == INES
    assert boat.rebuilt() == boat.bytes()


def test_whoever_is_asked_may_name_another_end() -> None:
    boat = quay()
    said(boat, TOBIAS, "duty Ines until Thursday")
    said(boat, INES, "duty me until 20:00")
    assert boat.desk.state.duty.said[BOAT].until == WEDNESDAY + 8 * HOUR


def test_whoever_is_asked_may_decline_and_both_hear_it() -> None:
    boat = quay()
    said(boat, TOBIAS, "duty Ines")
    answers = said(boat, INES, "duty off")
    assert answers == [
        (INES, "GREY WAGTAIL: noted, you will not be on duty. Nothing was changed"),
        (TOBIAS, "GREY WAGTAIL: Ines will not be on duty. Nothing was changed"),
    ]
    assert on_duty(boat) == TOBIAS
    assert boat.desk.state.duty.asked == {}


def test_without_an_answer_who_asked_hears_that_nothing_has_changed() -> None:
    boat = quay()
    said(boat, TOBIAS, "duty Ines")
    before = len(boat.sent)
    boat.wait(ANSWER_WITHIN - 1)
    assert len(boat.sent) == before
    boat.wait(1)
    assert [(text.person, "has not said whether" in text.body) for text in boat.sent[before:]] == [(TOBIAS, True)]
    assert on_duty(boat) == TOBIAS
    assert "duty-ask-ended" in boat.kinds()
    assert boat.rebuilt() == boat.bytes()


def test_the_time_to_answer_is_over_when_the_duty_that_was_asked_for_would_be() -> None:
    boat = quay()
    said(boat, TOBIAS, "duty Ines until 13:00")
    boat.wait(HOUR)
    assert boat.desk.state.duty.asked == {}
    assert "has not said whether" in boat.sent[-1].body


def test_whoever_was_asked_for_one_boat_takes_that_one_alone_by_a_bare_duty_me() -> None:
    boat = quay(of=two_boats(TOBIAS, INES))
    said(boat, TOBIAS, "grey wagtail duty Ines until Thursday")
    said(boat, INES, "duty me")
    assert {key: one.person for key, one in boat.desk.state.duty.said.items()} == {BOAT: INES}


def test_nobody_to_whom_the_boat_is_no_matter_is_named_as_who_could_follow() -> None:
    of = bundle()
    ruth = replace(of.people[RUTH], boats=("salt-harrier",))
    boat = quay(of=replace(of, people={**of.people, RUTH: ruth}))
    assert "Who could: Ines. Nothing was changed" in said(boat, TOBIAS, "duty off")[0][1]


def test_asking_whoever_has_it_already_changes_nothing_unless_it_is_for_longer() -> None:
    boat = quay()
    assert "Tobias is on duty already. Nothing was changed" in said(boat, INES, "duty Tobias")[0][1]
    assert people_of(said(boat, INES, "duty Tobias until Sunday")) == [TOBIAS, INES]


def test_nobody_is_asked_who_could_not_be_told() -> None:
    boat = quay()
    assert "cannot be on duty here" in said(boat, TOBIAS, "duty marina")[0][1], "an office takes no turns"
    boat.take(OptFlagCame(number=NUMBER_OF[INES], out=True))
    answers = said(boat, TOBIAS, "duty Ines")
    assert people_of(answers) == [TOBIAS]
    assert "cannot be on duty here" in answers[0][1]


def test_an_office_says_nothing_of_duty_but_may_ask_who_has_it() -> None:
    boat = quay()
    for text in ("duty me", "duty Ines", "duty off"):
        (answer,) = said(boat, MARINA, text)
        assert "who is on duty is for Tobias or Ines to say. Nothing was changed" in answer[1]
    assert "on duty Tobias until Fri 24:00, then Ines" in said(boat, MARINA, "who is on duty?")[0][1]


# ---------------------------------------------------------------- giving it up


def test_duty_off_without_a_successor_is_refused_and_names_who_could_follow() -> None:
    boat = quay()
    assert said(boat, TOBIAS, "duty off") == [
        (
            TOBIAS,
            "GREY WAGTAIL: you stay on duty till somebody follows. Who could: Ines or Ruth. Nothing was changed."
            " To ask one reply DUTY and the name",
        )
    ]
    assert on_duty(boat) == TOBIAS


def test_duty_off_of_who_has_it_by_word_asks_whom_the_roster_names() -> None:
    boat = quay()
    said(boat, INES, "duty me until Sunday")
    answers = said(boat, INES, "duty off")
    assert people_of(answers) == [TOBIAS, INES]
    assert on_duty(boat) == INES, "she keeps it until he answers"
    assert "Tobias has been asked and has not answered, you stay on duty" in said(boat, INES, "duty off")[0][1]
    said(boat, TOBIAS, "duty me")
    assert on_duty(boat) == TOBIAS


def test_duty_off_of_who_is_not_on_duty_says_who_is() -> None:
    boat = quay()
    assert "you are not on duty, it is Tobias. Nothing was changed" in said(boat, INES, "duty off")[0][1]


def test_duty_for_somebody_whom_nobody_knows_names_who_could() -> None:
    boat = quay()
    assert said(boat, TOBIAS, "duty Berta until Sunday") == [
        (
            TOBIAS,
            "GREY WAGTAIL: nobody here has that name. Who could: Ines or Ruth. Nothing was changed. "
            "Reply DUTY and the name",
        )
    ]
    assert boat.desk.state.duty.asked == {}
    ((_, refused),) = said(boat, MARINA, "duty Berta")
    assert "who is on duty is for" in refused, "who may not say it hears who may"


# ---------------------------------------------------------------- without a roster, with several boats


def test_where_no_list_tells_whoever_is_on_duty_it_is_said_so() -> None:
    plain = CallOutList(key="list", steps=(Step(after=0, tell=(TOBIAS, INES)),), repeat=10 * MINUTE)
    boat = quay(of=bundle(callout=plain))
    for text in ("duty me", "duty Ines", "duty off", "who is on duty"):
        assert "no list here tells whoever is on duty" in said(boat, TOBIAS, text)[0][1]
    for text in ("who is on duty", "who's on duty"):
        assert "Nothing was changed" not in said(boat, TOBIAS, text)[0][1], "a question changes nothing anyway"
    assert boat.desk.state.duty.said == {}


def test_a_hole_in_the_roster_is_told_as_it_is() -> None:
    boat = quay(of=bundle(roster=ROSTER[1:]))
    assert (
        "on duty nobody: all of the roster are told until Fri 24:00, then you"
        in said(boat, INES, "who is on duty")[0][1]
    )


def test_of_several_boats_all_are_meant_and_one_where_it_is_named() -> None:
    boat = quay(of=two_boats(TOBIAS, RUTH))
    (answer, *_) = said(boat, RUTH, "duty me until Sunday")
    assert answer[1].startswith("2 boats: you are on duty until Sun 24:00, no longer Tobias")
    said(boat, TOBIAS, "grey wagtail duty me")
    assert {key: one.person for key, one in boat.desk.state.duty.said.items()} == {BOAT: TOBIAS, "salt-harrier": RUTH}
    (answer,) = said(boat, RUTH, "who is on duty")
    assert answer == (RUTH, "On duty: Tobias for GREY WAGTAIL until Fri 24:00; you for SALT HARRIER until Sun 24:00")
    assert boat.rebuilt() == boat.bytes()


def test_a_person_who_is_gone_from_the_files_is_on_duty_no_longer() -> None:
    boat = quay()
    said(boat, RUTH, "duty me until Sunday")
    present = boat.desk.bundle
    boat.uses(replace(present, people={key: one for key, one in present.people.items() if key != RUTH}))
    assert on_duty(boat) == TOBIAS
    boat.wait(DAY)
    assert boat.rebuilt() == boat.bytes()
