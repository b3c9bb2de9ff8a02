"""What an installer may write after `when`: sentences, their printing, and the answers to wrong ones."""

import re
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark

import grammar.sentences
from grammar.lengths import DAY, HOUR, MINUTE, SECOND, say_length
from grammar.meanings import Condition, IsContact, IsNumber, IsWord, NoNews, Than
from grammar.sentences import (
    LONGEST_LENGTH,
    WORDS_OF_THE_LANGUAGE,
    SentenceRefused,
    read_condition,
    say_condition,
)
from grammar.wrong_sentences import WRONG_SENTENCES

RIGHT: list[tuple[str, Condition]] = [
    ("bilge-high on", IsContact(signal="bilge-high", wanted=True)),
    ("bilge-high off for 60 s", IsContact(signal="bilge-high", wanted=False, lasting=MINUTE)),
    ("  bilge-high   on  ", IsContact(signal="bilge-high", wanted=True)),
    (
        "house-volts below 12.0 V for 10 min",
        IsNumber(signal="house-volts", than=Than.BELOW, limit=Decimal("12.0"), unit="V", lasting=10 * MINUTE),
    ),
    ("fuel at most 20 %", IsNumber(signal="fuel", than=Than.AT_MOST, limit=Decimal(20), unit="%")),
    ("fuel at least 20%", IsNumber(signal="fuel", than=Than.AT_LEAST, limit=Decimal(20), unit="%")),
    ("cabin above -3.5 C", IsNumber(signal="cabin", than=Than.ABOVE, limit=Decimal("-3.5"), unit="C")),
    ("starts above 5", IsNumber(signal="starts", than=Than.ABOVE, limit=Decimal(5))),
    (
        "co above 35 ppm for 1 min",
        IsNumber(signal="co", than=Than.ABOVE, limit=Decimal(35), unit="ppm", lasting=MINUTE),
    ),
    (
        "run-time above 250 h for 2 days",
        IsNumber(signal="run-time", than=Than.ABOVE, limit=Decimal(250), unit="h", lasting=2 * DAY),
    ),
    ("age above 30 s", IsNumber(signal="age", than=Than.ABOVE, limit=Decimal(30), unit="s")),
    ("selector is REMOTE for 5 s", IsWord(signal="selector", word="REMOTE", lasting=5 * SECOND)),
    ("pump-mode is off", IsWord(signal="pump-mode", word="off")),
    ("no news from heartbeat for 1 h 30 min", NoNews(signal="heartbeat", lasting=90 * MINUTE)),
    ("no news for 1 day", NoNews(signal=None, lasting=DAY)),
    ("no-news-x on", IsContact(signal="no-news-x", wanted=True)),
    ("for-peak off for 2 h", IsContact(signal="for-peak", wanted=False, lasting=2 * HOUR)),
    ("no news from is-on for 10 s", NoNews(signal="is-on", lasting=10 * SECOND)),
    ("on-time above 3 h", IsNumber(signal="on-time", than=Than.ABOVE, limit=Decimal(3), unit="h")),
    ("onboard on", IsContact(signal="onboard", wanted=True)),
]


@pytest.mark.parametrize(("text", "meant"), RIGHT)
def test_a_right_sentence_is_read(text: str, meant: Condition) -> None:
    assert read_condition(text) == meant
    assert read_condition(say_condition(meant)) == meant


def test_the_table_of_wrong_sentences_is_large_enough() -> None:
    assert len(WRONG_SENTENCES) >= 40


@pytest.mark.parametrize(("text", "column", "problem", "remedy"), WRONG_SENTENCES)
def test_a_wrong_sentence_gets_its_answer(text: str, column: int, problem: str, remedy: str) -> None:
    with pytest.raises(SentenceRefused) as refused:
        read_condition(text)
    assert (refused.value.column, refused.value.problem, refused.value.remedy) == (column, problem, remedy)


