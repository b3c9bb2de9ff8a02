"""Whether a value meets a condition, and what an interlock may rely on."""

from decimal import Decimal

import pytest

from gateway.boat.latest import Latest
from gateway.boat.settings import Signal
from gateway.conditions.judging import Judged, Verdict, holds, judge_strictly, said
from gateway.vocabulary.moments import SECOND
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import Condition, IsContact, IsNumber, IsWord, NoNews, Than
from grammar.sentences import read_condition

NOW = 1_772_334_240_000
VOLTS = Signal(
    id="grey-wagtail/volts", boat="grey-wagtail", key="volts", topic="t", unit="V", report_interval=30 * SECOND
)
SIGNALS = {VOLTS.id: VOLTS}


def latest(grade: Grade, text: str, **more: object) -> Latest:
    return Latest(Reading(signal=VOLTS.id, grade=grade, text=text, **more), NOW, NOW)  # type: ignore[arg-type]


def number(than: Than) -> IsNumber:
    return IsNumber(signal="volts", than=than, limit=Decimal("12.0"), unit="V")


@pytest.mark.parametrize(
    ("than", "below", "on_it", "above"),
    [
        (Than.ABOVE, False, False, True),
        (Than.BELOW, True, False, False),
        (Than.AT_LEAST, False, True, True),
        (Than.AT_MOST, True, True, False),
    ],
)
def test_exactly_on_the_limit_is_neither_above_nor_below_and_is_both_at_least_and_at_most(
    than: Than, below: bool, on_it: bool, above: bool
) -> None:
    found = [holds(number(than), latest(Grade.NUMBER, text)) for text in ("11.999", "12.00", "12.001")]
    assert found == [Verdict.HOLDS if met else Verdict.DOES_NOT for met in (below, on_it, above)]


@pytest.mark.parametrize(
    ("condition", "grade", "text", "verdict"),
    [
        (IsContact(signal="volts", wanted=True), Grade.CONTACT, "on", Verdict.HOLDS),
        (IsContact(signal="volts", wanted=True), Grade.CONTACT, "off", Verdict.DOES_NOT),
        (IsContact(signal="volts", wanted=False), Grade.CONTACT, "off", Verdict.HOLDS),
        (IsWord(signal="volts", word="REMOTE"), Grade.WORD, "REMOTE", Verdict.HOLDS),
        (IsWord(signal="volts", word="REMOTE"), Grade.WORD, "LOCAL", Verdict.DOES_NOT),
        (IsContact(signal="volts", wanted=False), Grade.UNREADABLE, "?", Verdict.UNKNOWN),
        (number(Than.BELOW), Grade.UNREADABLE, "11.0", Verdict.UNKNOWN),
    ],
)
def test_a_value_meets_a_condition_or_not_and_an_unreadable_one_says_nothing(
    condition: Condition, grade: Grade, text: str, verdict: Verdict
) -> None:
    assert holds(condition, latest(grade, text)) is verdict


def test_what_was_never_heard_is_unknown_and_not_a_no() -> None:
    assert holds(number(Than.BELOW), None) is Verdict.UNKNOWN


def test_silence_cannot_be_judged_by_a_value() -> None:
    with pytest.raises(TypeError, match="judged by arrival"):
        holds(NoNews(signal="volts", lasting=1), None)


def strictly(known: Latest | None, now: int = NOW) -> Verdict:
    found = {VOLTS.id: known} if known is not None else {}
    return judge_strictly(number(Than.ABOVE), "grey-wagtail", found, SIGNALS, now).verdict


def test_an_interlock_takes_only_what_is_live_fresh_and_readable() -> None:
    assert strictly(latest(Grade.NUMBER, "12.6")) is Verdict.HOLDS
    assert strictly(latest(Grade.NUMBER, "11.6")) is Verdict.DOES_NOT
    assert strictly(None) is Verdict.UNKNOWN
    assert strictly(latest(Grade.NUMBER, "12.6", late=True)) is Verdict.UNKNOWN
    assert strictly(latest(Grade.NUMBER, "12.6", retained=True)) is Verdict.UNKNOWN
    assert strictly(latest(Grade.UNREADABLE, "12.6")) is Verdict.UNKNOWN


def test_an_interlock_counts_a_value_up_to_three_report_intervals_and_no_longer() -> None:
    assert strictly(latest(Grade.NUMBER, "12.6"), NOW + 90 * SECOND) is Verdict.HOLDS
    assert strictly(latest(Grade.NUMBER, "12.6"), NOW + 90 * SECOND + 1) is Verdict.UNKNOWN


