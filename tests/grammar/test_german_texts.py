"""What a person whose language is German texts: what is read, and what does nothing."""

import pytest

from grammar.german import GERMAN
from grammar.meanings import NotUnderstood, Understood, Why
from grammar.phrases import say
from grammar.texts import TextReader

THINGS = {
    "Generator": ("generator", ("start", "stop")),
    "Stromerzeuger": ("generator", ("start", "stop")),
    "Kühlschrank": ("fridge", ("on", "off")),
    "Gasventil": ("gas-valve", ("open", "close")),
}
NAMES = {"generator": "Generator", "fridge": "Kühlschrank", "gas-valve": "Gasventil"}
READER = TextReader(
    {"Grey Wagtail": "grey-wagtail"},
    THINGS,  # type: ignore[arg-type]
    ("Batterie", "Bilge", "Landstrom"),
    GERMAN,
    {"Tobias": "tobias"},
)

READ = """
Status => status
Lage? => status
alles ok? => status
alles in Ordnung? => status
Batterie => status batterie
wie voll ist die Batterie? => status batterie
wie geht es der Batterie => status batterie
ist die Bilge trocken? => status bilge
haben wir Landstrom? => status landstrom
gibt es Landstrom => status landstrom
läuft der Generator noch? => status generator
ist der Kühlschrank kalt => status kühlschrank
Generator an? => status generator
Alarme => alarme
welche Alarme sind offen? => alarme
was ist los => alarme
Alarm 14? => alarme
wer hat Alarm 14 => alarme
wer hat Dienst? => wer hat dienst
wer ist im Dienst => wer hat dienst
Befehle => befehle
übernehme 14 => übernehme 14
Uebernehme => übernehme
14 übernehme ich => übernehme 14
hab ich 14 => übernehme 14
übernehme vier => übernehme 4
übernehme vierzehn => übernehme 14
übernehme Alarm zwei => übernehme 2
geprüft einundzwanzig => geprüft 21
Ruhe zwölf für zwei Stunden => ruhe 12 für 2 h
geprüft 14 => geprüft 14
14 nachgesehen => geprüft 14
ich bin am Boot => am boot
bin an Land => an land
Besuch => besuch
Besuch vorbei => besuch beendet
Ruhe 14 für 2 h => ruhe 14 für 2 h
Dienst Tobias bis Sonntag => dienst tobias bis sonntag
Generator start => generator starten
Stromerzeuger stopp => generator stoppen
Starte den Generator, bitte => generator starten
mach mal den Generator an => generator starten
Generator an bis 18.30 Uhr => generator starten bis 18:30
Generator an bis 7 Uhr => generator starten bis 07:00
Generator an bis 0 Uhr => generator starten bis 00:00
Generator an bis 19 Uhr 30 => generator starten bis 19:30
Generator an bis 7 Uhr 05 bitte => generator starten bis 07:05
Dienst ich bis 8 Uhr => dienst ich bis 08:00
Generator starten für anderthalb Stunden => generator starten für 1 h 30 min
Kuehlschrank aus => kühlschrank aus
Gasventil schließen => gasventil schließen
ja, go teapot marble => go teapot marble
"""

NOTHING = """
Generator nicht starten
starte den Generator nie
Kühlschrank nicht ausschalten
übernehme 14 nicht
ich übernehme nicht
kein Besuch
wenn die Batterie leer ist Generator starten
falls es regnet Generator aus
soll ich den Generator starten
kannst du den Generator starten
hat der Generator gestartet?
Generator gestartet
Generator startet nicht
Generator war an
Generator starten und Kühlschrank aus
Generator starten dann Kühlschrank aus
Generator starten oder stoppen
morgen Generator starten
Generator starten gesagt
der Generator soll aus bleiben
nein go teapot marble
Generator anschalten
Generator an 2 Uhr
Generator an für 2 Uhr
2 Uhr Generator an
um 7 Uhr Generator an
Generator an um 7 Uhr
übernehme 4 oder 5
generator running?
have it 14
turn the generator on
"""

