"""Texts about the gateway's own trouble, word for word."""

from collections.abc import Callable
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from gateway.requests.number_answers import CommandsLocked
from gateway.telling.trouble_notices import (
    BlindTime,
    ClientIdTwice,
    ClockDoubtful,
    LinkTrouble,
    NotReached,
    OptOutSeen,
    RecordReplaced,
    SignalBad,
    StoreWasFull,
    StrangerWrote,
)
from gateway.vocabulary.moments import MINUTE, Ms, from_rfc3339
from gateway.wording.alphabet import parts
from gateway.wording.say import say
from gateway.wording.scene import Scene

GREY, INES, TOBIAS, RUTH = "grey-wagtail", "id-ines", "id-tobias", "id-ruth"

Said = Callable[..., str]
At = Callable[..., Ms]


def test_a_stranger_is_told_of_with_the_masked_number(said: Said) -> None:
    assert said(StrangerWrote(person=INES, number="+44 7700 ...199", count=3)) == (
        "Gateway: 3 texts from +44 7700 ...199, a number that is on no list. Not answered, nothing was switched. "
        "Yours? The installer can add it"
    )
    assert said(StrangerWrote(person=INES, number="+44 7700 ...199", count=1)).startswith("Gateway: a text from")


def test_an_opted_out_phone_is_told_to_the_others_with_the_only_cure(said: Said) -> None:
    assert said(OptOutSeen(person=INES, who=TOBIAS)) == (
        "Gateway: Tobias's phone has opted out, no alarm reaches Tobias by text. "
        "Ring Tobias: only that phone can undo it, by texting START here"
    )
    assert said(OptOutSeen(person=TOBIAS, who=TOBIAS)) == (
        "Gateway: this number has opted out, alarms can't reach it. Text START from it, then tell the installer"
    )


def test_a_refused_text_says_whom_not_to_count_on(said: Said) -> None:
    assert said(NotReached(person=INES, who=TOBIAS, code="30003")) == (
        "Gateway: a text to Tobias was NOT taken by the carrier (its code 30003). "
        "Don't count on Tobias having read it: ring Tobias"
    )
    assert said(NotReached(person=TOBIAS, who=TOBIAS, code="", boat=GREY)) == (
        "GREY WAGTAIL: a text to you was NOT taken by the carrier. Alarms may not reach you"
    )
    assert "code" not in said(NotReached(person=INES, who=TOBIAS, code="no answer")), "that is a word of ours"


def test_a_link_that_is_down_says_what_is_not_seen(said: Said, at: At) -> None:
    assert said(LinkTrouble(person=RUTH, link="shore", since=at("01:30"), memory_lost=False)) == (
        'Gateway: link "shore" down since 02:30 (35 min). What needs it is not seen or not told meanwhile. '
        "It is tried again all the time"
    )
    assert said(LinkTrouble(person=RUTH, link="shore", since=at("01:30"), memory_lost=True)) == (
        'Gateway: link "shore", down since 02:30, lost what it had kept. What the boat said meanwhile may be missing. '
        "Reply STATUS and mind the ages"
    )


def test_a_client_id_used_twice_says_what_it_does_and_what_to_do(said: Said) -> None:
    assert said(ClientIdTwice(person=RUTH, link="broker:shore")) == (
        'Gateway: on link "broker:shore" another client uses this gateway\'s client_id. Each cuts the other off, '
        "alarms may be missed. Give each its own"
    )


def test_blind_time_is_never_an_all_clear(said: Said, at: At) -> None:
    assert said(BlindTime(person=RUTH, since=at("00:10"), until=at("01:45"), standing=(14, 15))) == (
        "Gateway did not run 01:10 to 02:45 (95 min), nothing was watched. Alarms 14, 15 stand. Reply ALARMS"
    )
    assert said(BlindTime(person=RUTH, since=at("00:10"), until=at("01:45"), standing=(1,))).endswith(
        "nothing was watched. Alarm 1 stands. Reply ALARMS"
    )
    assert said(BlindTime(person=RUTH, since=at("00:10"), until=at("01:45"), standing=())) == (
        "Gateway did not run 01:10 to 02:45 (95 min), nothing was watched. "
        "No alarm stands now; what came and went meanwhile was not seen"
    )


