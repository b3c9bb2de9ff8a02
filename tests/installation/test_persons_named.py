"""What a person may be called in a text."""

from dataclasses import replace

from gateway.installation.reading_texts import called_persons
from gateway.people.settings import Person
from grammar.meanings import Duty, NotUnderstood, Understood
from tests.desk.small_boat import INES, TOBIAS, starter_bundle


def of(*given: tuple[str, str]) -> dict[str, str]:
    some = starter_bundle().people[TOBIAS]
    people: list[Person] = [replace(some, id=key, key=key, name=name) for key, name in given]
    return called_persons(people)


def test_by_key_by_whole_name_and_by_first_name() -> None:
    assert of(("tobias", "Tobias Penhale")) == {
        "tobias": "tobias",
        "tobias penhale": "tobias",
        "tobias p": "tobias",
    }


def test_a_first_name_that_two_have_is_nobodys() -> None:
    both = of(("tp", "Tobias Penhale"), ("tm", "Tobias Marlow"))
    assert "tobias" not in both
    assert both["tobias p"] == "tp"
    assert both["tobias marlow"] == both["tm"] == "tm"


def test_the_reader_of_an_installation_knows_its_people_behind_duty_alone() -> None:
    read = starter_bundle().read_text
    assert read("duty Tobias") == Understood(request=Duty(person="tobias"))
    assert read("duty Ines Marlow until Sunday") == Understood(request=Duty(person="ines", weekday=6))
    assert isinstance(read("Tobias"), NotUnderstood)
    assert isinstance(read("duty Wolfram"), NotUnderstood)
    assert starter_bundle().people[INES].key == "ines"
