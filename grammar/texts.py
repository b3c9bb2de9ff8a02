"""Reads what a person texts. Exactly what the language holds is understood; everything else gets an answer, at most.

The language is `texts.lark`, read by Lark's LALR(1) parser with the basic lexer. Measured against Earley: that one
picks a meaning silently and cuts a name in two to make a text fit; for an engine refusing is right.
"""

import re
from collections.abc import Iterable, Mapping

from lark import Lark, ParseTree, Token
from lark.exceptions import UnexpectedInput, VisitError

from grammar.answers import is_mere_answer, is_reaction, number_beside
from grammar.asked_after import asked_after
from grammar.carrier_words import OPT_IN, OPT_OUT
from grammar.cleaning import LONGEST_CLEAN, LONGEST_RAW, cleaned, folded, swells
from grammar.code_words import is_code_alone
from grammar.cutting import Cutter
from grammar.language import ENGLISH, Language
from grammar.meanings import (
    Asking,
    Confirm,
    Meaning,
    NotUnderstood,
    ProveNumber,
    Question,
    Switch,
    Understood,
    Why,
    Withdraw,
)
from grammar.names import PAIRS, Branch, Pair, Vocabulary, Wordings, clashes, name_problem, numbered_twins, wordings
from grammar.nearest import NearestPhrases
from grammar.nobody_named import nobody_named
from grammar.notes import note_in
from grammar.one_number import one_number_each
from grammar.phrases import say
from grammar.practices import WORDS as PRACTICE_WORDS
from grammar.practices import practice_in
from grammar.self_check import SelfCheck
from grammar.switch_phrases import shut_otherwise, ways_to_shut
from grammar.tree_meaning import TreeMeaning
from grammar.tree_times import Flaw
from grammar.turned_round import boat_named, boat_to_front

GRAMMAR = "texts.lark"

_PARSER = Lark.open(GRAMMAR, rel_to=__file__, start="text", parser="lalr", lexer="basic")
"""The tables of the language, made once: names and wordings of other languages are put in before it, by the reader."""

_CUTTER = Cutter(_PARSER.terminals)
"""Cuts texts and names alike."""


