"""Texts that are no requests but are worth telling apart: mere answers, reactions and quotations, and texts for which a
suggestion would mislead. Nothing here ever allows anything."""

import re
import unicodedata

from rapidfuzz.distance import OSA

_MERE = (
    r"ok|okay|okey|k|kk|okie|yes|yep|yeah|yup|sure|fine|great|good|nice|cool|perfect|right|alright|all right|"
    r"got it|gotit|i(?:'ve| have|ve)? got it|got you|seen|seen it|seen this|read it|noted|roger|copy|copy that|copied|"
    r"understood|received|confirmed|thanks|thank you|thankyou|thx|ty|ta|cheers|please|pls|will do|on it|i'?m on it|"
    r"on my way|omw|coming|ack|acknowledge|acknowledged|hi|hello|hey"
)
_MERE_ANSWER = re.compile(rf"(?:{_MERE})(?:[\s,.!]+(?:{_MERE}|it|that|mate|#?\d{{1,4}}))*\??")

_SEEN = r"ok|okay|okey|k|yes|yep|yeah|got it|seen|seen it|read it|noted|roger|copy|copy that|understood|received|ack"
_NUMBER_SEEN = re.compile(rf"(?:alarm )?#?[1-9][0-9]{{0,3}}[\s,.!:-]+(?:{_SEEN})[\s.!]*")
"""The number in front of what says no more than that it was seen ("4 ok")."""

_REACTION = re.compile(
    r"(?:liked|loved|disliked|emphasi[sz]ed|questioned|laughed at|reacted|removed)\b"
    r".*(?:\"|'|\b(?:an?|the) (?:image|photo|message|text)\b|\bto\b)"
    r"|(?:>|-{2,}|fwd?\b ?:|re ?:|forwarded\b|on .* wrote:)"
    r"|.*\breply (?:go|drop|have it|checked)\b"
)
"""A phone's reaction in words, a quoted or forwarded text, and our own wording of an offer. Forms seen in press
articles of 2021 and 2022 on how phones turn reactions into texts; the rest is common practice, no source."""

LONGEST_SAFE_FROM_SLIPS = 4
"""Letters of the longest negation of which a slip makes so many other words that it is looked for as it is written."""

_NEGATION = """unchecked wait forget ignore scratch no not never nobody none without neither nor dont don't doesnt
    doesn't didnt didn't cant can't cannot wont won't isnt isn't wasnt wasn't shouldnt shouldn't
    mustnt mustn't couldnt wouldnt havent haven hasnt hadnt arent werent neednt avoid leave keep"""
_CONDITION = """if when unless once in case whenever while before after later tomorrow tonight maybe perhaps soon at
    again every daily"""
_QUESTION = """is are was were be been did does do has had will would should could can may might shall must why who what
    which where how want wants wanted need needs think thought hope wish let"""
_REPORT = """started stopped switched turned opened closed running ran stopping starting said says told liked loved
    disliked emphasized emphasised laughed questioned reacted just already still visited found saw heard went since
    tried fail failed fails failure fault error warning done complete timeout ok log shelved"""
_TWO_ORDERS = "sorry oops mean correction and then but or also both all everything instead except"

_SHORT_NEGATIONS = tuple(
    word for word in _NEGATION.split() if word.endswith("nt") and len(word) > LONGEST_SAFE_FROM_SLIPS
)

_MISLEADING = frozenset(f"{_NEGATION} {_CONDITION} {_QUESTION} {_REPORT} {_TWO_ORDERS}".split())
"""Words that withhold a suggestion, never anything that allows one."""


_SHORT_NOT = re.compile(
    r"\b(?:have|has|had|do|does|did|is|was|are|were|ca|wo|would|could|should|must|ai)n['\s]?t\b|\bun-?checked\b"
)

_ACTIONS = frozenset(["start", "stop", "on", "off", "open", "close", "run"])


_NUMBER_BEFORE = re.compile(r"^(?:alarm )?#?[1-9][0-9]{0,3}[\s,.!:-]+")


def is_mere_answer(text: str, wordings: tuple[str, ...] = ()) -> bool:
    """Whether the cleaned `text` only says that it was seen. It takes nothing. wordings: of another language."""
    plain = text.rstrip("?")
    if _MERE_ANSWER.fullmatch(text) or _NUMBER_SEEN.fullmatch(text):
        return True
    return _NUMBER_BEFORE.sub("", plain) in wordings or re.sub(r"[\s,.!]*#?\d{1,4}$", "", plain) in wordings


def number_beside(text: str) -> int | None:
    """The alarm that a mere answer names: the one number in it, None where there is none or more than one."""
    found = set(re.findall(r"(?<!\d)[1-9]\d{0,3}(?!\d)", text))
    return int(found.pop()) if len(found) == 1 else None


def is_reaction(text: str) -> bool:
    """Whether the folded `text` is a phone's reaction or a quotation of one of ours: it never confirms anything."""
    return '"' in text or _REACTION.match(text) is not None


def would_mislead(text: str, foreign: frozenset[str] = frozenset()) -> bool:
    """Whether the cleaned `text` holds a word of negation, condition, question, wish or report, a second order, a mark
    of question or quotation, or a picture sign (a cross negates): then no phrase is suggested."""
    words = set(re.findall(r"[\w']+", text))
    if _SHORT_NOT.search(text) or text[:1].isdigit() or "_" in text:
        return True
    if not foreign.isdisjoint(words):
        return True
    if len(_ACTIONS.intersection(words)) > 1 or any(unicodedata.category(char) == "So" for char in text):
        return True
    if any(OSA.distance(word, short, score_cutoff=1) <= 1 for word in words for short in _SHORT_NEGATIONS):
        return True
    return any(word in _MISLEADING for word in words) or any(mark in text for mark in '?"\u00bf;\n')
