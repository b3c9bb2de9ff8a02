"""Opposites lie so far from one another that two slips of a finger never make one of the other: over every name and
every wording that the starter has, in each language. The words "on" and "off" are two slips apart and no more; so those
turn one into the other, but only both together and in that very word. A code is asked for either, and says for what."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from pathlib import Path

import pytest
from rapidfuzz.distance import OSA

from grammar.cleaning import folded
from grammar.language import Language
from grammar.languages import LANGUAGES
from grammar.meanings import (
    Ashore,
    AtBoat,
    Attend,
    Confirm,
    HandOver,
    PutBack,
    RemoveAlarm,
    Request,
    ShelveAlarm,
    Switch,
    TakeOver,
    Understood,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Withdraw,
)
from grammar.names import Pair
from grammar.texts import TextReader
from tests.documents.texts import starter
from tests.effort import some_of
from tests.grammar.every_sentence import COURTESY, SAMPLES, EverySentence, Words, joined
from tests.grammar.test_texts import built

TWO_SLIPS_APART = ({"on", "off"}, {"an", "aus"})
"""Opposite words that two slips make of one another."""


def catalogue() -> dict[str, tuple[Pair, dict[str, tuple[str, ...]]]]:
    """Key -> (its pair, its names by language) of every equipment in the starter's standards."""
    found: dict[str, tuple[Pair, dict[str, tuple[str, ...]]]] = {}
    for file in sorted(STANDARDS.glob("*.toml")):
        for key, table in tomllib.loads(file.read_text(encoding="utf-8")).get("equipment", {}).items():
            if "spoken_names" in table:
                one, other = table["pair"]
                said = {"en": table["spoken_names"], **table["names"]}
                found[key] = ((one, other), {own: tuple(map(folded, names)) for own, names in said.items()})
    return found


STANDARDS = Path(__file__).parents[2] / "config/standard"
THINGS = catalogue()
GRAMMAR = built(parser="lalr")
LEFT_OUT = COURTESY | {"_before", "_place", "asked"}
ONCE = {"span": 1, "days": 1}

Sides = dict[str, tuple[list[str], list[str]]]


def side(request: Request) -> tuple[str, int] | None:
    """(of which pair of opposites, which of the two); None for what has no opposite."""
    for pair in (
        (VisitBegins, VisitOver),
        (Confirm, Withdraw),
        (ShelveAlarm, UnshelveAlarm),
        (RemoveAlarm, PutBack),
        (AtBoat, Ashore),
        (TakeOver, HandOver),
    ):
        if isinstance(request, pair):
            return pair[0].__name__, int(isinstance(request, pair[1]))
    if isinstance(request, Attend):
        return "kept", int(request.kept != "away")
    if isinstance(request, Switch):
        return request.equipment, THINGS[request.equipment][0].index(request.action)
    return None


def names_in(language: Language) -> dict[str, tuple[str, ...]]:
    """Key of each equipment -> its names in this language."""
    return {key: names[language.key] for key, (_, names) in THINGS.items()}


def said_in(language: Language, words: Words) -> Iterator[str]:
    """Every way to say a sentence of the grammar in `language`."""
    if not language.words:
        yield joined(words)
        return
    named = (name for names in names_in(language).values() for name in names)
    passed = {each for every in SAMPLES.values() for each in map(folded, every)} | set(named)
    ways: list[list[tuple[str, ...]]] = [[()], *([] for _ in words)]
    for at, word in enumerate(words):
        fits = [(1, word)] if word in passed else []
        for wording, meant in language.words.items():
            length = len(meant.split())
            if " ".join(words[at : at + length]) == meant:
                fits += [(length, spelling) for spelling in language.spellings(folded(wording))]
        for before, (length, wording) in product(ways[at], fits):
            ways[at + length].append((*before, wording))
    yield from map(" ".join, ways[-1])


def sides_in(language: Language) -> Sides:
    """Every text of the language that has an opposite, by pair of opposites and by which of the two it means."""
    found: Sides = {}
    names = names_in(language)
    for key, called in names.items():
        reader = TextReader({}, dict.fromkeys(called, (key, THINGS[key][0])), (), language)
        samples = {**SAMPLES, "EQUIPMENT": called}
        for kind, words in all_words(samples):
            if kind != "switch" and key != next(iter(names)):
                continue
            for text in said_in(language, words):
                meant = reader.read(text)
                where = side(meant.request) if isinstance(meant, Understood) else None
                if where is not None:
                    found.setdefault(where[0], ([], []))[where[1]].append(text)
    return found


def all_words(samples: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, Words]]:
    switching = EverySentence(GRAMMAR, samples, without=LEFT_OUT | {"_limit", "_the"})
    yield from (("switch", words) for words in switching.of("switch"))
    every = EverySentence(GRAMMAR, samples, without=LEFT_OUT, few=ONCE)
    for kind in ("visit", "visit_over", "confirm", "withdraw", "shelve", "unshelve", "remove", "put_back", "attend"):
        yield from ((kind, words) for words in every.of(kind))
    for kind in ("at_boat", "ashore", "take_over", "hand_over"):
        yield from ((kind, words) for words in every.of(kind))


def near_opposites(sides: Sides) -> Iterator[tuple[str, str]]:
    """Texts of opposite meaning that two slips (a letter out, in or changed, two swapped) make of one another."""
    for ones, others in sides.values():
        for one, other in product(ones, others):
            if OSA.distance(one, other, score_cutoff=2) <= 2:
                yield one, other


def one_word_turned(one: str, other: str) -> set[str]:
    """The two words in which the texts differ, when it is one word only."""
    pairs = [set(pair) for pair in zip(one.split(), other.split(), strict=False) if pair[0] != pair[1]]
    return pairs[0] if len(pairs) == 1 and len(one.split()) == len(other.split()) else set()


@pytest.mark.parametrize("language", some_of(LANGUAGES.values(), 2), ids=LANGUAGES)
def test_two_slips_turn_no_order_into_its_opposite_but_where_both_hit_the_word_on_or_off(language: Language) -> None:
    sides = sides_in(language)
    assert {
        "VisitBegins",
        "Confirm",
        "ShelveAlarm",
        "RemoveAlarm",
        "AtBoat",
        "TakeOver",
        "kept",
        *names_in(language),
    } == set(sides)
    assert all(ones and others for ones, others in sides.values())
    turned = list(near_opposites(sides))
    assert [pair for pair in turned if one_word_turned(*pair) not in TWO_SLIPS_APART] == []
    assert turned, "a distance that finds nothing would prove nothing"


def test_every_equipment_of_the_starter_is_among_them() -> None:
    assert {piece.key for piece in starter().equipment.values()} < set(THINGS)