REASONS = {
    "ok": Why.MERE_ANSWER,
    "alles klar": Why.MERE_ANSWER,
    "ja": Why.MERE_ANSWER,
    "STOP": Why.OPT_OUT,
    "go teapot": Why.HALF_A_CODE,
    "4 ok": Why.MERE_ANSWER,
    "14, alles klar": Why.MERE_ANSWER,
    "teapot marble": Why.CODE_ALONE,
    "Handy verloren": Why.WHOSE_PHONE,
    "mein Handy ist weg": Why.WHOSE_PHONE,
    "Telefon verloren Bob": Why.WHOSE_PHONE,
    "Dienst Bob": Why.NOBODY_KNOWN,
    "Dienst Bob bis Sonntag": Why.NOBODY_KNOWN,
    "Dienst Ende nicht": Why.NOT_A_PHRASE,
    "Dienst nicht Bob": Why.NOT_A_PHRASE,
    "kein Handy verloren": Why.NOT_A_PHRASE,
    "Handy verloren?": Why.NOT_A_PHRASE,
    "Generator starten für eine Weile": Why.BAD_TIME,
    "Generator an für 90": Why.BAD_TIME,
    "Generator an bis 24 Uhr": Why.BAD_TIME,
    "Generator an bis 7 Uhr 5": Why.BAD_TIME,
    "Generator an bis 19 Uhr 75": Why.BAD_TIME,
    "Generator an bis sieben Uhr": Why.BAD_TIME,
    "Generator an bis 007 Uhr": Why.BAD_TIME,
    "Generator stoppen für 2 Stunden": Why.LIMIT_ON_STOP,
    "Kühlschrank öffnen": Why.WRONG_ACTION,
}


def printed(meant: Understood) -> str:
    return say(meant.request, NAMES, GERMAN.printed).lower()


def rows() -> list[list[str]]:
    return [line.split(" => ") for line in READ.strip().splitlines()]


@pytest.mark.parametrize(("text", "phrase"), rows())
def test_a_german_text_means_its_printed_phrase(text: str, phrase: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, Understood)
    assert printed(meant) == phrase
    assert READER.read(phrase) == meant


@pytest.mark.parametrize("text", NOTHING.strip().splitlines())
def test_a_text_that_turns_the_meaning_or_is_another_languages_does_nothing_and_gets_no_phrase(text: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest == ()


@pytest.mark.parametrize(("text", "why"), REASONS.items())
def test_a_text_that_does_nothing_has_its_reason(text: str, why: Why) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert meant.why is why


def test_a_slip_is_offered_both_phrases_of_the_thing_in_german() -> None:
    meant = READER.read("Generator startn")
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest == ("generator starten", "generator stoppen")


@pytest.mark.parametrize("text", ["ich bin an Bord", "bin an Bord"])
def test_whoever_is_aboard_is_offered_the_visit_that_counts(text: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest == ("besuch", "besuch beendet")


def test_a_question_with_the_boat_behind_it_is_offered_as_it_is_printed() -> None:
    meant = READER.read("läuft der Stromerzeuger auf Grey Wagtail")
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest == ("grey wagtail status generator",)


@pytest.mark.parametrize(
    "text", ["übernehme 4 und 5", "übernehme vier und fünf", "übernehme Alarm 4, Alarm 5", "übernehme 4 & 5"]
)
def test_several_alarms_in_one_text_are_offered_one_by_one(text: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert (meant.why, meant.nearest) == (Why.SEVERAL_ALARMS, ("übernehme 4", "übernehme 5"))


@pytest.mark.parametrize(
    ("text", "offered"),
    [
        ("stumm 14", "ruhe 14 für 2 h"),
        ("Dienst an Tobias", "dienst tobias"),
        ("Batterie Spannung?", "status batterie"),
        ("Besuch zu Ende", "besuch beendet"),
        ("ich kümmere mich", "übernehme"),
        ("Hilfe", "befehle"),
        ("Generator startn für 2 Stunden", "generator starten"),
        ("Ruhe 14 bis 18 Uhr", "ruhe 14 für 2 h"),
    ],
)
def test_what_is_otherwise_said_is_offered_as_it_is_printed(text: str, offered: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest[0] == offered


@pytest.mark.parametrize(("text", "offered"), [("übernehme zwei", "übernehme 2"), ("am Boot sechs", "am boot 6")])
def test_a_number_in_words_that_may_count_something_else_is_offered_in_digits(text: str, offered: str) -> None:
    meant = READER.read(text)
    assert isinstance(meant, NotUnderstood)
    assert meant.nearest == (offered,)
