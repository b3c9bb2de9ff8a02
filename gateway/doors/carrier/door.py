"""The text carrier, through its own Python client `twilio`: send, look up, poll, ask for the present word.

What is not obvious here was measured against a misbehaving server (twilio 9.13.0): the client waits for ever unless a
time limit is given; a create is never repeated by the synchronous client, and has no key that would let the carrier
find a repeat; a log-in page answered with 200 raises a plain ValueError. So an answer counts as the carrier's own only
when it is JSON with a code of the carrier, and everything else is of unknown outcome.
"""

import inspect
import logging
import re
from collections.abc import Callable
from datetime import datetime
from itertools import islice, takewhile
from typing import Any

from gateway.doors.carrier.failures import CODE_REMEDY, LINE_REMEDY, NOT_AN_ANSWER, REMEDIES, result_of, word_of
from gateway.doors.carrier.line import Line, check_settings
from gateway.doors.carrier.listed import LOOK_PAGE, MARGIN, inbound, is_it, not_older, oldest_first, reports_of, twice
from gateway.doors.faces import (
    Accepted,
    CarrierAway,
    CarrierSettings,
    Funds,
    NoAnswer,
    Polled,
    Refused,
    SendResult,
)
from gateway.telling.outcomes import HELD, code_of_call
from gateway.vocabulary.moments import HOUR, SECOND, Ms, as_utc
from gateway.vocabulary.orders import SendText

TIMEOUT = 10.0  # seconds for connecting and for each wait for data; the client itself has no limit (measured)
LOOK_BACK: Ms = 26 * HOUR  # the carrier's date filter counts whole days in GMT: a day, and two hours to spare
MOST_TEXTS = 200  # a poll; without a limit the client follows pages to the end (measured)
MOST_LOOKED_AT = 1_000  # of them in all, while there are newer ones than the lost one: our choice
MOST_FLOODED = 20_000  # texts to us in one poll, while none was there at the one before: our choice
LONGEST_VALIDITY = 36_000  # seconds (carrier's OpenAPI description: 1 to 36,000)
NO_SUCH_CALLBACK = "21609"  # the carrier's code for an address for reports that it will not call; from memory
RINGS_FOR = 25  # seconds of ringing: shorter than most voicemails wait (common practice)
LONGEST_CALL = 90  # seconds: our words twice take about 40
CALL_EVENTS = ["ringing", "answered", "completed"]  # reported of a call; the last one whatever its end (from memory)
CALL_IDS = "CA"  # how the carrier's ids of calls begin (its OpenAPI description)
INTENT = "notifications"  # keeps an alarm out of the carrier's quiet hours (its messaging guidance)

_AMOUNT = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,12})?")
"""An amount as the carrier writes it."""

for _name in ("twilio.http_client", "urllib3"):
    logging.getLogger(_name).setLevel(logging.WARNING)  # below that they write numbers into the log (measured)


