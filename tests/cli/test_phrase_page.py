"""The page of phrases: every phrase on it is read, and it holds no right that the person lacks."""

from dataclasses import replace
from pathlib import Path

import pytest

from gateway.cli.phrase_page import page, phrases_of, write_page
from gateway.cli.phrase_page_words import PAGE_WORDS
from grammar.languages import LANGUAGES
from grammar.meanings import Understood
from grammar.notes import WORDS as NOTE_WORDS
from grammar.notes import note_in
from tests.rehearsal.living import SECRETS, installed


def test_every_phrase_on_the_page_is_read_for_the_person_it_is_printed_for(tmp_path: Path) -> None:
    bundle = installed(tmp_path).bundle
    for person in bundle.people.values():
        for boat in person.boats:
            for phrase in phrases_of(bundle, person, boat):
                meant = bundle.read_from(person, phrase)
                assert isinstance(meant, Understood), phrase
                assert meant.boat == (boat if len(person.boats) > 1 else None)


def test_nobody_finds_an_order_there_without_the_right_to_it(tmp_path: Path) -> None:
    bundle = installed(tmp_path).bundle
    ruth = next(person for person in bundle.people.values() if person.key == "ruth")
    assert "GENERATOR START" not in page(bundle, [ruth])
    ines = next(person for person in bundle.people.values() if person.key == "ines")
    assert "GENERATOR START" in page(bundle, [ines])


def test_whoever_is_asked_for_a_line_from_paper_finds_how_it_is_sent(tmp_path: Path) -> None:
    bundle = installed(tmp_path, "grey-wagtail").bundle
    generator = bundle.equipment["grey-wagtail/generator"]
    asked = replace(bundle, equipment={**bundle.equipment, generator.id: replace(generator, paper_line=True)})
    ines, ruth = (next(one for one in bundle.people.values() if one.key == key) for key in ("ines", "ruth"))
    assert "To start or switch on generator a line of your paper list is needed too" in page(asked, [ines])
    assert "paper list" not in page(asked, [ruth])
    assert "paper list" not in page(bundle, [ines])


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_has_the_words_beside_the_phrases_and_stop_stands_first(tmp_path: Path, language: str) -> None:
    bundle = installed(tmp_path).bundle
    tobias = next(one for one in bundle.people.values() if one.key == "tobias")
    sheet = page(bundle, [replace(tobias, language=language)])
    assert f'<section lang="{language}">' in sheet
    assert sheet.index("STOP") < sheet.index("<li>")
    printed = LANGUAGES[language].printed
    for phrase in ("have it", "checked"):
        assert printed.get(phrase, phrase).upper() in PAGE_WORDS[language].how
    note = f"{NOTE_WORDS[language]} 14 {PAGE_WORDS[language].remark}".upper()
    assert note in sheet
    assert note_in(note, {}, language) is not None


def test_who_keeps_the_boat_finds_how_it_is_kept_and_who_minds_the_wiring_what_puts_an_alarm_aside(
    tmp_path: Path,
) -> None:
    bundle = installed(tmp_path).bundle
    ruth, marina = (
        next(person for person in bundle.people.values() if person.key == key) for key in ("ruth", "marina")
    )
    assert "IN THE YARD" in page(bundle, [ruth])
    assert "SHELVE 14 FOR 1 H" in page(bundle, [ruth])
    assert "IN THE YARD" not in page(bundle, [marina])
    assert "SHELVE" not in page(bundle, [marina])


def test_everybody_finds_how_a_lost_phone_is_reported_of_each_who_commands_the_boat_and_of_no_other(
    tmp_path: Path,
) -> None:
    bundle = installed(tmp_path, "grey-wagtail").bundle
    marina = next(person for person in bundle.people.values() if person.key == "marina")
    sheet = page(bundle, [marina])
    assert "PHONE LOST INES" in sheet
    assert "PHONE LOST TOBIAS" in sheet
    assert "PHONE LOST RUTH" not in sheet
    assert "QUIET 14 FOR 2 H" in sheet


def test_the_page_is_written_once_and_never_over_another(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    installed(tmp_path / "boats")
    for name, value in SECRETS.items():
        monkeypatch.setenv(name, value)
    out = tmp_path / "phrases.html"
    assert write_page(tmp_path / "boats", "ines", out) == 0
    assert write_page(tmp_path / "boats", "ines", out) == 1
    assert write_page(tmp_path / "boats", "nobody", tmp_path / "other.html") == 2
