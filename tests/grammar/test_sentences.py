"""What an installer may write after `when`: sentences, their printing, and the answers to wrong ones."""

import re
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark

import grammar.sentences
from grammar.condition_parts import LONGEST_WINDOW
from grammar.condition_tree import LONGEST_LENGTH, SHORTEST_TREND, ConditionTree
from grammar.lengths import DAY, HOUR, MINUTE, SECOND, say_length
from grammar.meanings import (
    Both,
    Condition,
    Either,
    FixesAway,
    Gone,
    HasChanged,
    IsBand,
    IsCompared,
    IsContact,
    IsMoving,
    IsNot,
    IsNumber,
    IsUnbelievable,
    IsUnreadable,
    IsWord,
    NoNews,
    RanLonger,
    StartedOften,
    StartsGrow,
    Than,
    Trend,
    While,
    leaves_of,
    say_condition,
    signals_of,
)
from grammar.sentences import (
    DEEPEST,
    LONGEST_SENTENCE,
    WORDS_OF_THE_LANGUAGE,
    SentenceRefused,
    read_clearing,
    read_condition,
)
from grammar.wrong_sentences import WRONG_SENTENCES
from tests.effort import tries

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
    (
        "house-volts below 12.0 V with deadband 0.2 V for 10 min",
        IsNumber(
            signal="house-volts",
            than=Than.BELOW,
            limit=Decimal("12.0"),
            unit="V",
            deadband=Decimal("0.2"),
            lasting=10 * MINUTE,
        ),
    ),
    ("tank above 5 in", IsNumber(signal="tank", than=Than.ABOVE, limit=Decimal(5), unit="in")),
    (
        "supply outside 11.5 V and 15.0 V for 30 s",
        IsBand(signal="supply", outside=True, low=Decimal("11.5"), high=Decimal("15.0"), unit="V", lasting=30 * SECOND),
    ),
    (
        "outside between -5 and 5 C",
        IsBand(signal="outside", outside=False, low=Decimal(-5), high=Decimal(5), unit="C"),
    ),
    ("start-volts below house-volts", IsCompared(signal="start-volts", than=Than.BELOW, other="house-volts")),
    (
        "sea above cabin by 5 C with deadband 1 C for 1 h",
        IsCompared(
            signal="sea",
            than=Than.ABOVE,
            other="cabin",
            by=Decimal(5),
            unit="C",
            deadband=Decimal(1),
            lasting=HOUR,
        ),
    ),
    ("hatch changed", HasChanged(signal="hatch")),
    ("heartbeat changed in the last 10 min", HasChanged(signal="heartbeat", window=10 * MINUTE)),
    (
        "bilge-pump on for more than 20 min in the last hour",
        RanLonger(signal="bilge-pump", wanted=True, more_than=20 * MINUTE, window=HOUR),
    ),
    (
        "shore off for more than 2 h in the last day for 5 min",
        RanLonger(signal="shore", wanted=False, more_than=2 * HOUR, window=DAY, lasting=5 * MINUTE),
    ),
    (
        "bilge-pump started more than 3 times in the last 1 h 30 min",
        StartedOften(signal="bilge-pump", more_than=3, window=90 * MINUTE),
    ),
    (
        "bilge-pump started more than 2 times its mean of 7 days in the last hour",
        StartedOften(signal="bilge-pump", more_than=2, window=HOUR, mean_of=7 * DAY),
    ),
    (
        "bilge-pump started at least 2 times as often as the hour before in each of the last 2 hours",
        StartsGrow(signal="bilge-pump", times=2, hours=2),
    ),
    (
        "hours started at least 3 times as often as the hour before in each of the last 4 hours for 5 min",
        StartsGrow(signal="hours", times=3, hours=4, lasting=5 * MINUTE),
    ),
    (
        "engine-hours above 250 hours",
        IsNumber(signal="engine-hours", than=Than.ABOVE, limit=Decimal(250), unit="hours"),
    ),
    (
        "fuel falling faster than 2 % an hour",
        IsMoving(signal="fuel", trend=Trend.FALLING, faster_than=Decimal(2), unit="%"),
    ),
    (
        "cabin rising faster than 1.5 C an hour over 2 h for 10 min",
        IsMoving(
            signal="cabin",
            trend=Trend.RISING,
            faster_than=Decimal("1.5"),
            unit="C",
            window=2 * HOUR,
            lasting=10 * MINUTE,
        ),
    ),
    ("cabin unreadable 5 times", IsUnreadable(signal="cabin", times=5)),
    ("cabin unreadable 1 time", IsUnreadable(signal="cabin", times=1)),
    ("cabin not believable for 5 min", IsUnbelievable(signal="cabin", lasting=5 * MINUTE)),
    (
        "3 of 5 fixes of position further than 25 m from 50.0010, -5.0005",
        FixesAway(
            signal="position",
            count=3,
            of=5,
            within=False,
            metres=Decimal(25),
            lat=Decimal("50.0010"),
            lon=Decimal("-5.0005"),
        ),
    ),
    (
        "5 of 5 fixes of position within 25 m of its set position for 1 min",
        FixesAway(signal="position", count=5, of=5, within=True, metres=Decimal(25), lasting=MINUTE),
    ),
    (
        "shore off and house-volts below 12.2 V for 10 min",
        Both(
            parts=(
                IsContact(signal="shore", wanted=False),
                IsNumber(signal="house-volts", than=Than.BELOW, limit=Decimal("12.2"), unit="V"),
            ),
            lasting=10 * MINUTE,
        ),
    ),
    (
        "(one on or two on) and not three off",
        Both(
            parts=(
                Either(parts=(IsContact(signal="one", wanted=True), IsContact(signal="two", wanted=True))),
                IsNot(part=IsContact(signal="three", wanted=False)),
            )
        ),
    ),
    (
        "not (heartbeat changed in the last 10 min)",
        IsNot(part=HasChanged(signal="heartbeat", window=10 * MINUTE)),
    ),
    (
        "fridge above 8 C for 2 h while shore on",
        While(
            part=IsNumber(signal="fridge", than=Than.ABOVE, limit=Decimal(8), unit="C"),
            also=IsContact(signal="shore", wanted=True),
            lasting=2 * HOUR,
        ),
    ),
    (
        "fridge above 8 C while shore on for 2 h",
        While(
            part=IsNumber(signal="fridge", than=Than.ABOVE, limit=Decimal(8), unit="C"),
            also=IsContact(signal="shore", wanted=True),
            lasting=2 * HOUR,
        ),
    ),
    (
        "(shore off and no news from heartbeat for 10 min) for 5 min",
        Both(
            parts=(IsContact(signal="shore", wanted=False), NoNews(signal="heartbeat", lasting=10 * MINUTE)),
            lasting=5 * MINUTE,
        ),
    ),
]


