"""What a person may text: tables, round trips, every sentence once, hostile texts."""

import random
import re
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark
from lark.lexer import PatternStr

import grammar.texts
from grammar.carrier_words import CARRIER_WORDS, begins_with_carrier_word
from grammar.examples import (
    EXAMPLE_BOATS,
    EXAMPLE_EQUIPMENT,
    EXAMPLE_NAMES,
    EXAMPLE_PEOPLE,
    EXAMPLE_SUBJECTS,
    accepted,
    refused,
)
from grammar.meanings import (
    Asking,
    Confirm,
    Duty,
    DutyOff,
    NotUnderstood,
    PaperLine,
    PhoneLost,
    ProveNumber,
    Question,
    QuietAlarm,
    Request,
    ResetAlarm,
    Switch,
    TakeAlarm,
    Understood,
    VisitBegins,
    VisitOver,
    Why,
    Withdraw,
)
from grammar.names import Branch, Vocabulary
from grammar.phrases import say
from grammar.texts import GRAMMAR, TextReader
from grammar.tree_meaning import TreeMeaning
from grammar.tree_times import TimesOfTree
from tests.effort import tries

READER = TextReader(EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_SUBJECTS, people=EXAMPLE_PEOPLE)
BOAT_PHRASES = {key: phrase.lower() for phrase, key in EXAMPLE_BOATS.items()}
PAIRS = dict(EXAMPLE_EQUIPMENT.values())
OPPOSITE = {one: other for pair in PAIRS.values() for one, other in (pair, pair[::-1])}


def printed(meant: Understood) -> str:
    front = f"{BOAT_PHRASES[meant.boat]} " if meant.boat else ""
    return front + say(meant.request, EXAMPLE_NAMES)


@cache  # building takes most of a second, and three files of tests ask for the same
def built(**options: object) -> Lark:
    tree = Branch()
    for phrase, key in EXAMPLE_BOATS.items():
        tree.add(phrase.lower().split(), "BOAT", key)
    for phrase, (key, _) in EXAMPLE_EQUIPMENT.items():
        tree.add(phrase.split(), "EQUIPMENT", key)
    for phrase in EXAMPLE_SUBJECTS:
        tree.add([phrase], "SUBJECT", phrase)
    named = Branch()
    for phrase, key in EXAMPLE_PEOPLE.items():
        named.add(phrase.lower().split(), "PERSON", key)
    return Lark.open(
        GRAMMAR,
        rel_to=grammar.texts.__file__,
        start="text",
        lexer="basic",
        postlex=Vocabulary(tree, people=named),
        **options,
    )


# ---------------------------------------------------------------- tables


def test_the_tables_are_large_enough() -> None:
    assert len(accepted()) >= 120
    assert len(refused()) >= 150


@pytest.mark.parametrize(("text", "phrase"), accepted())
def test_an_accepted_text_means_its_printed_phrase(text: str, phrase: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, Understood)
    assert printed(meant) == phrase
    assert READER.read(phrase) == meant


def wrongly_read(rows: list[tuple[str, str, tuple[str, ...]]]) -> list[str]:
    """The texts of `rows` that are not refused as they should be."""
    return [
        text
        for text, why, offered in rows
        if READER.read(text)
        != NotUnderstood(
            why=Why(why),
            nearest=offered,
            equipment=_named(text, why),
            boat=_boat_kept(text, why),
            alarm=_alarm_named(text, why),
        )
    ]


def _alarm_named(text: str, why: str) -> int | None:
    """The number that stands with a mere answer."""
    numbers = re.findall(r"[0-9]+", text) if why == Why.MERE_ANSWER else []
    return int(numbers[0]) if numbers else None


def _named(text: str, why: str) -> str | None:
    """The equipment that the answer must name, for the two reasons that name one."""
    if why not in (Why.WRONG_ACTION, Why.LIMIT_ON_STOP):
        return None
    return next(key for phrase, (key, _) in EXAMPLE_EQUIPMENT.items() if phrase in text)