class TextReader:
    """The reader of one installation.

    boats: phrase -> neutral key. equipment: phrase -> (neutral key, pair of actions); the pair is ("start", "stop"),
    ("on", "off") or ("open", "close"), the one that makes something run, flow or live first. One thing may have several
    phrases. subjects: names of what is measured, that one can ask after; one that is also an equipment's means that.
    people: phrase -> neutral key, for "duty"; a name that cannot be texted, or that means something else there, is left
    out without a word, because every person has a key as well.
    rest_only: keys of equipment whose first action is never an order, whatever is texted ("gas valve open"): no text
    means it, so nothing behind the reader can carry it out.
    language: texts are read in this one only. Names that may not be used are left out and named by `problems`, so
    making a reader never fails.
    """

    def __init__(
        self,
        boats: Mapping[str, str],
        equipment: Mapping[str, tuple[str, Pair]],
        subjects: Iterable[str] = (),
        language: Language = ENGLISH,
        people: Mapping[str, str] | None = None,
        rest_only: frozenset[str] = frozenset(),
    ) -> None:
        self._rest_only = rest_only
        said = language.says
        self._boats, self._equipment = dict(boats), dict(equipment)
        self._subjects = tuple(dict.fromkeys(subjects))
        self._language = language
        self._boat_wordings = frozenset(wording for phrase in self._boats for wording in wordings(phrase))
        self._wordings = {one for wording in language.words for one in language.spellings(folded(wording))}
        self._and = next(iter(language.standing_for("and")), "and")
        self._tree = Branch()
        self._people = _tree_of_people(people or {}, language)
        self._vocabulary = Vocabulary(self._tree, _wordings_of(language), self._people)
        self._faults = self._add_names()
        self._meaning = TreeMeaning(dict(self._equipment.values()), rest_only, language.day_of_24)
        limits = "|".join(map(re.escape, language.standing_for("for", "until")))
        self._limit = re.compile(rf"(.+?) (?:{limits}) ((?:\S+ ?){{1,4}})")
        self._phrase_of = {key: folded(phrase) for phrase, (key, _) in reversed(self._equipment.items())}
        self._questions = {
            folded(phrase): say(Question(asking=Asking.STATUS, subject=folded(phrase)), {}, language.printed)
            for phrase in self._subjects
        }
        closed = {
            folded(phrase): (said(pair[0]), said(pair[1]))
            for phrase, (key, pair) in self._equipment.items()
            if key in rest_only
        }
        self._nearest = NearestPhrases(
            [folded(phrase) for phrase in self._boats],
            {
                folded(phrase): (said(pair[0]), said(pair[1]))
                for phrase, (_, pair) in self._equipment.items()
                if pair in PAIRS
            },
            language,
            self._questions,
            frozenset(closed),
        )
        self._shut = ways_to_shut(closed)

    def read(self, body: str) -> Meaning:
        """What `body` (a text as it arrived) asks for, or why it does nothing. Never raises."""
        if len(body) > LONGEST_RAW or swells(body):
            return NotUnderstood(why=Why.TOO_LONG)
        clean = cleaned(body)
        if not clean.text:
            return NotUnderstood(why=Why.MERE_ANSWER if clean.cheered else Why.EMPTY)
        note = note_in(body, self._boats, self._language.key)
        if note is not None:
            return note
        if is_reaction(clean.text):
            return NotUnderstood(why=Why.REACTION)
        if self._quotes_us(clean.text):
            return self._headed_as_ours(clean.text)
        if len(clean.text) > LONGEST_CLEAN:
            return NotUnderstood(why=Why.TOO_LONG)
        if (alone := clean.text.strip(" .!?,;:-*\"'")) in OPT_OUT | OPT_IN:
            return NotUnderstood(why=Why.OPT_OUT if alone in OPT_OUT else Why.OPT_IN)
        practice = None if clean.quoted else practice_in(clean.text, self._boats, self._language.key)
        if practice is not None:
            return practice
        try:
            understood = self._parse(re.sub(r"(?<= )'til(?= )", "til", clean.text))
        except Flaw as flaw:
            return self._flawed(flaw, clean.text)
        except UnexpectedInput:
            if clean.quoted and is_code_alone(clean.text):
                return NotUnderstood(why=Why.REACTION)
            return self._not_a_phrase(clean.text)
        if clean.quoted and isinstance(understood.request, Confirm | ProveNumber):
            return NotUnderstood(why=Why.REACTION)  # a quoted code is not a confirmation (our rule)
        return understood

    def problems(self) -> tuple[str, ...]:
        """The self-check at the start: what is wrong with the names, in plain words with the cure; empty when well."""
        check = SelfCheck(
            read=self.read,
            boats=self._boats,
            equipment=self._equipment,
            subjects=self._subjects,
            language=self._language,
            rest_only=self._rest_only,
        )
        return (*self._faults, *check.misread())

    def warnings(self) -> tuple[str, ...]:
        """What the installer should know of names that work: one is another and a number, so some texts are refused."""
        return tuple(
            f'"{longer}" is "{shorter}" and a number: texts such as "start {longer} hours" are refused, never misread'
            for shorter, longer in numbered_twins(self._equipment)
        )

    def _parse(self, text: str) -> Understood:
        return self._meant_by(self._vocabulary.process(_CUTTER.cut(text)))

    def _meant_by(self, tokens: Iterable[Token]) -> Understood:
        try:
            meant = self._meaning.transform(_tree_of(tokens))
        except VisitError as wrapped:
            raise wrapped.orig_exc from None
        return meant

    def _flawed(self, flaw: Flaw, text: str) -> NotUnderstood:
        if flaw.equipment is None:
            return NotUnderstood(why=flaw.why)
        boat = boat_named(text, self._tree)
        nearest = self._nearest.pair_of(self._phrase_of[flaw.equipment]) if flaw.why is Why.WRONG_ACTION else ()
        if boat is not None:
            nearest = tuple(f"{self._boat_phrase(boat)} {phrase}" for phrase in nearest)
        return NotUnderstood(why=flaw.why, nearest=self._readable(nearest, text), equipment=flaw.equipment, boat=boat)

    def _boat_phrase(self, boat: str) -> str:
        return folded(next(phrase for phrase, key in self._boats.items() if key == boat))

    def _not_a_phrase(self, text: str) -> NotUnderstood:
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
        nearest = self._readable(self._nearest.to(text), text) or self._with_its_boat_in_front(text)
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
            return self._readable(self._nearest.to(boat + said), text)

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
            if phrases := self._question_in(turned) or self._readable(self._nearest.to(turned), text):
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
            tokens = list(self._vocabulary.process(_CUTTER.cut(joined)))
            each = [self._meant_by(one) for one in one_number_each(tokens)]
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

    def _quotes_us(self, text: str) -> bool:
        """Every alert of ours begins with the boat's name, perhaps its berth, and a colon; for practice with that
        word."""
        head, colon, _ = text.partition(":")
        head = _PRACTISED.sub("", head)
        return bool(colon) and not self._boat_wordings.isdisjoint((head, head.rpartition(" ")[0]))

    def _headed_as_ours(self, text: str) -> NotUnderstood:
        """A person may write as we do ("salt harrier: fridge off"). Only when all behind the colon is a phrase, and no
        code word, it is helped; everything else is a text of ours, quoted. Nothing of it is ever carried out."""
        head, _, rest = text.partition(":")
        boat = head if head in self._boat_wordings else head.rpartition(" ")[0]
        phrase = f"{boat} {rest.strip()}"
        try:
            request = self._parse(phrase).request
        except (Flaw, UnexpectedInput):
            return NotUnderstood(why=Why.REACTION)
        if isinstance(request, Confirm | Withdraw | ProveNumber):
            return NotUnderstood(why=Why.REACTION)
        return NotUnderstood(why=Why.NOT_A_PHRASE, nearest=self._readable(self._nearest.to(phrase), text))

    def _own_word(self, phrase: str) -> str | None:
        """What is wrong with a name that is a wording of this language: it would be taken for the name alone."""
        if folded(phrase) not in self._wordings:
            return None
        return f'the name "{phrase}" is a word of the text language alone; add another word to it'

    def _add_names(self) -> list[str]:
        things = [(phrase, "BOAT", key) for phrase, key in self._boats.items()]
        things += [(phrase, "EQUIPMENT", key) for phrase, (key, pair) in self._equipment.items() if pair in PAIRS]
        unasked = [phrase for phrase in self._subjects if not _may_be_asked_after(phrase)]
        self._subjects = tuple(phrase for phrase in self._subjects if phrase not in unasked)
        things += [(phrase, "SUBJECT", folded(phrase)) for phrase in self._subjects]
        faults = list(clashes(self._boats, self._equipment, self._subjects))
        names: list[tuple[list[Token], str, str]] = []
        for phrase, terminal, key in things:
            fault = name_problem(phrase, _cut) or self._own_word(phrase)
            if fault is not None:
                faults.append(fault)
                continue
            names += [
                (words, terminal, key)
                for wording in wordings(phrase)
                for spelling in self._language.spellings(wording)
                if (words := _cut(spelling))
            ]
        for words, terminal, key in names:  # only now: a name in the tree would change how the next one is cut
            self._tree.add(words, terminal, key)
        return faults


