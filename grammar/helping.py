"""What is answered to a text that cannot be carried out: why, and the phrases that may be offered. Only ever words;
each that is offered can be read, and nothing is carried out by any of it."""

import re
from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from lark import Token
from lark.exceptions import UnexpectedInput

from grammar.answers import is_mere_answer, number_beside
from grammar.asked_after import asked_after
from grammar.cleaning import folded
from grammar.code_words import is_code_alone
from grammar.language import Language
from grammar.meanings import Asking, NotUnderstood, Question, Switch, Understood, Why
from grammar.names import PAIRS, Branch, Pair
from grammar.nearest import NearestPhrases
from grammar.nobody_named import nobody_named
from grammar.one_number import one_number_each
from grammar.phrases import say
from grammar.switch_phrases import shut_otherwise, ways_to_shut
from grammar.tree_times import Flaw
from grammar.turned_round import boat_named, boat_to_front

_HALF_A_CODE = re.compile(r"(?:go|drop|prove)(?: \w+)?")
"""A confirmation without both its words. The heads are the same in every language."""

_DAYS_TO_COME = re.compile(r"\b(?:tomorrow|tonight|later|morgen|heute|später)\b")
"""Words of a time that cannot be said here; elsewhere in a text they withhold a suggestion."""


class Names(NamedTuple):
    """As for `TextReader`."""

    boats: Mapping[str, str]
    equipment: Mapping[str, tuple[str, Pair]]
    subjects: tuple[str, ...]
    rest_only: frozenset[str]