def _boat_kept(text: str, why: str) -> str | None:
    """The boat that was named beside that equipment or person, or before a mere answer, so that the answer keeps it."""
    named = why in (Why.WRONG_ACTION, Why.LIMIT_ON_STOP, Why.NOBODY_KNOWN, Why.MERE_ANSWER)
    return next((key for phrase, key in EXAMPLE_BOATS.items() if named and phrase.lower() in text.lower()), None)


@pytest.mark.parametrize(("text", "alarm"), [("4 ok", 4), ("ok #14", 14), ("ok", None), ("got it 4 ok 14", None)])
def test_a_mere_answer_says_which_alarm_it_names_if_it_names_one(text: str, alarm: int | None) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert (meant.why, meant.alarm) == (Why.MERE_ANSWER, alarm)


def test_a_refused_text_gets_its_reason_and_its_offers() -> None:
    assert wrongly_read(refused()) == []


def test_the_table_of_refused_texts_fails_when_the_reader_accepts_one() -> None:
    for text, _ in accepted():
        assert wrongly_read([(text, "not a phrase", ())]) == [text]


@pytest.mark.parametrize(
    ("text", "key"), [("gen stop for 2 h", "generator"), ("diesel heater off until noon", "heater")]
)
def test_a_limit_on_a_stop_names_the_equipment_by_its_key(text: str, key: str) -> None:
    assert READER.read(text) == NotUnderstood(why=Why.LIMIT_ON_STOP, equipment=key)


ELSEWHERE = (Why.TOO_LONG, Why.NOT_FITTED, Why.AT_THE_BOAT_ONLY, Why.PROOF_ALONE)
"""Reasons that this table cannot hold: of long texts, of what is fitted, of the desk."""


@pytest.mark.parametrize("why", [why for why in Why if why not in ELSEWHERE])
def test_every_reason_stands_in_the_table(why: Why) -> None:
    assert any(row[1] == why for row in refused())


def test_a_text_of_1600_characters_is_read_and_a_longer_one_is_not() -> None:
    assert isinstance(READER.read("status" + " " * 1_594), Understood)
    assert READER.read("status" + " " * 1_595) == NotUnderstood(why=Why.TOO_LONG)


def test_more_than_160_characters_after_cleaning_are_too_long() -> None:
    assert READER.read("a" * 160) == NotUnderstood(why=Why.NOT_A_PHRASE)
    assert READER.read("a" * 161) == NotUnderstood(why=Why.TOO_LONG)
    assert READER.read("\ufdfa" * 1_600) == NotUnderstood(why=Why.TOO_LONG)


# ---------------------------------------------------------------- the grammar itself


def test_the_grammar_has_no_conflict_in_strict_mode() -> None:
    assert built(parser="lalr", strict=True).parse("status")


def test_every_rule_has_a_method_and_every_method_a_rule() -> None:
    rules = {str(rule.alias or rule.options.template_source or rule.origin.name) for rule in built(parser="lalr").rules}
    wanted = {name for name in rules if not name.startswith("_")}
    ours = vars(TimesOfTree) | vars(TreeMeaning)
    methods = {name for name, value in ours.items() if callable(value) and not name.startswith("_")}
    assert wanted == methods


def test_every_keyword_is_one_plain_lower_case_word() -> None:
    keywords = [term.pattern.value for term in built(parser="lalr").terminals if isinstance(term.pattern, PatternStr)]
    assert [word for word in keywords if not re.fullmatch(r"[a-z]+('[a-z]+)?|[?,#]", word)] == []