@pytest.mark.parametrize("remedy", sorted({row[3] for row in WRONG_SENTENCES}))
def test_every_wording_that_is_offered_can_be_read(remedy: str) -> None:
    offered = re.fullmatch(r'Write "(.+)"|Write it like: (.+)', remedy)
    assert offered is not None
    assert read_condition(offered.group(1) or offered.group(2))


def lengths(least: int) -> st.SearchStrategy[int]:
    return st.integers(least, LONGEST_LENGTH // SECOND).map(lambda seconds: seconds * SECOND)


names = st.from_regex(r"[a-z][a-z0-9]{0,7}(-[a-z0-9]{1,6}){0,3}", fullmatch=True).filter(
    lambda name: name not in WORDS_OF_THE_LANGUAGE
)
figures = st.decimals(allow_nan=False, allow_infinity=False, min_value=-100_000, max_value=100_000, places=3)
units = st.sampled_from(["", "V", "A", "%", "C", "L", "m", "ppm", "h", "s", "min", "L/h", "kWh", "m3/h", "day"])
words = st.from_regex(r"[A-Za-z][A-Za-z0-9_-]{0,10}[A-Za-z0-9]", fullmatch=True).filter(
    lambda word: word not in WORDS_OF_THE_LANGUAGE
)
conditions: st.SearchStrategy[Condition] = st.one_of(
    st.builds(IsContact, signal=names, wanted=st.booleans(), lasting=lengths(0)),
    st.builds(IsNumber, signal=names, than=st.sampled_from(Than), limit=figures, unit=units, lasting=lengths(0)),
    st.builds(IsWord, signal=names, word=words, lasting=lengths(0)),
    st.builds(NoNews, signal=st.none() | names, lasting=lengths(1)),
)


@given(conditions)
def test_every_condition_prints_a_sentence_that_reads_back_to_it(condition: Condition) -> None:
    assert read_condition(say_condition(condition)) == condition


PARTS = [*sorted(WORDS_OF_THE_LANGUAGE), "x", "5", "V", "%"]


@settings(max_examples=300)
@given(st.text(max_size=60) | st.lists(st.sampled_from(PARTS)).map(" ".join))
def test_any_text_is_read_or_refused_with_column_problem_and_remedy(text: str) -> None:
    answer = read_or_refused(text)
    if isinstance(answer, SentenceRefused):
        assert 1 <= answer.column <= len(text) + 1
        assert answer.problem
        assert answer.remedy.startswith("Write ")
    else:
        assert read_condition(say_condition(answer)) == answer


def read_or_refused(text: str) -> Condition | SentenceRefused:
    try:
        return read_condition(text)
    except SentenceRefused as refused:
        return refused


def test_the_grammar_has_no_conflict_in_strict_mode_and_a_method_for_every_rule() -> None:
    strict = Lark.open("conditions.lark", rel_to=grammar.sentences.__file__, parser="lalr", lexer="basic", strict=True)
    rules = {str(rule.alias or rule.origin.name) for rule in strict.rules}
    methods = {name for name, value in vars(grammar.sentences._Meaning).items() if callable(value)}
    assert {rule for rule in rules if not rule.startswith("_")} == {
        name for name in methods if not name.startswith("_")
    }


def test_the_words_of_the_language_are_those_of_the_grammar() -> None:
    for word in WORDS_OF_THE_LANGUAGE:
        with pytest.raises(SentenceRefused):
            read_condition(f"{word} on")


@pytest.mark.parametrize(
    ("length", "said"), [(SECOND, "1 s"), (90 * SECOND, "1 min 30 s"), (DAY, "1 day"), (2 * DAY + HOUR, "2 days 1 h")]
)
def test_a_length_of_time_is_said_from_the_longest_unit_to_the_shortest(length: int, said: str) -> None:
    assert say_length(length) == said


@pytest.mark.parametrize("length", [0, -1_000, 1_500])
def test_a_part_of_a_second_cannot_be_said(length: int) -> None:
    with pytest.raises(ValueError, match="whole number of seconds"):
        say_length(length)
