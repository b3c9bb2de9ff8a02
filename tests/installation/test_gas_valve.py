"""The gas valve of the whole-boat standard: a text closes it, under a gas alarm too, and no text opens it.

Handbook 5.2, 5.3; CHK-34, CHK-47.
"""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from gateway.cli.check_sheet import switching_lines
from gateway.cli.phrase_page import page
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.installation.describing_switching import switching
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import lay_down, whole_standard
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started
from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.orders import PublishCommand, SendText
from gateway.vocabulary.readings import Grade, Reading
from grammar.languages import LANGUAGES
from grammar.meanings import NotUnderstood, Switch, Understood, Why
from grammar.texts import TextReader
from tests.desk.small_boat import BEGAN, BOAT, INES, NUMBER_OF, Small

VALVE = f"{BOAT}/gas-valve"
TO_OPEN = (
    "gas valve open",
    "open gas valve",
    "open the gas valve",
    "please open the gas tap",
    "wagtail gas valve open",
    "gas tap open for 10 min",
    "open gas valve until 18:00",
)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """GREY WAGTAIL on the whole 12 V standard, with the persons' ids of the small boat, each of them proved."""
    folder = tmp_path_factory.mktemp("gas") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard("12", "agm"))
    found = load(folder, person_id=lambda key: f"id-{key}", environ={"HEAVINGLINE_CARRIER_TOKEN": "x"}).bundle
    people = {key: replace(one, consent="", proved=BEGAN - MINUTE) for key, one in found.people.items()}
    return replace(found, people=people)


@pytest.fixture
def boat(whole: Bundle) -> Small:
    """Her desk, link up, the valve seen open."""
    one = Small(Desk(whole), now=BEGAN - 10)
    one.take(InstallationCame(fingerprint=whole.fingerprint, people=tuple(whole.people)))
    one.take(Started(stopped_at=None))
    one.take(LinkChanged(link="broker:quay", up=True))
    one.now = BEGAN
    assert NUMBER_OF[INES] == whole.people[INES].number
    hears(one, "on", count=7)
    return one


def hears(boat: Small, valve: str, *, count: int, gas: str = "off") -> list[str]:
    """One round of readings; the texts to Ines that follow."""
    turn = boat.take(
        ReadingsCame(
            readings=(
                Reading(signal=f"{BOAT}/gas-valve-open", grade=Grade.CONTACT, text=valve, retained=False),
                Reading(signal=f"{BOAT}/gas-valve-count", grade=Grade.NUMBER, text=str(count), retained=False),
                Reading(signal=f"{BOAT}/lock-out", grade=Grade.CONTACT, text="off", retained=False),
                Reading(signal=f"{BOAT}/gas", grade=Grade.CONTACT, text=gas, retained=False),
            )
        )
    )
    return [one.body for one in turn.orders if isinstance(one, SendText) and one.person == INES]


def asks(boat: Small, body: str) -> tuple[list[str], list[PublishCommand]]:
    """The answers to Ines, and what goes to the boat."""
    turn = boat.texts(INES, body)
    texts = [one.body for one in turn.orders if isinstance(one, SendText) and one.person == INES]
    return texts, [one for one in turn.orders if isinstance(one, PublishCommand)]


def test_under_a_gas_alarm_it_is_closed_with_a_code_and_proved_by_its_feedback(boat: Small) -> None:
    hears(boat, "on", count=8, gas="on")
    boat.wait(5 * SECOND)
    (question,), nothing = asks(boat, "gas valve close")
    assert nothing == []
    assert "Re-open only at the boat." in question
    words = re.search(r"GO (\w+) (\w+)", question)
    assert words
    _, (command,) = asks(boat, words[0])
    assert '"do":"close"' in command.payload
    assert '"run_minutes":null' in command.payload
    boat.wait(2 * SECOND)
    (told,) = (text for text in hears(boat, "off", count=9, gas="on") if "gas valve" in text)
    assert "closed" in told


def test_under_the_same_alarm_nothing_else_is_switched(boat: Small) -> None:
    hears(boat, "on", count=8, gas="on")
    boat.wait(5 * SECOND)
    (answer,), nothing = asks(boat, "deck lights on")
    assert "deck lights NOT switched on. Gas alarm 1 stands" in answer
    assert nothing == []


@pytest.mark.parametrize("text", TO_OPEN)
def test_whoever_asks_to_open_it_hears_that_it_is_opened_at_the_boat(boat: Small, text: str) -> None:
    (answer,), nothing = asks(boat, text)
    assert "gas valve is opened at the boat only, never by text. Nothing was done. Reply" in answer
    assert answer.endswith("GAS VALVE CLOSE")
    assert nothing == []