class Helping:
    """tree, people: the names as they are found in a text. tokens: of a cleaned text. meant_by: what tokens ask for;
    both raise UnexpectedInput, and meant_by Flaw, as the reader's own reading does."""

    def __init__(
        self,
        *,
        names: Names,
        language: Language,
        tree: Branch,
        people: Branch,
        tokens: Callable[[str], list[Token]],
        meant_by: Callable[[Iterable[Token]], Understood],
    ) -> None:
        self._names, self._language, self._tree, self._people = names, language, tree, people
        self._tokens, self._meant_by = tokens, meant_by
        self._and = next(iter(language.standing_for("and")), "and")
        limits = "|".join(map(re.escape, language.standing_for("for", "until")))
        self._limit = re.compile(rf"(.+?) (?:{limits}) ((?:\S+ ?){{1,4}})")
        self._phrase_of = {key: folded(phrase) for phrase, (key, _) in reversed(list(names.equipment.items()))}
        self._questions = {
            folded(phrase): say(Question(asking=Asking.STATUS, subject=folded(phrase)), {}, language.printed)
            for phrase in names.subjects
        }
        printed = {
            folded(phrase): (language.says(pair[0]), language.says(pair[1]))
            for phrase, (_, pair) in names.equipment.items()
            if pair in PAIRS
        }
        closed = {folded(phrase) for phrase, (key, _) in names.equipment.items() if key in names.rest_only}
        self._shut = ways_to_shut({phrase: pair for phrase, pair in printed.items() if phrase in closed})
        self._nearest = NearestPhrases(
            [folded(phrase) for phrase in names.boats], printed, language, self._questions, frozenset(closed)
        )

    def near(self, text: str, texted: str) -> tuple[str, ...]:
        """The phrases near `text`; nothing when one of them cannot be read or is what was texted."""
        return self._readable(self._nearest.to(text), texted)

    def _parse(self, text: str) -> Understood:
        return self._meant_by(self._tokens(text))

    def flawed(self, flaw: Flaw, text: str) -> NotUnderstood:
        """The answer to a cleaned text that fits the grammar and may not be carried out."""
        if flaw.equipment is None:
            return NotUnderstood(why=flaw.why)
        boat = boat_named(text, self._tree)
        nearest = self._nearest.pair_of(self._phrase_of[flaw.equipment]) if flaw.why is Why.WRONG_ACTION else ()
        if boat is not None:
            nearest = tuple(f"{self._boat_phrase(boat)} {phrase}" for phrase in nearest)
        return NotUnderstood(why=flaw.why, nearest=self._readable(nearest, text), equipment=flaw.equipment, boat=boat)

    def _boat_phrase(self, boat: str) -> str:
        return folded(next(phrase for phrase, key in self._names.boats.items() if key == boat))

    def not_a_phrase(self, text: str) -> NotUnderstood:
        """The answer to a cleaned text that does not fit the grammar."""
        if is_mere_answer(said := self._without_boat(text), self._language.mere):
            return NotUnderstood(why=Why.MERE_ANSWER, boat=boat_named(text, self._tree), alarm=number_beside(said))
        if _HALF_A_CODE.fullmatch(self._without_boat(text)):
            return NotUnderstood(why=Why.HALF_A_CODE)
        if is_code_alone(text):
            return NotUnderstood(why=Why.CODE_ALONE)
        if otherwise := self._begun_otherwise(text) or self._shut_otherwise(text):
            return NotUnderstood(why=Why.NOT_A_PHRASE, nearest=otherwise)
        if (nobody := nobody_named(self._without_boat(text), self._language, self._people)) is not None:
            return NotUnderstood(why=nobody, boat=boat_named(text, self._tree))
        if self._only_its_time_is_strange(text):
            return NotUnderstood(why=Why.BAD_TIME)
        if alarms := self._with_one_number(text):
            return NotUnderstood(why=Why.SEVERAL_ALARMS if len(alarms) > 1 else Why.NOT_A_PHRASE, nearest=alarms)
        nearest = self.near(text, text) or self._with_its_boat_in_front(text)
        return NotUnderstood(why=Why.NOT_A_PHRASE, nearest=nearest or self._asked_after(text))

    def _parted(self, text: str) -> tuple[str, str]:
        """The boat's name in front, with its blank, and what stands behind it."""
        rest = self._without_boat(text)
        return text.removesuffix(rest), rest

    def _begun_otherwise(self, text: str) -> tuple[str, ...]:
        """The phrase that is meant where people begin it with another word ("silence 14", "duty to Tobias")."""
        boat, rest = self._parted(text)
        said = self._language.as_it_begins(rest)
        if said == rest:
            return ()
        try:
            return (self._phrase_for(self._parse(boat + said)),)
        except (Flaw, UnexpectedInput):
            return self.near(boat + said, text)

    def _shut_otherwise(self, text: str) -> tuple[str, ...]:
        boat, rest = self._parted(text)
        phrase = shut_otherwise(rest, self._shut)
        return () if phrase is None else self._readable((boat + phrase,), text)

    def _asked_after(self, text: str) -> tuple[str, ...]:
        boat, rest = self._parted(text)
        question = asked_after(rest, self._questions, self._language.misleading)
        return () if question is None else self._readable((boat + question,), text)

    def _with_its_boat_in_front(self, text: str) -> tuple[str, ...]:
        """What may be offered for a text that has its boat's name elsewhere: a question as it is printed, for nothing
        is carried out by one; else what comes near, with all that withholds a suggestion."""
        for turned in boat_to_front(text, self._tree):
            if phrases := self._question_in(turned) or self.near(turned, text):
                return phrases
        return ()

    def _question_in(self, text: str) -> tuple[str, ...]:
        """The question that `text` is, as it is printed; nothing for all else."""
        try:
            understood = self._parse(text)
        except (Flaw, UnexpectedInput):
            return ()
        if not isinstance(understood.request, Question) or understood.boat is None:
            return ()
        return (self._phrase_for(understood),)

    def _phrase_for(self, understood: Understood) -> str:
        """As it is printed, with its boat in front where one was named."""
        front = "" if understood.boat is None else f"{self._boat_phrase(understood.boat)} "
        return front + say(understood.request, self._phrase_of, self._language.printed)

    def _with_one_number(self, text: str) -> tuple[str, ...]:
        """A phrase for each alarm of a text that names several, or names one in words; nothing unless each can be read
        and is about an alarm."""
        joined = re.sub(r" ?[&+] ?", f" {self._and} ", text)
        try:
            each = [self._meant_by(one) for one in one_number_each(self._tokens(joined))]
        except (Flaw, UnexpectedInput):
            return ()
        if any(getattr(one.request, "alarm", None) is None for one in each):
            return ()
        return tuple(map(self._phrase_for, each))

    def _only_its_time_is_strange(self, text: str) -> bool:
        """Whether a switch that can be read stands before "for" or "until", and behind it something that is no time of
        ours ("for a bit", "until six o'clock") and nothing that would turn the meaning."""
        found = self._limit.fullmatch(text)
        if found is None or self._nearest.says_more(_DAYS_TO_COME.sub("", found[2])):
            return False
        try:
            request = self._parse(found[1]).request
        except (Flaw, UnexpectedInput):
            return False
        return isinstance(request, Switch) and request.minutes is None and request.until is None

    def _readable(self, phrases: tuple[str, ...], text: str) -> tuple[str, ...]:
        """`phrases` when every one of them can be read and none is what was texted, else nothing."""
        if text in phrases or not all(self._reads(phrase) for phrase in phrases):
            return ()
        return phrases

    def _reads(self, phrase: str) -> bool:
        try:
            self._parse(folded(phrase))
        except (Flaw, UnexpectedInput):
            return False
        return True

    def _without_boat(self, text: str) -> str:
        words = text.split()
        end, terminal, _ = self._tree.longest(words, 0)
        return " ".join(words[end:]) if terminal == "BOAT" else text
