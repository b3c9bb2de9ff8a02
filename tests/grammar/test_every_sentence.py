"""Every text that the grammar can derive has one meaning, and its printed phrase has the same one."""

import os
import random
from collections import Counter
from collections.abc import Iterable

import pytest

from grammar.meanings import (
    Ashore,
    Asking,
    AtBoat,
    Attend,
    Confirm,
    Duty,
    DutyOff,
    HandOver,
    Meaning,
    NotUnderstood,
    ProveNumber,
    PutBack,
    Question,
    QuietAlarm,
    RemoveAlarm,
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    Understood,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Why,
    Withdraw,
)
from tests.grammar.every_sentence import MORE, EverySentence, joined
from tests.grammar.test_texts import READER, built, printed

GRAMMAR = built(parser="lalr")
KINDS: dict[str, type] = {
    "status": Question,
    "alarms": Question,
    "phrases": Question,
    "take": TakeAlarm,
    "checked": ResetAlarm,
    "at_boat": AtBoat,
    "ashore": Ashore,
    "take_over": TakeOver,
    "hand_over": HandOver,
    "who_is_on_duty": Question,
    "duty": Duty,
    "duty_off": DutyOff,
    "quiet": QuietAlarm,
    "visit": VisitBegins,
    "visit_over": VisitOver,
    "switch": Switch,
    "confirm": Confirm,
    "withdraw": Withdraw,
    "prove": ProveNumber,
    "shelve": ShelveAlarm,
    "unshelve": UnshelveAlarm,
    "remove": RemoveAlarm,
    "put_back": PutBack,
    "attend": Attend,
}
"""By the rule that derives it, what a text asks for."""

BY_MEANING = {
    "switch": {Why.BAD_TIME, Why.WRONG_ACTION, Why.LIMIT_ON_STOP},
    "shelve": {Why.BAD_TIME},
    "remove": {Why.BAD_TIME},
    "attend": {Why.BAD_TIME},
    "duty": {Why.BAD_TIME},
    "quiet": {Why.BAD_TIME},
}
"""Why a text that fits the grammar may still be refused. Any may be for an alarm's number that begins with a nought."""


def judged(sentences: Iterable[tuple[str, str]]) -> Counter[str]:
    """How many were understood and refused, once each of them has been found to mean one thing or to be refused for
    what it means."""
    kinds: dict[str, str] = {}
    counted: Counter[str] = Counter()
    read_back: dict[Understood, Meaning] = {}
    for kind, text in sentences:
        assert kinds.setdefault(text, kind) == kind, f"{text!r} is {kind} and {kinds[text]}"
        meant = READER.read(text)
        if isinstance(meant, NotUnderstood):
            nought = meant.why is Why.NOT_A_PHRASE and " 0" in f" {text}"
            assert nought or meant.why in BY_MEANING.get(kind, set()), (text, meant)
            counted["refused"] += 1
            continue
        assert type(meant.request) is KINDS[kind], (text, meant)
        if isinstance(meant.request, Question):
            assert meant.request.asking is Asking(kind.replace("_", " ")), (text, meant)
        if meant not in read_back:
            read_back[meant] = READER.read(printed(meant))
        assert read_back[meant] == meant, (text, printed(meant))
        counted["understood"] += 1
    return counted


def test_every_rule_of_a_request_has_its_kind_here() -> None:
    assert {kind for kind, _ in EverySentence(GRAMMAR, few={"_limit": 1, "span": 1}).requests()} == set(KINDS)


def test_every_shape_of_a_text_has_one_meaning_and_prints_back_to_it() -> None:
    counted = judged(EverySentence(GRAMMAR, few={"_limit": 15, "span": 40}).requests())
    assert counted["understood"] > 3_000
    assert counted["refused"] > 0, "the reasons of meaning are among them"


def test_every_limit_of_a_switch_has_one_meaning_and_prints_back_to_it() -> None:
    limits = EverySentence(GRAMMAR).of("_limit")[::2]
    assert judged(("switch", f"generator start {joined(words)}") for words in limits)["understood"] > 1_000


def test_no_courtesy_round_a_text_changes_its_meaning() -> None:
    every, rng = EverySentence(GRAMMAR, without=frozenset()), random.Random(8)
    openings, endings = every.of("_opening"), every.of("_after")
    texts = ["generator start for 2 h", "have it 14", "status", "go teapot marble", "visit over", "in the yard"]
    for _ in range(1_500):
        text = rng.choice(texts)
        wrapped = joined((*rng.choice(openings), text, *rng.choice(endings))).replace(" ,", ",")
        assert READER.read(wrapped) == READER.read(text), wrapped


@pytest.mark.struck
@pytest.mark.timeout(3_000)
def test_texts_up_to_a_far_bound_have_one_meaning_and_print_back_to_it() -> None:
    """One text for each terminal, every shape with many limits; HEAVINGLINE_LIMITS=20000 for all, over a million."""
    many = int(os.environ.get("HEAVINGLINE_LIMITS", "300"))
    counted = judged(EverySentence(GRAMMAR, few={"_limit": many}).requests())
    print(f"\n{counted['understood']} texts understood, {counted['refused']} refused for what they mean")
    assert counted["understood"] > 5 * many


@pytest.mark.struck
@pytest.mark.timeout(3_000)
def test_texts_at_the_ends_of_every_range_have_one_meaning_and_print_back_to_it() -> None:
    counted = judged(EverySentence(GRAMMAR, MORE, few={"_limit": 20, "span": 40}).requests())
    assert counted["understood"] > 1_000