class TwilioCarrier:
    """One account with the carrier. Safe to use from several threads; every method blocks for at most about 10 s a
    call (look_up: two calls). Raises DoorTrouble when the settings cannot work, because the client would go on and
    call without credentials (measured)."""

    def __init__(self, settings: CarrierSettings, *, timeout: float = TIMEOUT) -> None:
        check_settings(settings)
        self._where = f"carrier {settings.name}"
        self._sender, self._reports_to = settings.sender, settings.reports_to
        self._sends = Line(settings, timeout=timeout, keep=False)
        self._looks = Line(settings, timeout=timeout, keep=True)
        self._polled: frozenset[str] = frozenset()  # the newest texts of the last poll, by id
        known = inspect.signature(self._sends.messages.create).parameters
        self._intent = {"message_intent": INTENT} if "message_intent" in known else {}  # from package 9.13.0 on

    def send(self, order: SendText) -> SendResult:
        """Hand one text over, in one request that is never repeated here. Never raises.

        A text that the carrier puts off until morning is withdrawn and counts as refused with code ``held``. One that
        it refuses because of the address for reports goes again without that: an alarm matters more.
        """
        if order.spoken:
            return self._without_reports_if_need_be(order, self._rung)
        return self._without_reports_if_need_be(order, self._created)

    def _without_reports_if_need_be(
        self, order: SendText, create: Callable[[SendText, str | None], SendResult]
    ) -> SendResult:
        result = create(order, self._reports_to)
        if self._reports_to is not None and isinstance(result, Refused) and result.code == NO_SUCH_CALLBACK:
            result = create(order, None)
        return result

    def _created(self, order: SendText, reports_to: str | None) -> SendResult:
        valid = min(max(order.valid_for // SECOND, 1), LONGEST_VALIDITY)
        more = dict(self._intent)
        if reports_to is not None:
            more["status_callback"] = reports_of(order, reports_to)
        try:
            text = self._sends.messages.create(
                to=order.number, from_=self._sender, body=order.body, validity_period=valid, **more
            )
            return self._outcome(text)
        except NOT_AN_ANSWER as trouble:
            return result_of(word_of(trouble), self._sends.retry_after)

    def _rung(self, order: SendText, reports_to: str | None) -> SendResult:
        """Have the carrier ring and speak, in one request that is never repeated here."""
        more: dict[str, Any] = {}
        if reports_to is not None:
            more = {"status_callback": reports_of(order, reports_to), "status_callback_event": CALL_EVENTS}
        try:
            call = self._sends.calls.create(
                to=order.number,
                from_=self._sender,
                twiml=twice(order.body),
                timeout=RINGS_FOR,
                time_limit=LONGEST_CALL,
                **more,
            )
            message, status = call.sid, call.status
        except NOT_AN_ANSWER as trouble:
            return result_of(word_of(trouble), self._sends.retry_after)
        if not (isinstance(message, str) and message and isinstance(status, str)):
            return NoAnswer(detail="an answer without the call's id")
        if status in {"failed", "canceled", "busy", "no-answer"}:
            return Refused(code=status, detail=f"{status} at once")
        return Accepted(message=message, status=status)

    def _outcome(self, text: Any) -> SendResult:
        message, status = text.sid, text.status
        if not (isinstance(message, str) and message and isinstance(status, str)):
            return NoAnswer(detail="an answer without the text's id")
        if status == "scheduled":
            return Refused(code=HELD, detail=self._withdraw(message))
        if status in {"failed", "undelivered", "canceled"}:
            return Refused(code=str(text.error_code or status), detail=text.error_message or f"{status} at once")
        return Accepted(message=message, status=status)

    def _withdraw(self, message: str) -> str:
        """Cancel a text that was put off; what became of that, for people."""
        try:
            self._looks.messages(message).update(status="canceled")
        except NOT_AN_ANSWER as trouble:
            return f"put off until morning and not withdrawn ({word_of(trouble).detail}); it may still arrive then"
        return "put off until morning, and withdrawn"

    def look_up(self, order: SendText, since: Ms, known: frozenset[str]) -> str | None:
        """The id of a text of ours with this addressee and body, made since then (less a minute) and not in `known`.

        Asked first with the date filter and then without it: whether a text that has not left yet passes the filter is
        documented nowhere, and a second alarm text is cheaper to avoid than to explain. Of several the oldest. A text
        found put off is withdrawn and not given back. Raises CarrierAway.
        """
        after = as_utc(since - MARGIN)
        if order.spoken:
            return self._call_looked_up(order, after, known)
        for narrowed in ({"date_sent_after": after}, {}):
            try:
                found = self._looks.messages.stream(
                    to=order.number, limit=MOST_LOOKED_AT, page_size=LOOK_PAGE, **narrowed
                )
                ours = [text for text in not_older(found, after) if is_it(text, order, after, known)]
                for text in ours:
                    if text.status == "scheduled":
                        self._looks.messages(text.sid).update(status="canceled")
            except NOT_AN_ANSWER as trouble:
                raise self._away(trouble) from None
            going = [text for text in ours if text.status not in {"scheduled", "canceled"}]
            if going:
                return str(min(going, key=lambda text: (text.date_created, text.sid)).sid)
        return None

    def _call_looked_up(self, order: SendText, after: datetime, known: frozenset[str]) -> str | None:
        """The oldest call of ours to this number made since then and not known. A call has no words to tell it by: of
        two that were lost at once each finds one, which is all that matters."""
        try:
            found = self._looks.calls.stream(to=order.number, limit=MOST_LOOKED_AT, page_size=LOOK_PAGE)
            ours = [
                call
                for call in not_older(found, after)
                if call.sid not in known
                and str(call.direction).startswith("outbound")
                and call.date_created is not None
                and call.date_created >= after
            ]
        except NOT_AN_ANSWER as trouble:
            raise self._away(trouble) from None
        return str(min(ours, key=lambda call: (call.date_created, call.sid)).sid) if ours else None

    def poll(self, now: Ms) -> Polled:
        """Texts to us of the last 26 h and the rest of that day in GMT, oldest first. Raises CarrierAway.

        The newest 200; and, when somebody floods us, as many more as there are before one that was there at the poll
        before: a caretaker's answer must not drown among ten thousand texts of a stranger.

        Age is by the carrier's own clock: the Date header of this answer less the text's own time, which is the earlier
        of its two dates, for a text must not look younger than it is. A time more than a minute ahead gives no age.
        """
        try:
            coming = self._looks.messages.stream(
                to=self._sender, date_sent_after=as_utc(now - LOOK_BACK), limit=MOST_FLOODED, page_size=MOST_TEXTS
            )
            found = list(islice(coming, MOST_TEXTS))
            carrier_now = self._looks.date
            if len(found) == MOST_TEXTS and self._polled.isdisjoint(text.sid for text in found):
                found += takewhile(lambda text: text.sid not in self._polled, coming)
            texts = [inbound(text, carrier_now) for text in found if text.direction == "inbound"]
        except NOT_AN_ANSWER as trouble:
            raise self._away(trouble) from None
        self._polled = frozenset(text.sid for text in found[:MOST_TEXTS])
        return Polled(texts=tuple(sorted(texts, key=oldest_first)), carrier_now=carrier_now)

    def status(self, message: str) -> tuple[str, str]:
        """The carrier's present word on a text of ours, and its error code or "". Raises CarrierAway.

        A text found put off until morning is withdrawn and given as ``("canceled", "held")``.
        """
        try:
            if message.startswith(CALL_IDS):
                status = self._looks.calls(message).fetch().status
                if not isinstance(status, str):
                    raise ValueError("an answer without the call's status")
                return status, code_of_call(status)
            text = self._looks.messages(message).fetch()
            if text.status == "scheduled":
                self._looks.messages(message).update(status="canceled")
                return "canceled", HELD
            if not isinstance(text.status, str):
                raise ValueError("an answer without the text's status")
        except NOT_AN_ANSWER as trouble:
            raise self._away(trouble) from None
        return text.status, "" if text.error_code is None else str(text.error_code)

    def balance(self) -> Funds:
        """What is left on the account (the carrier's Balance resource). An account below another one is told nothing of
        (its OpenAPI description), and counts as not answered. Raises CarrierAway."""
        try:
            found = self._looks.account_balance.fetch()
            amount, currency = found.balance, found.currency
            if not (isinstance(amount, str) and _AMOUNT.fullmatch(amount) and isinstance(currency, str)):
                raise ValueError("an answer without the account's balance")
        except NOT_AN_ANSWER as trouble:
            raise self._away(trouble) from None
        return Funds(amount=amount, currency=currency)

    def _away(self, trouble: Exception) -> CarrierAway:
        word = word_of(trouble)
        usual = CODE_REMEDY if word.code and word.status < 500 else LINE_REMEDY
        return CarrierAway(where=self._where, problem=word.detail, remedy=REMEDIES.get(word.status, usual))