_PRACTISED = re.compile(rf"^(?:{'|'.join(one for words in PRACTICE_WORDS.values() for one in words)})\. ")
"""How our texts of a practice alarm begin, before the boat's name."""

_HALF_A_CODE = re.compile(r"(?:go|drop|prove)(?: \w+)?")
"""A confirmation without both its words. The heads are the same in every language."""

_DAYS_TO_COME = re.compile(r"\b(?:tomorrow|tonight|later|morgen|heute|später)\b")
"""Words of a time that cannot be said here; elsewhere in a text they withhold a suggestion."""

_NO_PERSON = frozenset({"me", "myself", "off"})
"""What stands behind "duty" and is nobody's name there."""


def _tree_of(tokens: Iterable[Token]) -> ParseTree:
    parsing = _PARSER.parse_interactive("")
    for token in tokens:
        parsing.feed_token(token)
    tree: ParseTree = parsing.feed_eof()  # type: ignore[no-untyped-call]
    return tree


def _tree_of_people(people: Mapping[str, str], language: Language) -> Branch:
    tree = Branch()
    own = {wording for wording, english in language.words.items() if english in _NO_PERSON}
    for phrase, key in people.items():
        for wording in wordings(phrase):
            for spelling in language.spellings(wording):
                words = [str(token) for token in _cut(spelling) or ()]
                if words and words[0] not in _NO_PERSON | own:
                    tree.add(words, "PERSON", key)
    return tree


def _may_be_asked_after(phrase: str) -> bool:
    """Whether a signal's name can be asked after: it is a good name and holds no word of the language, so that it
    never joins with the words round it to another meaning ("generator on")."""
    tokens = _cut(folded(phrase))
    return tokens is not None and name_problem(phrase, _cut) is None and all(t.type in _PLAIN_TOKENS for t in tokens)


_PLAIN_TOKENS = frozenset(["WORD", "SMALL", "FOUR"])


def _cut(plain: str) -> list[Token] | None:
    """The tokens of a folded name; None when it holds a mark that no word may hold."""
    try:
        return _CUTTER.cut(plain)
    except UnexpectedInput:
        return None


def _wordings_of(language: Language) -> Wordings | None:
    """The language's wordings as tokens of the grammar; None for the language of the grammar itself. Raises ValueError
    for a right side that is none of the grammar's words, a mistake of the translator."""
    if not language.words:
        return None
    tree = Wordings()
    for wording, english in language.words.items():
        tokens = _cut(english)
        if tokens is None or any(token.type == "WORD" for token in tokens):
            raise ValueError(f'{language.key}: "{wording}": "{english}" are no words of {GRAMMAR}')
        for spelling in language.spellings(folded(wording)):
            tree.add(_cut(spelling) or [], tokens)
    return tree
