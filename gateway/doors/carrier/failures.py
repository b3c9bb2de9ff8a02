"""What went wrong with a call, read from what the client raises: the carrier's own word, or none."""

import json
import re
from dataclasses import dataclass

from requests import RequestException
from twilio.base.exceptions import TwilioException  # type: ignore[import-untyped]

from gateway.doors.faces import NoAnswer, Refused, SendResult
from gateway.people.numbers import masked
from gateway.telling.outcomes import TOO_MANY_STATUS
from gateway.vocabulary.moments import Ms

NOT_AN_ANSWER = (TwilioException, RequestException, ValueError, TypeError, AttributeError, LookupError)
"""What the client raises: its own two families, those of its transport, and those of an answer that is no text at
all (a log-in page, JSON of another shape)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """What is known of a call that failed. status: HTTP status, 0 when there was no answer. code: the carrier's error
    code, "" when the answer was not its own."""

    status: int
    code: str
    detail: str


_NUMBER = re.compile(r"\+?\d{8,15}")
"""What may be a telephone number in the carrier's own words: those words go into logs, numbers must not."""

LINE_REMEDY = "The gateway goes on asking; look at the link to the internet if it lasts"
CODE_REMEDY = "Look this error up with the carrier"
REMEDIES = {
    401: "Check the account and the token in the installation",
    403: "Check with the carrier that the account is in good standing",
    429: "The gateway asks again later; look for another program that uses the account",
}


def word_of(trouble: Exception) -> Word:
    """Read a failure by its fields: its text may be coloured for a terminal (read in the package's source)."""
    if not isinstance(trouble, TwilioException):
        if isinstance(trouble, RequestException) and trouble.response is None and not isinstance(trouble, ValueError):
            return Word(status=0, code="", detail=f"no answer from the carrier ({type(trouble).__name__})")
        return Word(status=0, code="", detail="an answer that is not the carrier's, such as a network's log-in page")
    status = getattr(trouble, "status", 0)
    code = getattr(trouble, "code", None)
    said = getattr(trouble, "msg", None) or getattr(trouble, "title", None) or "no reason given"
    if not status:  # a list that failed: the answer itself is all there is (measured)
        status, code, said = _first_page(trouble)
    if code is None or code == status:  # the client puts the status where the carrier gave no code (measured)
        return Word(status=status, code="", detail=f"HTTP {status} without a word of the carrier's own")
    said = _NUMBER.sub(lambda number: masked(number.group()), str(said))
    return Word(status=status, code=str(code), detail=f"error {code}: {said}")


def _first_page(trouble: Exception) -> tuple[int, object, str]:
    response = trouble.args[1] if len(trouble.args) > 1 else None
    status = getattr(response, "status_code", 0)
    try:
        said = json.loads(getattr(response, "text", ""))
        return status, said.get("code"), str(said.get("message", "no reason given"))
    except (ValueError, TypeError, AttributeError):
        return status, None, ""


def result_of(word: Word, retry_after: Ms | None) -> SendResult:
    """A failed send by its status: too many, refused, or of unknown outcome."""
    if word.status == 429:
        return Refused(code=word.code or TOO_MANY_STATUS, detail=word.detail, again_after=retry_after)
    if 400 <= word.status < 500 and word.code:
        return Refused(code=word.code, detail=word.detail)
    return NoAnswer(detail=word.detail)
