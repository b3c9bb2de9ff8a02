"""A practice alarm: "practice house bank low", "practice over". What stands behind its head is the name of an alarm
point; which one that is, if any, is for the desk to say."""

import re
from collections.abc import Mapping

from grammar.meanings import Practice, PracticeOver, Understood
from grammar.notes import boat_first

WORDS: Mapping[str, tuple[str, ...]] = {"en": ("practice", "practise"), "de": ("übung", "uebung")}
"""The words that begin it, by language; with both spellings of the English one."""

OVER: Mapping[str, tuple[str, ...]] = {"en": ("over", "off"), "de": ("beendet", "vorbei", "ende")}
"""What stands behind that word to end one."""

LONGEST_NAME = 80
"""Characters of a point's name that are looked at; our choice, twice the longest of the starter's."""

_HEAD = r"(?:{words})[\s,.;-]+(?P<words>[^\s:?].*?)[\s.!]*"


def practice_in(text: str, boats: Mapping[str, str], language: str) -> Understood | None:
    """The practice alarm in the cleaned `text`, None when it asks for none. boats: phrase -> neutral key, one of which
    may stand in front. language: its own words will do as well.

    A colon is never in it: every text of ours about a boat has one, so that none of ours, sent back, sets anything off.
    Nor is a question mark, because a question is no order.
    """
    heads = dict.fromkeys((*WORDS["en"], *WORDS.get(language, ())))
    if ":" in text or "?" in text or not any(head in text for head in heads):
        return None
    boat, rest = boat_first(text, boats)
    found = re.fullmatch(_HEAD.format(words="|".join(heads)), rest)
    if found is None or len(found["words"]) > LONGEST_NAME:
        return None
    if found["words"] in (*OVER["en"], *OVER.get(language, ())):
        return Understood(request=PracticeOver(), boat=boat)
    return Understood(request=Practice(words=found["words"]), boat=boat)
