"""Reads what a person texts. Exactly what the language holds is understood; everything else gets an answer, at most.

The language is `texts.lark`, read by Lark's LALR(1) parser with the basic lexer. Measured against Earley: that one
picks a meaning silently and cuts a name in two to make a text fit; for an engine refusing is right.
"""

import re
from collections.abc import Iterable, Mapping

from lark import Lark, ParseTree, Token
from lark.exceptions import UnexpectedInput, VisitError

from grammar.answers import is_reaction
from grammar.carrier_words import OPT_IN, OPT_OUT
from grammar.cleaning import LONGEST_CLEAN, LONGEST_RAW, cleaned, folded, swells
from grammar.code_words import is_code_alone
from grammar.cutting import Cutter
from grammar.helping import Helping, Names
from grammar.language import ENGLISH, Language
from grammar.meanings import (
    Confirm,
    Meaning,
    NotUnderstood,
    ProveNumber,
    Understood,
    Why,
    Withdraw,
)
from grammar.names import PAIRS, Branch, Pair, Vocabulary, Wordings, clashes, name_problem, numbered_twins, wordings
from grammar.notes import note_in
from grammar.practices import WORDS as PRACTICE_WORDS
from grammar.practices import practice_in
from grammar.self_check import SelfCheck
from grammar.tree_meaning import TreeMeaning
from grammar.tree_times import Flaw

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
        self._boats, self._equipment = dict(boats), dict(equipment)
        self._subjects = tuple(dict.fromkeys(subjects))
        self._language = language
        self._boat_wordings = frozenset(wording for phrase in self._boats for wording in wordings(phrase))
        self._wordings = {one for wording in language.words for one in language.spellings(folded(wording))}
        self._tree = Branch()
        self._people = _tree_of_people(people or {}, language)
        self._vocabulary = Vocabulary(self._tree, _wordings_of(language), self._people)
        self._faults = self._add_names()
        self._meaning = TreeMeaning(dict(self._equipment.values()), rest_only, language.day_of_24)
        self._helping = Helping(
            names=Names(self._boats, self._equipment, self._subjects, rest_only),
            language=language,
            tree=self._tree,
            people=self._people,
            tokens=self._tokens,
            meant_by=self._meant_by,
        )

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
            return self._helping.flawed(flaw, clean.text)
        except UnexpectedInput:
            if clean.quoted and is_code_alone(clean.text):
                return NotUnderstood(why=Why.REACTION)
            return self._helping.not_a_phrase(clean.text)
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

    def _tokens(self, text: str) -> list[Token]:
        return list(self._vocabulary.process(_CUTTER.cut(text)))

    def _parse(self, text: str) -> Understood:
        return self._meant_by(self._tokens(text))

    def _meant_by(self, tokens: Iterable[Token]) -> Understood:
        try:
            meant = self._meaning.transform(_tree_of(tokens))
        except VisitError as wrapped:
            raise wrapped.orig_exc from None
        return meant

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
        return NotUnderstood(why=Why.NOT_A_PHRASE, nearest=self._helping.near(phrase, text))

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