def requests() -> st.SearchStrategy[Request]:
    alarms = st.none() | st.integers(1, 9_999)
    words = st.tuples(*[st.sampled_from(["teapot", "marble", "walrus", "onyx"])] * 2)
    plain = st.sampled_from(sorted(PAIRS)).flatmap(
        lambda key: st.builds(Switch, equipment=st.just(key), action=st.sampled_from(PAIRS[key]))
    )
    startable = [(key, action) for key, pair in PAIRS.items() for action in pair if action not in ("stop", "close")]
    limited = st.sampled_from(startable).flatmap(
        lambda one: (
            st.builds(Switch, equipment=st.just(one[0]), action=st.just(one[1]), minutes=st.integers(1, 1_440))
            | st.builds(Switch, equipment=st.just(one[0]), action=st.just(one[1]), until=st.integers(0, 1_439))
        )
    )
    return st.one_of(
        st.builds(Question, asking=st.sampled_from(Asking)),
        st.builds(Question, asking=st.just(Asking.STATUS), equipment=st.sampled_from(sorted(PAIRS))),
        st.builds(Question, asking=st.just(Asking.STATUS), subject=st.sampled_from(EXAMPLE_SUBJECTS)),
        st.builds(TakeAlarm, alarm=alarms),
        st.builds(ResetAlarm, alarm=alarms),
        st.just(VisitBegins()),
        st.just(VisitOver()),
        plain,
        limited,
        st.builds(Confirm, words=words),
        st.builds(Confirm, words=words, line=st.builds(PaperLine, number=st.integers(0, 999), words=words)),
        st.builds(Withdraw, words=words),
        st.builds(ProveNumber, words=words),
        st.builds(PhoneLost, person=st.none() | st.sampled_from(sorted(set(EXAMPLE_PEOPLE.values())))),
        st.builds(
            Duty,
            person=st.none() | st.sampled_from(sorted(set(EXAMPLE_PEOPLE.values()))),
            weekday=st.none() | st.integers(0, 6),
        ),
        st.builds(Duty, minute=st.integers(0, 1_439)),
        st.just(DutyOff()),
        st.builds(QuietAlarm, alarm=st.integers(1, 9_999), minutes=st.integers(1, 1_440)),
    )


meanings = st.builds(Understood, request=requests(), boat=st.none() | st.sampled_from(sorted(BOAT_PHRASES)))


@given(meanings)
def test_every_request_has_a_printed_phrase_that_reads_back(meant: Understood) -> None:
    assert READER.read(printed(meant)) == meant
    assert READER.read(printed(meant).upper()) == meant


@given(meanings)
def test_no_printed_phrase_is_or_begins_with_a_word_that_carriers_act_on(meant: Understood) -> None:
    assert not begins_with_carrier_word(printed(meant))


@given(requests())
def test_a_printed_switch_begins_with_its_equipment(request: Request) -> None:
    if isinstance(request, Switch):
        assert say(request, EXAMPLE_NAMES).startswith(EXAMPLE_NAMES[request.equipment])


@pytest.mark.parametrize("word", sorted(CARRIER_WORDS))
@pytest.mark.parametrize("form", [str.lower, str.upper, str.title])
def test_a_carriers_word_alone_is_never_a_command(word: str, form: object) -> None:
    answer = READER.read(form(word))  # type: ignore[operator]
    assert isinstance(answer, NotUnderstood)
    assert answer.why in (Why.OPT_OUT, Why.OPT_IN)


def derived(rng: random.Random) -> str:
    """One text by chance, from the parts that the language has."""
    name = rng.choice(sorted(EXAMPLE_EQUIPMENT))
    action = rng.choice(["start", "stop", "on", "off", "open", "close", "shut down", "run"])
    limit = rng.choice(
        ["", "", " for 2 h", " 90 min", " for an hour and a half", " until 18:00", " til 6pm", " 1h30", " half an hour"]
    )
    body = rng.choice(
        [
            f"{name} {'start' if action == 'run' else 'stop' if action == 'shut down' else action}{limit}",
            f"{f'turn {action}' if action in ('on', 'off') else action} {name}{limit}",
            f"turn the {name} {rng.choice(['on', 'off'])}{limit}",
            f"switch {rng.choice(['on', 'off'])} my {name}{limit}",
            f"have it {rng.randint(1, 9_999)}",
            f"ack alarm {rng.randint(1, 999)}",
            f"reset {rng.randint(1, 999)}",
            f"{rng.choice(['go', 'drop'])} teapot marble",
            rng.choice(["status", "alarms?", "commands", "mine", "checked", "visit", "visit over"]),
        ]
    )
    boat = rng.choice(["", "", f"{rng.choice(sorted(BOAT_PHRASES.values()))} "])
    return (
        rng.choice(["", "hi ", "hello, ", "please "])
        + boat
        + body
        + rng.choice(["", "", " please", ", thanks", " thank you"])
    )