@pytest.mark.parametrize(("text", "meant"), RIGHT)
def test_a_right_sentence_is_read(text: str, meant: Condition) -> None:
    assert read_condition(text) == meant
    assert read_condition(say_condition(meant)) == meant


def test_the_table_of_wrong_sentences_is_large_enough() -> None:
    assert len(WRONG_SENTENCES) >= 100


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


def test_what_clears_may_also_be_that_it_is_gone() -> None:
    assert read_clearing("gone for 60 s") == Gone(lasting=MINUTE)
    assert read_clearing("gone") == Gone()
    assert say_condition(Gone(lasting=MINUTE)) == "gone for 1 min"
    assert read_clearing("shore on") == IsContact(signal="shore", wanted=True)


names = st.from_regex(r"[a-z][a-z0-9]{0,7}(-[a-z0-9]{1,6}){0,3}", fullmatch=True).filter(
    lambda name: name not in WORDS_OF_THE_LANGUAGE
)
figures = st.decimals(allow_nan=False, allow_infinity=False, min_value=-100_000, max_value=100_000, places=3)
units = st.sampled_from(["", "V", "A", "%", "C", "L", "m", "ppm", "h", "s", "min", "L/h", "kWh", "m3/h", "day"])
words = st.from_regex(r"[A-Za-z][A-Za-z0-9_-]{0,10}[A-Za-z0-9]", fullmatch=True).filter(
    lambda word: word not in WORDS_OF_THE_LANGUAGE
)
positive = st.decimals(allow_nan=False, allow_infinity=False, min_value="0.001", max_value=1_000, places=3)
deadbands = st.none() | positive
windows = st.integers(61, LONGEST_WINDOW // SECOND).map(lambda seconds: seconds * SECOND)


def bands(low: Decimal, width: Decimal, deadband: Decimal | None, **more: object) -> IsBand:
    """A band that is wider than its deadbands."""
    high = low + width + 2 * (deadband or 0)
    return IsBand(low=low, high=high, deadband=deadband, **more)  # type: ignore[arg-type]


def compared(by: Decimal | None, unit: str, deadband: Decimal | None, **more: object) -> IsCompared:
    """One that has a unit only where a figure stands."""
    said = unit if by is not None or deadband is not None else ""
    return IsCompared(by=by, unit=said, deadband=deadband, **more)  # type: ignore[arg-type]


def fixes(of: int, share: int, place: tuple[Decimal, Decimal] | None, **more: object) -> FixesAway:
    """One of which not more are asked than there are."""
    lat, lon = place or (None, None)
    return FixesAway(count=1 + share % of, of=of, lat=lat, lon=lon, **more)  # type: ignore[arg-type]


degrees = st.tuples(
    st.decimals(min_value=-90, max_value=90, places=4), st.decimals(min_value=-180, max_value=180, places=4)
)
delayed = lengths(0)


def single(lasting: st.SearchStrategy[int]) -> st.SearchStrategy[Condition]:
    """Every kind that is not made of others."""
    return st.one_of(
        st.builds(IsContact, signal=names, wanted=st.booleans(), lasting=lasting),
        st.builds(
            IsNumber,
            signal=names,
            than=st.sampled_from(Than),
            limit=figures,
            unit=units,
            deadband=deadbands,
            lasting=lasting,
        ),
        st.builds(
            bands,
            low=figures,
            width=positive,
            deadband=deadbands,
            signal=st.shared(names),
            outside=st.booleans(),
            unit=units,
            lasting=lasting,
        ),
        st.builds(
            compared,
            by=st.none() | figures,
            unit=units,
            deadband=deadbands,
            signal=names,
            than=st.sampled_from(Than),
            other=names,
            lasting=lasting,
        ),
        st.builds(IsWord, signal=names, word=words, lasting=lasting),
        st.builds(HasChanged, signal=names, window=st.just(0) | windows, lasting=lasting),
        st.builds(
            RanLonger,
            signal=names,
            wanted=st.booleans(),
            more_than=st.integers(1, 60).map(lambda seconds: seconds * SECOND),
            window=windows,
            lasting=lasting,
        ),
        st.builds(StartedOften, signal=names, more_than=st.integers(0, 1_000), window=windows, lasting=lasting),
        st.builds(
            StartedOften,
            signal=names,
            more_than=st.integers(1, 1_000),
            window=st.just(HOUR),
            mean_of=st.sampled_from([DAY, 7 * DAY]),
            lasting=lasting,
        ),
        st.builds(StartsGrow, signal=names, times=st.integers(2, 1_000), hours=st.integers(2, 6), lasting=lasting),
        st.builds(
            IsMoving,
            signal=names,
            trend=st.sampled_from(Trend),
            faster_than=positive,
            unit=units,
            window=windows.map(lambda window: window + SHORTEST_TREND).filter(lambda w: w <= LONGEST_WINDOW),
            lasting=lasting,
        ),
        st.builds(IsUnreadable, signal=names, times=st.integers(1, 1_000), lasting=lasting),
        st.builds(IsUnbelievable, signal=names, lasting=lasting),
        st.builds(
            fixes,
            of=st.integers(1, 20),
            share=st.integers(0, 100),
            place=st.none() | degrees,
            signal=names,
            within=st.booleans(),
            metres=positive,
            lasting=lasting,
        ),
        st.builds(NoNews, signal=st.none() | names, lasting=lengths(1)),
    )


def joined(parts: st.SearchStrategy[Condition], lasting: st.SearchStrategy[int]) -> st.SearchStrategy[Condition]:
    """Kinds that are made of these."""
    several = st.lists(parts, min_size=2, max_size=3).map(tuple)
    return st.one_of(
        st.builds(Both, parts=several, lasting=lasting),
        st.builds(Either, parts=several, lasting=lasting),
        st.builds(IsNot, part=parts, lasting=lasting),
        st.builds(While, part=parts, also=parts, lasting=lasting),
    )


none = st.just(0)
nested = st.recursive(single(none), lambda inner: joined(inner, none), max_leaves=5)
conditions = (single(delayed) | joined(nested, delayed)).filter(lambda one: len(say_condition(one)) <= LONGEST_SENTENCE)


@given(conditions)
def test_every_condition_prints_a_sentence_that_reads_back_to_it(condition: Condition) -> None:
    assert read_condition(say_condition(condition)) == condition


@given(conditions)
def test_a_sentence_names_the_signals_of_all_its_parts(condition: Condition) -> None:
    named = {leaf.signal for leaf in leaves_of(condition)} | {
        leaf.other for leaf in leaves_of(condition) if isinstance(leaf, IsCompared)
    }
    assert set(signals_of(condition)) == named - {None}


def test_brackets_are_read_as_deep_as_allowed_and_no_deeper() -> None:
    deep = "(" * DEEPEST + "shore off" + ")" * DEEPEST
    assert read_condition(deep) == IsContact(signal="shore", wanted=False)
    with pytest.raises(SentenceRefused, match="more than 8 brackets"):
        read_condition(f"({deep})")


OTHER_WORDS = (
    "outside between changed started more than times in the last hour rising falling faster an over unreadable "
    "believable fixes of further within its set position with deadband by as often before each hours ( ) ,"
)
PARTS = [*sorted(WORDS_OF_THE_LANGUAGE), *OTHER_WORDS.split(), "x", "5", "V", "%", "m"]


@settings(max_examples=tries(300))
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
    methods = {name for name, value in vars(ConditionTree).items() if callable(value)}
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