def test_a_gateway_that_stopped_again_and_again_says_how_often(said: Said, at: At) -> None:
    notice = BlindTime(
        person=RUTH, since=at("01:44"), until=at("01:45"), standing=(14,), stops=7, told_before=at("00:40")
    )
    assert said(notice) == (
        "Gateway did not run 02:44 to 02:45 (60 s), stop 7 since 01:40, nothing was watched. "
        "Alarm 14 stands. Reply ALARMS"
    )


@pytest.mark.parametrize("standing", [(), (9999,), tuple(range(9000, 9060))], ids=len)
def test_blind_time_is_one_part_also_where_every_mark_of_a_time_is_its_longest(
    scene: Scene, standing: tuple[int, ...]
) -> None:
    chatham = replace(scene.people[RUTH], zone=ZoneInfo("Pacific/Chatham"))
    marked = replace(scene, people={**scene.people, RUTH: chatham}, now=from_rfc3339("2027-01-02T00:00:00Z"))
    since, until = from_rfc3339("2025-04-05T13:50:00Z"), from_rfc3339("2025-04-05T14:40:00Z")
    notice = BlindTime(person=RUTH, since=since, until=until, standing=standing, stops=1440, told_before=since)
    words = say(notice, marked)
    assert parts(words) == 1
    assert "6 Apr 2025 03:35 +1345 to 6 Apr 2025 03:25 +1245" in words
    assert ("No alarm stands now" if not standing else "stand") in words


def test_an_unreadable_signal_says_that_its_alarms_are_blind(said: Said) -> None:
    notice = SignalBad(person=RUTH, boat=GREY, signal=f"{GREY}/house-volts", sample="NaN", in_a_row=20)
    assert said(notice) == (
        'GREY WAGTAIL: house volts can\'t be read, 20 times in a row, it sent "NaN". '
        "Its alarms are blind until that is mended"
    )


def test_a_doubtful_clock_stops_commands_and_no_alarm(said: Said) -> None:
    assert said(ClockDoubtful(person=RUTH, ahead=5 * MINUTE)) == (
        "Gateway: its clock is 5 min behind the carrier's. Nothing is switched until that is mended, alarms go on. "
        "Mend the clock of its computer"
    )
    assert "5 min ahead of the carrier's" in said(ClockDoubtful(person=RUTH, ahead=-5 * MINUTE))


def test_a_full_store_says_what_was_not_done(said: Said, at: At) -> None:
    assert said(StoreWasFull(person=RUTH, since=at("00:10"), until=at("01:45"))) == (
        "Gateway: no record could be kept 01:10 to 02:45. Alarms were told from memory, nothing was switched. "
        "Make room on its disk"
    )


def test_a_record_put_aside_says_what_must_be_looked_at(said: Said) -> None:
    assert said(RecordReplaced(person=RUTH)) == (
        "Gateway: its record was damaged, a new one is begun. Alarms go on. What was open is forgotten, "
        "timed runs won't end by themselves: look at each"
    )


def test_locked_commands_are_told_with_the_question_who_has_the_phone(said: Said, at: At) -> None:
    # CHK-44 of the handbook: alerts to that number still flow.
    assert said(CommandsLocked(person=INES, who=TOBIAS, until=at("02:35"))) == (
        "Gateway: five wrong codes in a row from Tobias's phone. Commands from it are locked until 03:35, "
        "alarms still reach it. Ring Tobias: who has the phone?"
    )
    assert said(CommandsLocked(person=INES, who=INES, until=at("02:35"), boat=GREY)) == (
        "GREY WAGTAIL: five wrong codes in a row from your phone. Commands from it are locked until 03:35, "
        "alarms still reach it"
    )


def test_a_lock_that_only_the_installer_ends_says_so(said: Said, at: At) -> None:
    assert said(CommandsLocked(person=INES, who=TOBIAS, until=at("02:35"), endless=True)) == (
        "Gateway: too many wrong codes from Tobias's phone. Commands from it are locked until the installer has "
        "proved it anew, alarms still reach it"
    )
