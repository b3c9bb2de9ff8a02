"""The installer's trouble by mail: the same words as by text, and what a text has no room for."""

from gateway.requests.answers import Answer
from gateway.telling.notices import Notice
from gateway.telling.outcomes import OPTED_OUT, Outcome, Way, outcome_of
from gateway.telling.trouble_notices import CarrierStuck, NotReached, OptOutSeen
from gateway.wording.clocks import clock
from gateway.wording.fitting import clipped, tidy
from gateway.wording.say import kind_of
from gateway.wording.scene import Scene

LONGEST_SUBJECT = 70
"""Characters (RFC 5322 2.1.1 would have lines of 78 at most, its name included)."""

_WHY = (
    "This comes by mail because texts may not arrive. It may come twice.",
    "Nothing that is answered to it is read: answer by text.",
)

_WAYS = {
    Way.TEXT: "",
    Way.VOICE: "That number can be rung, but takes no texts.",
    Way.OTHER: "Until that is mended no text reaches that number: reach the person another way.",
}


def mail(what: Notice | Answer, text: str, scene: Scene) -> tuple[str, str]:
    """Subject and body of a mail. text: the same as it was worded for a text. Times are the boat's, else the
    person's."""
    boat = scene.boats.get(what.boat)
    subject = clipped(tidy(f"{boat.name if boat else 'heavingline'}: {kind_of(what)}"), LONGEST_SUBJECT)
    at = clock(scene, what.boat, what.person)
    lines = [text, "", f"Decided at {at.told(scene.now)}.", *_more(what), "", *_WHY]
    return subject, "\n".join(line for line in lines if line is not None) + "\n"


def _more(what: Notice | Answer) -> list[str]:
    match what:
        case NotReached(code=code) | CarrierStuck(code=code):
            return _outcome(outcome_of(code), code)
        case OptOutSeen():
            return _outcome(outcome_of(OPTED_OUT), OPTED_OUT)
        case _:
            return []


def _outcome(outcome: Outcome, code: str) -> list[str]:
    lines = [f"What it means: {outcome.meaning} (code {tidy(code)}).", f"What mends it: {outcome.cure}."]
    return [*lines, *([_WAYS[outcome.next_way]] if _WAYS[outcome.next_way] else [])]
