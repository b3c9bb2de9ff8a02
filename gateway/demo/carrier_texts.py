"""What the pretend carrier remembers: texts in and out, who has opted out, whose phone is off.

Plain data without a lock; the server in front of it takes care that one call at a time gets here. Field names, states
and filters are those of the carrier's OpenAPI description of API version 2010-04-01.
"""

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from email.utils import formatdate

from gateway.demo.carrier_form import Complaint, Form
from gateway.vocabulary.moments import SECOND, Ms, as_utc
from gateway.wording.alphabet import parts

API_VERSION = "2010-04-01"
PAGE = 50  # texts a page unless asked otherwise (OpenAPI description)

OPT_OUT = frozenset({"stop", "stopall", "unsubscribe", "cancel", "end", "quit", "revoke", "optout"})
OPT_IN = frozenset({"start", "yes", "unstop"})
"""Whole-message words by which a phone blocks and unblocks a sender (the carrier's pages on opt-out)."""

OPTED_OUT, NO_SUCH_TEXT, NOT_OURS, TOO_LATE_TO_CANCEL, QUEUE_FULL, PHONE_OFF = 21610, 20404, 21606, 30409, 30001, 30003
"""The carrier's error codes; 30409 from memory."""


@dataclass(slots=True, kw_only=True)
class CarrierText:
    """One text as the carrier keeps it. Instants in ms UTC. sent: None while it has not left."""

    message: str
    inbound: bool
    sender: str
    to: str
    body: str
    status: str
    created: Ms
    updated: Ms
    sent: Ms | None
    error_code: int | None = None


@dataclass(slots=True)
class CarrierTexts:
    """The memory of one account with one number of its own."""

    account: str
    own_number: str
    kept: list[CarrierText] = field(default_factory=list)
    opted_out: set[str] = field(default_factory=set)
    phones_off: set[str] = field(default_factory=set)
    next_ends: deque[tuple[str, int]] = field(default_factory=deque)
    ends: dict[str, tuple[str, int]] = field(default_factory=dict)

    def create(self, form: Form, now: Ms, *, status: str) -> CarrierText | Complaint:
        """Take a text out, or say why not. status: queued, scheduled (put off until morning), failed (queue full)."""
        to, body = form["To"][0], form.get("Body", [""])[0]
        sender = form.get("From", [self.own_number])[0]
        if sender != self.own_number:
            return Complaint(code=NOT_OURS, message=f"{sender} is not a number of this account")
        if to in self.opted_out:
            return Complaint(code=OPTED_OUT, message=f"{to} has opted out of texts from {self.own_number}")
        text = self._keep(
            inbound=False, sender=self.own_number, to=to, body=body, status=status, created=now, sent=None
        )
        text.error_code = QUEUE_FULL if status == "failed" else None
        if self.next_ends and status == "queued":
            self.ends[text.message] = self.next_ends.popleft()
        return text

    def receive(self, number: str, body: str, at: Ms, *, hook_after: Ms | None) -> CarrierText:
        """Take a text in, and heed it when the whole of it is an opt-out or opt-in word."""
        word = body.strip().casefold()
        if word in OPT_OUT:
            self.opted_out.add(number)
        elif word in OPT_IN:
            self.opted_out.discard(number)
        sent = None if hook_after is None else at + hook_after
        return self._keep(
            inbound=True, sender=number, to=self.own_number, body=body, status="received", created=at, sent=sent
        )

    def _keep(
        self, *, inbound: bool, sender: str, to: str, body: str, status: str, created: Ms, sent: Ms | None
    ) -> CarrierText:
        text = CarrierText(
            message=f"SM{len(self.kept) + 1:032x}",
            inbound=inbound,
            sender=sender,
            to=to,
            body=body,
            status=status,
            created=created,
            updated=created,
            sent=sent,
        )
        self.kept.append(text)
        return text

    def fetch(self, message: str, now: Ms) -> CarrierText | Complaint:
        """One text; one of ours that waited has by then reached its phone, or found it off."""
        text = next((text for text in self.kept if text.message == message), None)
        if text is None:
            return Complaint(code=NO_SUCH_TEXT, message=f"There is no message {message}", status=404)
        if text.status == "queued":
            text.sent = text.updated = now
            text.status = "undelivered" if text.to in self.phones_off else "delivered"
            text.error_code = PHONE_OFF if text.to in self.phones_off else None
            if text.message in self.ends:
                text.status, text.error_code = self.ends[text.message]
        return text

    def cancel(self, message: str, now: Ms) -> CarrierText | Complaint:
        """Withdraw a text that is put off."""
        text = next((text for text in self.kept if text.message == message), None)
        if text is None:
            return Complaint(code=NO_SUCH_TEXT, message=f"There is no message {message}", status=404)
        if text.status != "scheduled":
            return Complaint(code=TOO_LATE_TO_CANCEL, message=f"{message} is {text.status} and cannot be canceled")
        text.status, text.updated = "canceled", now
        return text

    def page(self, filters: Form) -> tuple[list[CarrierText], int, int, bool]:
        """One page of a list, newest first: the texts, page number, page size, whether more follow."""
        chosen = [text for text in reversed(self.kept) if _fits(text, filters)]
        size = int(filters.get("PageSize", [str(PAGE)])[0])
        number = int(filters.get("Page", ["0"])[0])
        start = number * size
        return chosen[start : start + size], number, size, len(chosen) > start + size

    def as_json(self, text: CarrierText) -> Mapping[str, object]:
        """The text as the carrier writes it: dates by RFC 2822 in GMT, counts as text, error_code as a number."""
        uri = f"/{API_VERSION}/Accounts/{self.account}/Messages/{text.message}"
        return {
            "account_sid": self.account,
            "api_version": API_VERSION,
            "body": text.body,
            "date_created": rfc2822(text.created),
            "date_sent": None if text.sent is None else rfc2822(text.sent),
            "date_updated": rfc2822(text.updated),
            "direction": "inbound" if text.inbound else "outbound-api",
            "error_code": text.error_code,
            "error_message": None if text.error_code is None else "The text did not arrive",
            "from": text.sender,
            "messaging_service_sid": None,
            "num_media": "0",
            "num_segments": str(parts(text.body)),
            "price": None,
            "price_unit": "USD",
            "sid": text.message,
            "status": text.status,
            "subresource_uris": {"media": f"{uri}/Media.json"},
            "to": text.to,
            "uri": f"{uri}.json",
        }


def _fits(text: CarrierText, filters: Form) -> bool:
    """Whether a text passes the filters. Dates count by the day in GMT, both ends included, as documented; a text of
    ours that has not left has no day and passes no date filter (the unkind reading, because nothing is documented)."""
    day = None
    if text.sent is not None or text.inbound:
        day = as_utc(text.created if text.sent is None else text.sent).date().isoformat()
    for name, (value,) in filters.items():
        wanted = value[:10]
        if (
            (name == "To" and text.to != value)
            or (name == "From" and text.sender != value)
            or (name == "DateSent" and day != wanted)
            or (name == "DateSent<" and (day is None or day > wanted))
            or (name == "DateSent>" and (day is None or day < wanted))
        ):
            return False
    return True


def rfc2822(moment: Ms) -> str:
    """An instant as RFC 2822 text in GMT, whole seconds: ``Sun, 01 Mar 2026 06:00:00 +0000``."""
    return formatdate(moment // SECOND)[:-5] + "+0000"