@pytest.mark.long
def test_every_derived_text_has_one_reading_only() -> None:
    sure, searching = built(parser="lalr"), built(parser="earley", ambiguity="explicit")
    rng = random.Random(7)
    for _ in range(100):
        text = derived(rng)
        tree = searching.parse(text)
        assert not list(tree.find_data("_ambig")), text
        assert tree == sure.parse(text), text


# ---------------------------------------------------------------- what must never happen

WORDS = sorted(
    {
        *(word for text, _ in accepted() for word in text.split()),
        *(word for row in refused() for word in row[0].split()),
    }
)


def test_thousands_of_texts_of_chance_raise_nothing_and_switch_nothing_unread() -> None:
    rng = random.Random(20)
    for _ in range(tries(2_500)):
        words = rng.choices(WORDS, k=rng.randint(0, 7))
        text = rng.choice([" ", "  ", ""]).join(words)
        meant = READER.read(text)
        if isinstance(meant, Understood):
            assert READER.read(printed(meant)) == meant


@settings(max_examples=tries(400), deadline=None)
@given(st.text(max_size=200))
def test_any_text_at_all_raises_nothing(text: str) -> None:
    assert isinstance(READER.read(text), Understood | NotUnderstood)


def edited(text: str, rng: random.Random) -> str:
    place = rng.randrange(len(text))
    letter = rng.choice("abcdefghijklmnopqrstuvwxyz ")
    return rng.choice(
        [
            text[:place] + text[place + 1 :],
            text[:place] + letter + text[place:],
            text[:place] + letter + text[place + 1 :],
        ]
    )


def test_start_and_stop_are_never_confused_under_two_edits() -> None:
    rng = random.Random(3)
    for _ in range(2_500):
        action = rng.choice(["start", "stop"])
        text = edited(edited(f"generator {action}", rng), rng)
        meant = READER.read(text)
        if isinstance(meant, Understood) and isinstance(meant.request, Switch):
            assert meant.request.action == action, text


def test_on_and_off_are_never_confused_under_one_edit() -> None:
    rng = random.Random(4)
    for _ in range(tries(2_000)):
        action = rng.choice(["on", "off"])
        text = edited(f"fridge {action}", rng)
        meant = READER.read(text)
        if isinstance(meant, Understood) and isinstance(meant.request, Switch):
            assert meant.request.action == action, text


def test_an_offered_switch_always_has_its_opposite_beside_it() -> None:
    rng = random.Random(5)
    offers = 0
    for _ in range(2_000):
        name = rng.choice(sorted(EXAMPLE_EQUIPMENT))
        text = edited(edited(f"{name} {rng.choice(EXAMPLE_EQUIPMENT[name][1])}", rng), rng)
        answer = READER.read(text)
        if not isinstance(answer, NotUnderstood):
            continue
        alike = any("bilge pump" in phrase for phrase in answer.nearest)  # two that come equally near
        assert len(answer.nearest) <= (4 if alike else 3)
        for phrase in answer.nearest:
            words, _, action = phrase.rpartition(" ")
            if action in OPPOSITE:
                offers += 1
                assert f"{words} {OPPOSITE[action]}" in answer.nearest, text
    assert offers > 500


@pytest.mark.parametrize("word", ["not", "never", "if", "when", "was", "should", "and", "tomorrow", "liked"])
def test_a_word_that_turns_the_meaning_gets_no_phrase_offered(word: str) -> None:
    for text in (f"{word} generator start", f"generator {word} start", f"generator start {word}"):
        answer = READER.read(text)
        assert isinstance(answer, NotUnderstood)
        assert answer.nearest == ()
