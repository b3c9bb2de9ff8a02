"""The page of texts: current, complete, and fit to be read aloud."""

import re
from typing import get_args

from gateway.requests.answers import Answer
from gateway.telling.notices import Notice
from gateway.wording.say import say
from tests.documents.texts import GROUPS, PAGE, page, scene

TEXTS = [say(notice, scene()) for _, examples in GROUPS for _, notice in examples]


def test_the_page_is_what_the_wording_says_today() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "run python -m tests.documents.texts"


def test_every_kind_of_text_is_on_the_page() -> None:
    shown = {type(notice) for _, examples in GROUPS for _, notice in examples}
    assert shown == {*get_args(Notice), *get_args(Answer)}


def test_no_text_begins_with_a_small_letter() -> None:
    assert [text for text in TEXTS if not re.match(r"[A-Z0-9]", text)] == []


def test_every_sentence_begins_with_a_capital_or_a_figure() -> None:
    assert [text for text in TEXTS if re.search(r"[.?] [a-z]", text)] == []


def test_no_text_calls_a_boat_safe_or_speaks_of_ids() -> None:
    assert [text for text in TEXTS if re.search(r"\bsafe\b|id-|grey-wagtail|None", text)] == []
