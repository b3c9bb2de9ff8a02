"""One language in which texts are read and phrases are printed, as data that a translator can finish.

The grammar is one for all languages: a wording of another language stands for words of the grammar ("läuft" for "how
is"), put in their place between lexer and parser. So nothing can be texted in one language that could not in another,
and a word of one language means nothing in another.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Language:
    """key: as in people.toml ("de"), ISO 639-1. called: its own name.

    words: wording (folded) -> the words of `texts.lark` it stands for; empty for the language of the grammar itself.
    printed: a word of the printed phrases -> how it is printed here; what is missing is printed as it is.
    misleading: words that withhold a suggestion. fillers: words that may stand beside a damaged phrase.
    mere: wordings that only say that a text was seen. said_otherwise: what people text -> the printed phrase that is
    offered for it; whoever is aboard should say it so that it counts (design rule 10). begun_otherwise: how people
    begin what a phrase begins with another word for. letters: how a letter is texted
    by phones that lack it. day_of_24: whether "7 o'clock" is seven in the morning and never in the evening.
    """

    key: str
    called: str
    words: Mapping[str, str] = field(default_factory=dict)
    printed: Mapping[str, str] = field(default_factory=dict)
    misleading: frozenset[str] = frozenset()
    fillers: frozenset[str] = frozenset()
    mere: tuple[str, ...] = ()
    said_otherwise: Mapping[str, str] = field(default_factory=dict)
    begun_otherwise: Mapping[str, str] = field(default_factory=dict)
    letters: Mapping[str, str] = field(default_factory=dict)
    day_of_24: bool = False

    def says(self, word: str) -> str:
        """How a word of the printed phrases is printed here."""
        return self.printed.get(word, word)

    def as_it_begins(self, text: str) -> str:
        """`text` with the beginning that a phrase has, where people begin it otherwise; else as it is."""
        for other, ours in self.begun_otherwise.items():
            if text.startswith(f"{other} "):
                return f"{ours} {text.removeprefix(f'{other} ')}"
        return text

    def standing_for(self, *english: str) -> tuple[str, ...]:
        """The wordings that stand for these words of the grammar; in the language of the grammar itself also those of
        the same meaning."""
        own = tuple(one for wording, words in self.words.items() if words in english for one in self.spellings(wording))
        return own if self.words else (*english, *(one for word in english for one in ALSO.get(word, ())))

    def spellings(self, folded: str) -> tuple[str, ...]:
        """`folded`, and as it is texted without the letters that a phone may lack ("kühlschrank", "kuehlschrank")."""
        plain = folded
        for letter, instead in self.letters.items():
            plain = plain.replace(letter, instead)
        return tuple(dict.fromkeys((folded, plain)))


ALSO: Mapping[str, tuple[str, ...]] = {"until": ("till", "til", "untill")}
"""A word of `texts.lark` -> others that mean the same there."""

ENGLISH_FILLERS = frozenset(
    [
        "the",
        "my",
        "our",
        "turn",
        "switch",
        "put",
        "please",
        "pls",
        "plz",
        "kindly",
        "hi",
        "hello",
        "hey",
        "thanks",
        "thank",
        "you",
        "ta",
        "cheers",
        "now",
        "up",
        "for",
        "until",
        "till",
        "til",
        "h",
        "hr",
        "hrs",
        "hour",
        "hours",
        "m",
        "min",
        "mins",
        "minute",
        "minutes",
        "day",
        "days",
        "s",
        "sec",
        "secs",
        "i",
    ]
)

ENGLISH = Language(
    key="en",
    called="English",
    fillers=ENGLISH_FILLERS,
    said_otherwise={
        "commands": "phrases",
        "i'm aboard": "visit",
        "im aboard": "visit",
        "i am aboard": "visit",
        "i'm on board": "visit",
        "im on board": "visit",
        "i am on board": "visit",
        "i got this": "have it",
        "i've got this": "have it",
        "i'll deal with it": "have it",
        "i'll handle it": "have it",
        "i'll look into it": "have it",
        "i'll see to it": "have it",
        "visit ended": "visit over",
        "visit finished": "visit over",
        "end visit": "visit over",
        "end of visit": "visit over",
        "reset alarm": "checked",
        "reset the alarm": "checked",
        "alarm reset": "checked",
        "status of everything": "status",
        "alarm list": "alarms",
    },
    begun_otherwise={
        "mute": "quiet",
        "silence": "quiet",
        "give duty to": "duty",
        "hand duty to": "duty",
        "pass duty to": "duty",
        "duty to": "duty",
        "duty for": "duty",
    },
)
"""The language of the grammar. Its words stand in `texts.lark`, what withholds a suggestion in `answers.py`."""