# ---------------------------------------------------------------- more than one value

START = Signal(
    id="grey-wagtail/start", boat="grey-wagtail", key="start", topic="s", unit="V", report_interval=30 * SECOND
)
ODD = Signal(
    id="grey-wagtail/odd",
    boat="grey-wagtail",
    key="odd",
    topic="o",
    lowest=Decimal(0),
    highest=Decimal(20),
    report_interval=30 * SECOND,
)


def needs(sentence: str, **values: str | None) -> Judged:
    """What an interlock of this sentence says to these values; None for one that came late."""
    signals = {one.id: one for one in (VOLTS, START, ODD)}
    found = {}
    for key, text in values.items():
        known = Reading(
            signal=f"grey-wagtail/{key}", grade=Grade.NUMBER, text="12.6" if text is None else text, late=text is None
        )
        found[known.signal] = Latest(known, NOW, NOW)
    return judge_strictly(read_condition(sentence), "grey-wagtail", found, signals, NOW)


@pytest.mark.parametrize(
    ("sentence", "values", "verdict"),
    [
        ("volts between 12.2 and 15 V", {"volts": "12.2"}, Verdict.HOLDS),
        ("volts between 12.2 and 15 V", {"volts": "15.1"}, Verdict.DOES_NOT),
        ("volts outside 12.2 and 15 V", {"volts": "12.2"}, Verdict.DOES_NOT),
        ("volts above start by 0.1 V", {"volts": "12.6", "start": "12.5"}, Verdict.DOES_NOT),
        ("volts above start by 0.1 V", {"volts": "12.61", "start": "12.5"}, Verdict.HOLDS),
        ("volts above start", {"volts": "12.6"}, Verdict.UNKNOWN),
        ("volts above start", {"volts": "12.6", "start": None}, Verdict.UNKNOWN),
        ("volts above 12 V and start above 12 V", {"volts": "12.6", "start": "12.6"}, Verdict.HOLDS),
        ("volts above 12 V and start above 12 V", {"volts": "12.6", "start": None}, Verdict.UNKNOWN),
        ("volts above 12 V and start above 12 V", {"volts": "11.6", "start": None}, Verdict.DOES_NOT),
        ("volts above 12 V or start above 12 V", {"volts": "12.6", "start": None}, Verdict.HOLDS),
        ("volts above 12 V or start above 12 V", {"volts": "11.6", "start": None}, Verdict.UNKNOWN),
        ("not volts below 12 V", {"volts": "12.6"}, Verdict.HOLDS),
        ("not volts below 12 V", {"volts": None}, Verdict.UNKNOWN),
        ("volts above 12 V while start above 12 V", {"volts": "12.6", "start": "11.0"}, Verdict.DOES_NOT),
        ("not odd not believable", {"odd": "12"}, Verdict.HOLDS),
        ("not odd not believable", {"odd": "21"}, Verdict.DOES_NOT),
    ],
)
def test_an_interlock_weighs_what_is_known_and_never_takes_the_unknown_for_a_yes(
    sentence: str, values: dict[str, str | None], verdict: Verdict
) -> None:
    assert needs(sentence, **values).verdict is verdict


@pytest.mark.parametrize(
    "sentence",
    [
        "no news for 10 min",
        "no news from volts for 10 min",
        "volts changed",
        "volts changed in the last 10 min",
        "volts on for more than 1 min in the last hour",
        "volts started more than 0 times in the last hour",
        "volts falling faster than 0 V an hour",
        "volts unreadable 1 time",
        "1 of 1 fixes of volts within 25 m of 50.0, -5.0",
    ],
)
def test_what_proves_nothing_about_this_moment_is_unknown_to_an_interlock_and_so_is_its_opposite(sentence: str) -> None:
    assert needs(sentence, volts="12.6").verdict is Verdict.UNKNOWN
    assert needs(f"not ({sentence})", volts="12.6").verdict is Verdict.UNKNOWN
    assert needs(f"volts above 12 V and ({sentence})", volts="12.6").verdict is Verdict.UNKNOWN


def test_of_a_joined_interlock_the_part_is_told_that_decides_against_it() -> None:
    judged = needs("volts above 12 V and start above 12 V", volts="12.6", start="11.0")
    assert (judged.signal, judged.measured) == (START.id, "11.0 V")


def test_a_value_is_said_with_its_unit_and_an_unreadable_one_by_that_word() -> None:
    assert said(latest(Grade.NUMBER, "11.9"), VOLTS) == "11.9 V"
    assert said(latest(Grade.UNREADABLE, "11.9"), VOLTS) == "unreadable"
