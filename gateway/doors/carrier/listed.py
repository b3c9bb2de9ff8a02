"""What the carrier's lists hold, and what we ask it to say: its values and ours, without a call."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Any
from urllib.parse import quote

from twilio.twiml.voice_response import VoiceResponse  # type: ignore[import-untyped]

from gateway.doors.faces import Inbound
from gateway.vocabulary.moments import MINUTE, Ms, from_datetime
from gateway.vocabulary.orders import SendText

LOOK_PAGE = 50  # texts to one number that are looked at together; the carrier's own page
MARGIN: Ms = MINUTE  # between our clock and the carrier's, whose dates are whole seconds; our choice
SPOKEN_IN = "en-GB"


def reports_of(order: SendText, reports_to: str) -> str:
    """Where the carrier shall report what becomes of it: the order goes along, for the address is signed as a whole."""
    return f"{reports_to}?order={quote(order.id, safe='')}"


def twice(words: str) -> str:
    """What a call says, in the carrier's open markup: the same words twice, because the first ones are often lost, and
    no key to press."""
    answer = VoiceResponse()
    answer.say(words, language=SPOKEN_IN)
    answer.pause(length=1)
    answer.say(f"I say it again. {words}", language=SPOKEN_IN)
    return str(answer)


def is_it(text: Any, order: SendText, after: datetime, known: frozenset[str]) -> bool:
    """Whether a listed text may be the one that this order lost. Blanks at the ends do not count, for a carrier may
    drop them."""
    return (
        text.sid not in known
        and str(text.direction).startswith("outbound")
        and str(text.body).strip() == order.body.strip()
        and text.date_created is not None
        and text.date_created >= after
    )


def inbound(text: Any, carrier_now: Ms | None) -> Inbound:
    dates = [from_datetime(date) for date in (text.date_sent, text.date_created) if date is not None]
    sent_at = min(dates, default=None)
    age = None
    if sent_at is not None and carrier_now is not None and sent_at <= carrier_now + MARGIN:
        age = max(carrier_now - sent_at, 0)
    return Inbound(message=text.sid, number=text.from_ or "", body=text.body or "", age=age, sent_at=sent_at)


def not_older(texts: Iterable[Any], after: datetime) -> Iterator[Any]:
    """Of a list in the carrier's order (newest first, from memory) all up to a whole page of older ones."""
    older = 0
    for text in texts:
        older = older + 1 if text.date_created is not None and text.date_created < after else 0
        yield text
        if older >= LOOK_PAGE:
            return


def oldest_first(text: Inbound) -> tuple[Ms, str]:
    return text.sent_at or 0, text.message
