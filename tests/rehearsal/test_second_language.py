"""A person whose language is German: twenty texts of hers, and what she is answered."""

from pathlib import Path

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import lay_down
from gateway.vocabulary.moments import MINUTE
from gateway.vocabulary.orders import SendText
from gateway.wording.german import GERMAN
from gateway.wording.phrasebook import speaking, translated
from grammar.languages import LANGUAGES
from grammar.meanings import NotUnderstood, Understood
from grammar.practices import practice_in
from tests.rehearsal.living import INES, NOON, SECRETS, TOBIAS, Living


def laid(folder: Path, language: str = "de") -> Bundle:
    lay_down(folder, ("grey-wagtail",))
    people = folder / "people.toml"
    text = people.read_text(encoding="utf-8")
    people.write_text(text.replace('role = "owner"', f'role = "owner"\nlanguage = "{language}"', 1), encoding="utf-8")
    return load(folder, person_id=lambda key: f"p-{key}", environ=SECRETS).bundle


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    return laid(tmp_path_factory.mktemp("german"))


@pytest.fixture(scope="module")
def alarmed(bundle: Bundle) -> Living:
    living = Living(bundle, NOON)
    living.boat.set("co", True, living.now)
    living.hear(MINUTE)
    return living


def answer(living: Living, number: str, body: str) -> str:
    sent = [order for order in living.writes(number, body).orders if isinstance(order, SendText)]
    return "\n".join(order.body for order in sent if order.number == number)


TWENTY = [
    ("Status", "offen: 1 KOHLENMONOXID"),
    ("Lage?", "offen: 1 KOHLENMONOXID"),
    ("Läuft der Stromerzeuger?", "Generator läuft nicht (vor"),
    ("Wie geht es der Batterie", "house volts 13.6 V (vor"),
    ("Ist der Kühlschrank aus?", "Kühlschrank an (vor"),
    ("Alarme", "1 KOHLENMONOXID seit 12:01, noch bei niemandem"),
    ("Was ist los?", "noch bei niemandem"),
    ("Befehle", "Sie können schreiben: STATUS, ALARME, ÜBERNEHME"),
    ("ok", "NICHT übernommen: Alarm 1"),
    ("Übernehme 1", "Alarm 1 ist bei Ihnen"),
    ("geprüft 1", "Alarm 1 ist noch nicht vorbei. Nichts geändert"),
    ("Besuch", "Besuch vermerkt ab"),
    ("Besuch beendet", "Besuch beendet um"),
    ("Kühlschrank aus bis 18 Uhr", "Kühlschrank ausschalten"),
    ("schalte den kuehlschrank aus bitte", "Kühlschrank ausschalten"),
    ("Starte den Stromerzeuger für zwei Stunden", "Generator NICHT gestartet"),
    ("Bitte den Generator starten", "Generator NICHT gestartet"),
    ("Stromerzeuger startn", "Meinten Sie STROMERZEUGER STARTEN oder STROMERZEUGER STOPPEN?"),
    ("Stromerzeuger nicht starten", "icht verstanden. Nichts getan. BEFEHLE zeigt, was geht"),
    ("go teapot marble", "Nichts wartet auf GO oder DROP von Ihnen"),
]


def test_twenty_german_texts_are_answered_in_german(alarmed: Living) -> None:
    for at, (body, said) in enumerate(TWENTY):
        if at in (5, 10, 16):  # at most 4 answers in 10 min to what is not understood, and values must stay fresh
            alarmed.hear(MINUTE // 2)
        assert said in answer(alarmed, INES, body), body


def test_a_refusal_is_told_in_german_with_its_reason(bundle: Bundle) -> None:
    living = Living(bundle, NOON)
    assert "Kühlschrank NICHT ausgeschaltet. An seit 1 min" in answer(living, INES, "Kühlschrank aus")


def test_the_texts_of_a_person_are_read_in_that_persons_language_only(bundle: Bundle) -> None:
    ines, tobias = bundle.person_by_number[INES], bundle.person_by_number[TOBIAS]
    for english, german in (("start the generator", "Starte den Generator"), ("have it 1", "übernehme 1")):
        assert isinstance(bundle.read_from(ines, english), NotUnderstood)
        assert isinstance(bundle.read_from(tobias, german), NotUnderstood)
        assert bundle.read_from(ines, german) == bundle.read_from(tobias, english)


def test_an_unknown_language_is_a_mistake_with_its_cure(tmp_path: Path) -> None:
    with pytest.raises(InstallationRefused, match=r'"xx" is no language here.*"de" \(Deutsch\)'):
        laid(tmp_path, "xx")


def test_what_the_book_does_not_hold_goes_out_in_english() -> None:
    with speaking("de"):
        assert translated("nothing of the kind") == "nothing of the kind"
        assert translated(". Nothing was switched") == ". Nichts geschaltet"
    assert translated(". Nothing was switched") == ". Nothing was switched"


def test_every_line_of_the_book_keeps_what_is_put_in() -> None:
    def names(text: str) -> list[str]:
        return sorted(part.partition("}")[0] for part in text.split("{")[1:])

    assert [line for line in GERMAN.items() if names(line[0]) != names(line[1])] == []


def test_every_printed_phrase_of_a_language_is_read_in_it() -> None:
    """Those of a practice alarm are read before the words of the language are looked at."""
    for language in LANGUAGES.values():
        unknown = [said for said in language.printed.values() if said not in language.words]
        assert [said for said in unknown if practice_in(f"{said} x", {}, language.key) is None] == []


def test_whoever_has_several_boats_is_sent_a_german_phrase_that_is_read(tmp_path: Path) -> None:
    folder = tmp_path / "boats"
    lay_down(folder)
    people = folder / "people.toml"
    text = people.read_text(encoding="utf-8")
    people.write_text(text.replace('role = "caretaker"', 'role = "caretaker"\nlanguage = "de"', 1), encoding="utf-8")
    several = load(folder, person_id=lambda key: f"p-{key}", environ=SECRETS).bundle
    tobias = several.person_by_number[TOBIAS]
    for body, phrase in (
        ("Besuch vorbei", "BESUCH BEENDET"),
        ("in der Werft für 3 Tage", "IN DER WERFT FÜR 3 TAGE"),
        ("Kühlung aus bis 18 Uhr", "KÜHLSCHRANK AUS BIS 18:00"),
        ("ist der Kühlschrank aus?", "STATUS KÜHLSCHRANK"),
    ):
        assert f"etwa GREY WAGTAIL {phrase}:" in answer(Living(several, NOON), TOBIAS, body)
        meant = several.read_from(tobias, f"GREY WAGTAIL {phrase}")
        assert isinstance(meant, Understood), phrase


@pytest.mark.parametrize(
    ("body", "told"), [("Stromerzeuger starten", True), ("generator stop", True), ("Hallo", False)]
)
def test_a_strangers_order_is_told_to_the_owner_in_whichever_language_it_is(
    bundle: Bundle, body: str, told: bool
) -> None:
    turn = Living(bundle, NOON).writes("+447700900999", body)
    texts = [order for order in turn.orders if isinstance(order, SendText)]
    assert not [one for one in texts if one.number == "+447700900999"]
    assert bool([one for one in texts if one.number == INES]) is told
