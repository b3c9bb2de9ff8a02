"""Texts about a person that name nobody we know: a lost phone without a name, duty for somebody unknown. Only told
apart so that the answer can help; nothing is carried out by them."""

import re

from grammar.answers import would_mislead
from grammar.language import Language
from grammar.meanings import Why
from grammar.names import Branch

_LOST = re.compile(
    r"(?:i(?:'ve| have|ve)? )?lost (?:my |a |the )?phone"
    r"|(?:my |the )?phone (?:is |was |got )?(?:lost|stolen|gone|missing)"
    r"|my phone (?:has been|'s been|was|got) (?:lost|stolen)"
    r"|(?:ich )?(?:hab |habe )?(?:mein |das )?(?:handy|telefon) (?:ist )?(?:weg|verloren|gestohlen)"
)
"""What is texted of a phone that is gone: wordings of ours, no source. A German text that means something there is
read before anything is looked for here."""

_NAME = r"([^\W\d_][\w'-]*(?: [^\W\d_][\w'-]*){0,2}?)"

_NO_NAMES = frozenset(
    [
        *(
            "off",
            "of",
            "me",
            "end",
            "ended",
            "over",
            "done",
            "finished",
            "roster",
            "list",
            "rota",
            "today",
            "on",
            "until",
        ),
        *("ich", "ende", "vorbei", "heute", "plan", "liste", "bis"),
    ]
)
"""What stands behind "duty" and is no name."""


def nobody_named(text: str, language: Language, people: Branch) -> Why | None:
    """The reason of a cleaned `text` without its boat that cannot be read; None when it is about something else, or
    negates, asks, reports or sets a condition. people: names of persons."""
    if _LOST.fullmatch(text) or text in (lost := language.standing_for("phone lost", "phone stolen")):
        return Why.WHOSE_PHONE
    if _named_behind(text, lost, language, people):
        return Why.WHOSE_PHONE
    if _named_behind(text, language.standing_for("duty"), language, people):
        return Why.NOBODY_KNOWN
    return None


def _named_behind(text: str, heads: tuple[str, ...], language: Language, people: Branch) -> bool:
    """Whether one of `heads` stands in front, and behind it what may be the name of somebody whom nobody knows, perhaps
    with an end."""
    ends = "|".join(map(re.escape, language.standing_for("until")))
    before = "|".join(map(re.escape, heads))
    found = re.fullmatch(rf"(?:{before}) {_NAME}(?: (?:{ends}) [\w: ]+)?", text)
    if found is None or would_mislead(found[1], language.misleading):
        return False
    name = found[1].split()
    return name[0] not in _NO_NAMES and not people.longest(name, 0)[1]
