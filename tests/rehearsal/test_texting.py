"""What would be answered to a text, by the desk itself, which afterwards knows nothing of it."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.rehearsal.texting import answered, brought_up, codes_hidden, unknowing
from gateway.vocabulary.moments import MINUTE
from tests.effort import tries
from tests.rehearsal.living import INES, NOON, RUTH, STRANGER, TOBIAS, Living, installed


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    return installed(tmp_path_factory.mktemp("plain"), "grey-wagtail").bundle


@pytest.fixture
def living(bundle: Bundle) -> Living:
    found = Living(bundle)
    found.hear(4 * MINUTE)  # the refrigeration must have run for 3 min before it may be switched off
    return found


@pytest.fixture(scope="module")
def asked(bundle: Bundle) -> tuple[Desk, int, tuple[str, str]]:
    """A desk with an open code of Tobias's, the instant of trying, and the code."""
    living = Living(bundle)
    living.hear(4 * MINUTE)
    living.writes(TOBIAS, "refrigeration off")
    [request] = living.desk.state.requests.open.values()
    assert request.words is not None
    now = living.now + 3
    return brought_up(living.desk, now), now, request.words


def test_the_reply_is_word_for_word_what_the_living_desk_answers(living: Living) -> None:
    now = living.now + 3
    tried = answered(brought_up(living.desk, now), TOBIAS, "status", now)
    [order] = living.writes(TOBIAS, "status").orders
    assert tried.reply == getattr(order, "body", None)
    assert "house volts 13.6 V" in str(tried.reply)


def test_trying_leaves_the_desk_as_it_was(living: Living) -> None:
    before = state_bytes(living.desk.state)
    up = brought_up(living.desk, living.now + 3)
    brought = state_bytes(up.state)
    for body in ("status", "refrigeration off", "visit", "have it", "stop"):
        answered(up, TOBIAS, body, living.now + 3)
    assert state_bytes(up.state) == brought
    assert state_bytes(living.desk.state) == before


def test_a_code_is_asked_for_and_hidden(living: Living) -> None:
    now = living.now + 3
    reply = answered(brought_up(living.desk, now), TOBIAS, "refrigeration off", now).reply
    assert reply is not None
    assert "Reply GO *** *** by" in reply
    assert "DROP *** ***" in reply


def test_the_right_code_would_send_a_command_and_is_answered_only_by_what_is_measured(
    asked: tuple[Desk, int, tuple[str, str]],
) -> None:
    desk, now, words = asked
    tried = answered(desk, TOBIAS, f"go {' '.join(words)}", now)
    assert (tried.reply, tried.commands) == (None, 1)
    assert answered(desk, TOBIAS, f"go {' '.join(words)}", now).commands == 1, "a try spends no code"


def test_wrong_words_and_another_persons_code_would_send_none(asked: tuple[Desk, int, tuple[str, str]]) -> None:
    desk, now, words = asked
    assert answered(desk, TOBIAS, "go teapot marble", now).commands == 0
    assert answered(desk, INES, f"go {' '.join(words)}", now).commands == 0
    assert answered(desk, STRANGER, f"go {' '.join(words)}", now).commands == 0


def test_a_stranger_would_get_no_reply_and_the_installer_a_word(living: Living) -> None:
    now = living.now + 3
    tried = answered(brought_up(living.desk, now), STRANGER, "status", now)
    assert tried.reply is None
    assert tried.others == ("p-ruth",)


def test_with_an_alarm_open_the_others_would_hear_who_has_it(living: Living) -> None:
    living.boat.set("co", True, living.now)
    living.hear(MINUTE)
    now = living.now + 3
    tried = answered(brought_up(living.desk, now), TOBIAS, "have it", now)
    assert "alarm 1 is yours" in str(tried.reply)
    assert tried.others == ("p-ines",)


def test_what_fell_due_since_the_record_ended_is_no_part_of_the_reply(living: Living) -> None:
    living.boat.set("co", True, living.now)
    living.hear(MINUTE)
    later = living.now + 3 * MINUTE  # the second round of the call-out is due by then, to Tobias too
    tried = answered(brought_up(living.desk, later), TOBIAS, "phrases", later)
    assert "CARBON MONOXIDE" not in str(tried.reply)
    assert tried.others == ()


def test_a_desk_without_a_record_knows_nothing_and_says_so(bundle: Bundle) -> None:
    desk = unknowing(bundle, NOON)
    assert "house volts never heard" in str(answered(desk, TOBIAS, "status", NOON).reply)
    assert "NOT switched" in str(answered(desk, TOBIAS, "refrigeration off", NOON).reply)
    assert "no alarm is open" in str(answered(desk, TOBIAS, "have it", NOON).reply)


def test_changed_files_are_used_as_they_are_now(living: Living, tmp_path: Path) -> None:
    changed = installed(tmp_path / "other", "grey-wagtail", "salt-harrier").bundle
    now = living.now + 3
    up = brought_up(Desk(changed, living.desk.state), now)
    assert up.state.fingerprint == changed.fingerprint != living.desk.state.fingerprint
    assert "SALT HARRIER" in str(answered(up, TOBIAS, "status", now).reply)


PHRASES = st.sampled_from(
    ["status", "refrigeration off", "deck lights on for 5 min", "go", "drop", "visit", "have it 1", "phrases", "ok"]
)


@settings(max_examples=tries(60), deadline=None)
@given(
    number=st.sampled_from([INES, TOBIAS, RUTH, STRANGER]),
    body=st.one_of(PHRASES, st.text(max_size=40), st.tuples(PHRASES, PHRASES).map(" ".join)),
)
def test_whatever_is_tried_changes_nothing_and_shows_no_code(
    asked: tuple[Desk, int, tuple[str, str]], number: str, body: str
) -> None:
    desk, now, words = asked
    before = state_bytes(desk.state)
    reply = (answered(desk, number, body, now).reply or "").casefold()
    assert state_bytes(desk.state) == before
    assert not all(word in reply.split() for word in words)
    after_go = [reply.split()[at + 1 : at + 2] for at, word in enumerate(reply.split()) if word == "go"]
    assert not any(word[0] in desk.bundle.code_words for word in after_go if word)


def test_only_words_that_codes_are_drawn_from_are_hidden() -> None:
    words = ("teapot", "marble")
    assert codes_hidden("Reply GO TEAPOT MARBLE by 12:00 or DROP TEAPOT MARBLE", words) == (
        "Reply GO *** *** by 12:00 or DROP *** ***"
    )
    assert codes_hidden("nothing is waiting for a GO or DROP from you", words) == (
        "nothing is waiting for a GO or DROP from you"
    )
