"""What stands on the page of phrases beside the phrases, in each language in which texts are read."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PageWords:
    """stop: what must not be texted, the first thing on the sheet. how: how alarms are taken and orders confirmed.
    paper: how a line of the paper list is sent; {things} are named. remark: an example of one, behind "note 14"."""

    stop: str
    how: str
    paper: str
    remark: str


PAGE_WORDS: Mapping[str, PageWords] = {
    "en": PageWords(
        stop="The single word STOP ends all texts to you, alarms too: to stop a machine put its name first.",
        how="HAVE IT and CHECKED take the number of an alarm behind them where several stand. An order is answered "
        "with a code of two words: GO and the two words switch, DROP and the two words take the order back; nothing is "
        "switched before.",
        paper="To start or switch on {things} a line of your paper list is needed too: GO, the two words, the number "
        "of the line, its two words.",
        remark="cover leaking",
    ),
    "de": PageWords(
        stop="Das einzelne Wort STOP beendet alle Texte an Sie, auch Alarme: Um eine Maschine zu stoppen, schreiben "
        "Sie ihren Namen davor.",
        how="Hinter ÜBERNEHME und GEPRÜFT steht die Nummer des Alarms, wenn mehrere offen sind. Auf einen Befehl "
        "kommen zwei Codewörter: GO und die beiden Wörter schalten, DROP und die beiden Wörter ziehen den Befehl "
        "zurück; vorher wird nichts geschaltet.",
        paper="Um {things} zu starten oder einzuschalten, braucht es auch eine Zeile Ihrer Liste auf Papier: GO, die "
        "beiden Wörter, die Nummer der Zeile, deren zwei Wörter.",
        remark="Deckel undicht",
    ),
}
"""By the key of the language (`grammar.languages.LANGUAGES`)."""