@pytest.mark.parametrize("text", TO_OPEN)
def test_no_text_of_anybody_opens_it(whole: Bundle, text: str) -> None:
    for person in whole.people.values():
        meant = whole.read_from(person, text)
        assert isinstance(meant, NotUnderstood)
        assert (meant.why, meant.equipment, meant.nearest) == (Why.AT_THE_BOAT_ONLY, "gas-valve", ())


def test_no_time_is_set_on_closing_it(boat: Small) -> None:
    (answer,), nothing = asks(boat, "gas valve close for 1 h")
    assert "no time can be set here" in answer
    assert nothing == []


@pytest.mark.parametrize("text", ["Gasventil öffnen", "öffne Gasventil", "Gasventil öffnen für 10 min"])
def test_in_german_it_is_no_order_either(text: str) -> None:
    reader = TextReader(
        {}, {"Gasventil": ("gas-valve", ("open", "close"))}, (), LANGUAGES["de"], rest_only=frozenset({"gas-valve"})
    )
    assert reader.problems() == ()
    assert not isinstance(reader.read(text), Understood)
    assert reader.read("Gasventil schließen") == Understood(request=Switch(equipment="gas-valve", action="close"))


def test_a_word_that_it_does_not_know_is_answered_with_the_one_it_knows(boat: Small) -> None:
    (answer,), _ = asks(boat, "gas valve stop")
    assert "gas valve does not know that word, only CLOSE. Nothing was done" in answer
    assert "OPEN" not in answer.replace("opened", "")


def test_page_and_sheet_name_closing_alone(whole: Bundle) -> None:
    sheet = page(whole, [whole.people[INES]])
    assert "GAS VALVE CLOSE" in sheet
    assert "GAS VALVE OPEN" not in sheet
    lines = [
        line.strip() for line in switching_lines([one for one in switching(whole) if one.equipment == "gas-valve"])
    ]
    assert [line.split(":")[0] for line in lines if line.startswith("gas valve")] == ["gas valve close"]
    assert "under a gas or fire alarm as well" in lines


def test_a_right_is_given_for_closing_and_none_can_be_for_opening(tmp_path: Path) -> None:
    def with_right(action: str) -> Path:
        place = tmp_path / action
        lay_down(place, boats=(BOAT,), built_on=whole_standard("12", "agm"))
        people = place / "people.toml"
        text = people.read_text(encoding="utf-8")
        old = '{ boat = "grey-wagtail", equipment = "*" }'
        assert old in text
        new = f'{{ boat = "grey-wagtail", equipment = "gas-valve", actions = ["{action}"] }}'
        people.write_text(text.replace(old, new, 1), encoding="utf-8")
        return place

    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    bundle = load(with_right("close"), person_id=str, environ=environ).bundle
    holder = next(one for one in bundle.people.values() if any(r.equipment == "gas-valve" for r in one.rights))
    assert holder.may(BOAT, "gas-valve", "close")
    with pytest.raises(InstallationRefused, match='"open" is none of its actions'):
        load(with_right("open"), person_id=str, environ=environ)


@pytest.mark.parametrize(
    "body",
    ["gas vlave close", "close gas", "turn the gas off", "gas off", "shut the gas", "gas valve"],
)
def test_whoever_says_it_otherwise_is_offered_closing_and_nothing_else(boat: Small, body: str) -> None:
    (answer,), nothing = asks(boat, body)
    assert "Did you mean GAS VALVE CLOSE?" in answer
    assert nothing == []


@pytest.mark.parametrize(
    "body", ["don't close gas", "gas off?", "is the gas off then", "gas on", "turn the gas on", "gas valve shut"]
)
def test_what_turns_the_meaning_is_offered_nothing(boat: Small, body: str) -> None:
    for answer in asks(boat, body)[0]:
        assert "CLOSE" not in answer


@pytest.mark.parametrize("text", ["Gas aus", "Gas bitte zu", "Gasventil zu", "Gas abdrehen", "Gasventil schliesen"])
def test_in_german_as_well(text: str) -> None:
    names = {"Gasventil": ("gas-valve", ("open", "close"))}
    reader = TextReader({}, names, (), LANGUAGES["de"], rest_only=frozenset({"gas-valve"}))  # type: ignore[arg-type]
    meant = reader.read(text)
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest == ("gasventil schließen",)
