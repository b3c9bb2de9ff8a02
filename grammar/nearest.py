"""Which valid phrases come nearest to a text that cannot be read. Only ever words in an answer; nothing is carried out.

Measured on 600 damaged phrases: `fuzz.ratio` put the meant one first in 98.7 of 100 with 294 phrases, in 91.2 with
5,894; Jaro-Winkler, token ratios and the library's default did worse. Opposites are neighbours ("fridge o" scores on
94, off 89), so they are never shown alone.
"""

import re
from collections import ChainMap
from collections.abc import Iterable, Mapping

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from grammar.answers import would_mislead
from grammar.language import ENGLISH, Language
from grammar.names import Pair
from grammar.switch_phrases import actions_of, ways_to_say

CUT = 75
"""Lowest score that is worth showing. Measured: negations of a switch score under 75, single slips over it."""

BOAT_CUT = 80
"""Lowest score at which the beginning of a text is taken for a boat's name, for a suggestion only. Our choice."""

MOST = 3
"""Suggestions in one answer, so that it stays one part of a text."""

MOST_ALIKE = 4
"""Suggestions where two things come equally near, each with its opposite."""

_PLAIN = (
    "status",
    "alarms",
    "phrases",
    "have it",
    "checked",
    "visit",
    "visit over",
    "at boat",
    "ashore",
    "away",
    "aboard",
    "laid up",
    "in the yard",
)

_NUMBERED = ("have it", "checked", "at boat", "ashore", "take over", "hand over", "unshelve", "in service")
"""Phrases that an alarm's number may stand behind."""

_WITH_LENGTH = {
    "shelve": ("2", "h", "unshelve"),
    "out of service": ("3", "days", "in service"),
    "quiet": ("2", "h", ""),
}
"""Phrases that need a number and a length; the length that is offered as an example, and the opposite if any."""

_OPPOSITE_PHRASES = (("visit", "visit over"), ("at boat", "ashore"), ("away", "aboard"), ("take over", "hand over"))

_GLUED_NEGATIONS = ("dont", "don't", "never", "non", "not", "no", "un")
"""What negates when it stands at the beginning of a word without a blank: "notstart", "novisit"."""

_UNIT = re.compile(r"(.+) [0-9]{1,3}")
_NUMBER_ALONE = re.compile(r"#?([1-9][0-9]{0,2})")
"""An alarm's number and nothing else, from somebody in a hurry. Not four digits or more: a bank's code has those."""

_TAKING = re.compile(r"(?:(?:i )?got|(?:i'm |im |i am )?taking) #?([1-9][0-9]{0,3})")
"""What people text for "have it 14". Only as it stands here: a slip away are "not 14" and "note 14"."""

_GLUED_TAKING = re.compile(r"(?:i )?haveit( [1-9][0-9]{0,3})?")
"""A blank forgotten. Only as it stands here: a slip away is "havent"."""

_ALARM = re.compile(r"(?<![\w.:])#?([1-9][0-9]{0,3})$")


