"""Our cutting gives the tokens that Lark's own lexer gives, and takes no grammar that it could not cut."""

from collections.abc import Callable

import pytest
from lark import Lark
from lark.exceptions import UnexpectedInput

from grammar.cleaning import LONGEST_CLEAN, cleaned
from grammar.cutting import Cutter, UnknownMark
from grammar.texts import _CUTTER, _PARSER
from tests.grammar.hostile import BAD, GOOD, block


def cut_by(cut: Callable[[str], object], text: str) -> list[tuple[str, str]] | None:
    try:
        return [(token.type, str(token)) for token in cut(text)]  # type: ignore[attr-defined]
    except UnexpectedInput:
        return None


def test_every_text_is_cut_as_larks_own_lexer_cuts_it() -> None:
    lexer = Lark.open("texts.lark", rel_to=_PARSER.source_path, start="text", parser=None, lexer="basic")
    texts = [cleaned(text).text[:LONGEST_CLEAN] for _, _, text in list(block(7))[:1_500]] + GOOD + BAD
    differing = [text for text in texts if cut_by(_CUTTER.cut, text) != cut_by(lexer.lex, text)]
    assert differing == []
    assert sum(cut_by(_CUTTER.cut, text) is None for text in texts) > 50


def test_a_mark_that_begins_no_word_is_named() -> None:
    with pytest.raises(UnknownMark, match=r'"\(" begins no word'):
        _CUTTER.cut("generator (start")


def test_a_grammar_whose_word_is_no_whole_word_is_refused() -> None:
    broken = Lark('text: "take over" | WORD\nWORD: /[a-z]+/\nGAP: / +/\n%ignore GAP', start="text", parser="lalr")
    with pytest.raises(ValueError, match='"take over" is not one whole word'):
        Cutter(broken.terminals)
