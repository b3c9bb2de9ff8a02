"""Which names may be used, and that the check at the start finds those that would be misread."""

import pytest

from grammar.german import GERMAN
from grammar.meanings import NotUnderstood, Switch, Why
from grammar.names import Pair
from grammar.texts import TextReader

SS: Pair = ("start", "stop")
OO: Pair = ("on", "off")


def reader(*names: str, boats: tuple[str, ...] = ()) -> TextReader:
    return TextReader({name: f"boat-{name}" for name in boats}, {name: (f"key-{name}", OO) for name in names})


def test_good_names_have_no_problem() -> None:
    names = (
        "generator",
        "12v pump",
        "on board light",
        "go light",
        "port/stbd pump",
        "captain's cabin",
        "Kühlschrank",
        "насос",
    )
    assert reader(*names, boats=("Grey Wagtail", "Salt Harrier")).problems() == ()


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("", "empty"),
        ("2", "fewer than two letters"),
        ("a", "fewer than two letters"),
        ("stop", "carriers act on"),
        ("STOP", "carriers act on"),
        ("Info", "carriers act on"),
        ("stop light", "begins with"),
        ("end table", "begins with"),
        ("status", "words of the text language alone"),
        ("visit", "words of the text language alone"),
        ("off", "words of the text language alone"),
        ("pump.", "mark"),
        ('the "pump"', "mark"),
        ("pump*", "mark"),
        ("for 2 hours", "words of the text language alone"),
        ("a b c d e f g h i j k l m n o p q r s t u v", "longer"),
    ],
)
def test_a_name_that_cannot_be_used_is_named_with_the_cure(name: str, said: str) -> None:
    problems = reader(name, "generator").problems()
    assert any(said in problem for problem in problems), problems
    assert not any('name "generator"' in problem for problem in problems)


def test_a_boat_called_like_an_equipment_is_reported() -> None:
    assert any("stands for" in problem for problem in reader("heron", boats=("Heron",)).problems())


def test_one_phrase_for_two_things_is_reported() -> None:
    both = TextReader({}, {"Pump": ("pump-1", OO), "pump": ("pump-2", OO)})
    assert any("stands for" in problem for problem in both.problems())


def test_one_phrase_with_and_without_its_apostrophe_for_two_things_is_reported() -> None:
    both = TextReader({}, {"skipper's light": ("light-1", OO), "skippers light": ("light-2", OO)})
    assert any("stands for" in problem for problem in both.problems())


@pytest.mark.parametrize("name", ["Besuch", "Alarme", "zwölf", "Zwoelf", "an Bord"])
def test_a_name_that_is_a_wording_of_another_language_is_reported_and_left_out(name: str) -> None:
    reader = TextReader({}, {name: ("thing", OO)}, (), GERMAN)
    assert f'the name "{name}" is a word of the text language alone; add another word to it' in reader.problems()
    assert not isinstance(getattr(reader.read(f"{name} ein"), "request", None), Switch)


def test_two_phrases_for_one_thing_are_welcome() -> None:
    assert TextReader({}, {"fridge": ("cold", OO), "refrigeration": ("cold", OO)}).problems() == ()


def test_one_thing_with_two_pairs_is_reported() -> None:
    both = TextReader({}, {"fridge": ("cold", OO), "refrigeration": ("cold", SS)})
    assert any("two pairs" in problem for problem in both.problems())


def test_an_unknown_pair_is_reported_and_the_name_left_out() -> None:
    odd = TextReader({}, {"windlass": ("windlass", ("up", "down"))})
    assert any("not a pair" in problem for problem in odd.problems())


def test_a_boat_whose_name_goes_on_in_another_name_is_reported() -> None:
    taken = reader("generator", "heron visit", boats=("heron",))
    assert any('"heron visit' in problem for problem in taken.problems())
    longer = reader("fridge", "generator", "heron generator", boats=("heron",))
    assert any("heron generator on" in problem for problem in longer.problems())


def test_a_name_that_runs_into_an_order_is_reported() -> None:
    assert any("not read as meant" in problem for problem in reader("lamp", "lamp on").problems())


def test_a_boat_may_be_called_like_a_code_word() -> None:
    assert reader("generator", boats=("Teapot", "Marble")).problems() == ()


def test_a_name_and_the_same_with_a_number_is_a_warning_not_a_problem() -> None:
    twins = reader("deck fan", "deck fan 2")
    assert twins.problems() == ()
    assert len(twins.warnings()) == 1


def test_nothing_of_a_name_is_read_as_a_pattern_or_as_grammar() -> None:
    for name in ("a.c", 'pump"\nstart: "anything goes"', "pump\\n", "(pump|fridge)+", "%ignore WORD"):
        odd = reader(name)
        assert odd.problems() != ()
        assert odd.read("anything goes") == odd.read("abc on") == NotUnderstood(why=Why.NOT_A_PHRASE)