class NearestPhrases:
    """boats: folded names. equipment: folded name -> its pair of actions, as the language prints them. subjects: folded
    name of what is measured -> the question after it, as it is printed. rest_only: those of the equipment's names of
    which only the second action is an order."""

    def __init__(
        self,
        boats: Iterable[str],
        equipment: Mapping[str, Pair],
        language: Language = ENGLISH,
        subjects: Mapping[str, str] | None = None,
        rest_only: frozenset[str] = frozenset(),
    ) -> None:
        self._rest_only = rest_only
        self._questions = {said: asked for name, asked in (subjects or {}).items() for said in (name, asked)}
        self._boats = tuple(boats)
        self._equipment = dict(equipment)
        self._language = language
        self._limit = re.compile(rf"(.+?)\s+((?:{'|'.join(map(re.escape, language.standing_for('for', 'until')))}) .+)")
        self._opposite: dict[str, str] = {}
        said = language.printed.get
        printed = {phrase: said(phrase, phrase) for phrase in (*_PLAIN, *_NUMBERED, *_WITH_LENGTH)}
        self._with_length = {
            printed[phrase]: (f"{said('for', 'for')} {length} {said(unit, unit)}", printed.get(opposite, ""))
            for phrase, (length, unit, opposite) in _WITH_LENGTH.items()
        }
        self._numbered = tuple(printed[phrase] for phrase in _NUMBERED)
        for one, other in _OPPOSITE_PHRASES:
            self._opposite |= {printed[one]: printed[other], printed[other]: printed[one]}
        self._said = {printed[phrase]: printed[phrase] for phrase in _PLAIN} | dict(language.said_otherwise)
        for name, (one, other) in self._equipment.items():
            self._said |= dict(ways_to_say(name, (one, other), name in rest_only))
            if name not in rest_only:
                self._opposite |= {f"{name} {one}": f"{name} {other}", f"{name} {other}": f"{name} {one}"}
        self._phrases = tuple(self._said)
        self._by_length: dict[int, tuple[str, ...]] = {}
        self._words = {word for phrase in (*self._said, *self._numbered) for word in phrase.split()}
        self._longest_first = tuple(f" {name} " for name in sorted(self._equipment, key=len, reverse=True))
        self._fillers = {
            length: [filler for filler in language.fillers if len(filler) == length]
            for length in map(len, language.fillers)
        }
        self._beginnings = {filler[:end] for filler in language.fillers for end in range(1, len(filler) + 1)}
        self._units = {name: cut.group(1) for name in self._equipment if (cut := _UNIT.fullmatch(name))}

    def to(self, text: str) -> tuple[str, ...]:
        """Valid phrases near the cleaned `text`, best first, at most MOST; a switch always with its opposite."""
        if alone := _NUMBER_ALONE.fullmatch(text):
            return tuple(f"{phrase} {alone.group(1)}" for phrase in self._numbered[:2])
        if self._language is ENGLISH and (taking := _TAKING.fullmatch(text)):
            return (f"{self._numbered[0]} {taking.group(1)}",)
        boat, rest = self._boat_in_front(text)
        if self._language is ENGLISH and (glued := _GLUED_TAKING.fullmatch(rest)):
            return (f"{boat}{self._numbered[0]}{glued.group(1) or ''}",)
        if would_mislead(rest, self._language.misleading) or self._negated(rest) or self._names_in(rest) > 1:
            return ()
        return tuple(boat + phrase for phrase in self._near(rest) or self._near_question(rest))

    def says_more(self, text: str) -> bool:
        """Whether the end of a text holds what could turn the meaning of its beginning, or another name."""
        return would_mislead(f"- {text}", self._language.misleading) or self._names_in(text) > 0

    def pair_of(self, name: str) -> tuple[str, ...]:
        """The phrases of one equipment's folded name."""
        return tuple(f"{name} {action}" for action in actions_of(self._equipment[name], name in self._rest_only))

    def _near(self, text: str) -> list[str]:
        if units := self._other_units(text):
            return [phrase for name in units[: MOST_ALIKE // 2] for phrase in self.pair_of(name)]
        limit = self._limit.fullmatch(text)
        texts = [text, limit.group(1)] if limit else [text]
        named = limit.group(1) if limit else text
        alarm = _ALARM.search(named) if len(re.findall(r"\d+", named)) == 1 else None
        said, opposite = self._with_number(alarm.group(1)) if alarm else ({}, {})
        scored = []
        for tried in texts:
            strange = self._strange(tried)
            for phrases in (self._as_long_as(len(tried)), tuple(said)):
                found = process.extract(tried, phrases, scorer=fuzz.ratio, score_cutoff=CUT, limit=8)
                scored += [
                    (score, said.get(phrase) or self._said[phrase])
                    for phrase, score, _ in found
                    if not _strays(tried, phrase, strange)
                ]
        scored.sort(key=lambda pair: -pair[0])
        return _with_opposites(scored, ChainMap(opposite, self._opposite))

    def _near_question(self, text: str) -> list[str]:
        """The question after what is measured, where nothing else comes near; none is carried out, so none misleads."""
        found = process.extract(text, tuple(self._questions), scorer=fuzz.ratio, score_cutoff=CUT, limit=2)
        strange = self._strange(text)
        near = [self._questions[said] for said, _, _ in found if not _strays(text, said, strange)]
        return list(dict.fromkeys(near))[:1]

    def _as_long_as(self, length: int) -> tuple[str, ...]:
        """The phrases that can score CUT beside a text of this length: the score is twice what two texts share over the
        length of both, and they share no more than the shorter one."""
        kept = self._by_length.get(length)
        if kept is None:
            kept = tuple(one for one in self._phrases if 200 * min(length, len(one)) >= CUT * (length + len(one)))
            self._by_length[length] = kept
        return kept

    def _with_number(self, number: str) -> tuple[dict[str, str], dict[str, str]]:
        """What an alarm's number may stand behind: what is texted -> the printed phrase, and each one's opposite."""
        said = {phrase: phrase for phrase in (f"{one} {number}" for one in self._numbered)}
        opposite = {
            f"{one} {number}": f"{self._opposite[one]} {number}" for one in self._numbered if one in self._opposite
        }
        for one, (length, other) in self._with_length.items():
            whole = f"{one} {number} {length}"
            said |= {f"{one} {number}": whole, whole: whole}
            if other:
                opposite |= {whole: f"{other} {number}", f"{other} {number}": whole}
        return said, opposite

    def _negated(self, text: str) -> bool:
        """Whether a negation without its blank stands before a word that a phrase begins with or holds."""
        return any(
            word.removeprefix(negation) in self._words
            for word in text.split()
            for negation in _GLUED_NEGATIONS
            if word.startswith(negation) and word not in self._words
        )

    def _strange(self, text: str) -> list[str]:
        """The words of `text` that no slip of the finger makes of a word that may stand beside any phrase."""
        given = dict.fromkeys(re.findall(r"[^\W\d_](?:[\w'&/-]*[^\W\d_])?", text))
        return [word for word in given if not self._near_a_filler(word)]

    def _near_a_filler(self, word: str) -> bool:
        """As `_near_one_of` the fillers, looked up by beginning and by length: it is asked of every word of a text."""
        if word in self._beginnings:
            return True
        length, most = len(word), _most_slips(word)
        return any(
            OSA.distance(word, filler, score_cutoff=most) <= most
            for alike in range(length - most, length + most + 1)
            for filler in self._fillers.get(alike, ())
        )

    def _other_units(self, text: str) -> list[str]:
        """For "bilge pump 3 on" where only 1 and 2 exist: the names that do exist, from the dictionary."""
        for place in re.finditer(r"(?<=\s)([0-9]{1,3})(?=\s|$)", text):
            before = text[: place.start()].rstrip()
            units = [name for name, plain in self._units.items() if _ends_with(before, plain)]
            if units and not any(_ends_with(f"{before} {place.group()}", name) for name in units):
                return units
        return []

    def _names_in(self, text: str) -> int:
        """How many different places of `text` are names of equipment, longest names first."""
        found, left = 0, f" {text} "
        for name in self._longest_first:
            if name in left:
                found += left.count(name)
                left = left.replace(name, " , ")
        return found

    def _boat_in_front(self, text: str) -> tuple[str, str]:
        """The boat that the beginning comes nearest to, and what stands behind it. The nearest beginning, not the
        longest one that will do: "grey wagtail don't" comes near to "grey wagtail" too, and must not lose its word."""
        words = text.split()
        nearest, front, behind = 0.0, "", text
        for length in range(min(6, len(words) - 1), 0, -1):
            beginning = " ".join(words[:length])
            best = process.extractOne(beginning, self._boats, scorer=fuzz.ratio, score_cutoff=BOAT_CUT)
            if best and best[1] > nearest:
                nearest, front, behind = best[1], f"{best[0]} ", " ".join(words[length:])
        return front, behind


def _with_opposites(scored: list[tuple[float, str]], opposite: Mapping[str, str]) -> list[str]:
    """The best of `scored` (best first), each with its opposite: MOST, or as many as come equally near."""
    shown: list[str] = []
    for score, phrase in scored:
        together = [phrase, opposite[phrase]] if phrase in opposite else [phrase]
        most = MOST_ALIKE if score == scored[0][0] else MOST
        if phrase not in shown and len(shown) + len(together) <= most:
            shown += together
    return shown


def _strays(text: str, phrase: str, strange: list[str]) -> bool:
    """Whether `text` holds a word that no slip of the finger makes of one of the phrase's: then it says more than the
    phrase ("generator start failed"), and the phrase may be the opposite of what is meant."""
    words = phrase.split()
    if all(given in words or _near_one_of(given, words) for given in strange):
        return False
    return OSA.distance(text.replace(" ", ""), phrase.replace(" ", ""), score_cutoff=2) > 2


def _near_one_of(given: str, words: Iterable[str]) -> bool:
    length, most = len(given), _most_slips(given)
    return any(
        word.startswith(given)
        or (-most <= length - len(word) <= most and OSA.distance(given, word, score_cutoff=most) <= most)
        for word in words
    )


def _most_slips(word: str) -> int:
    return max(1, len(word) // 4)


def _ends_with(text: str, name: str) -> bool:
    return text == name or text.endswith(f" {name}")
