"""Calls of the pretend carrier: it rings a phone, and the phone is taken, busy, off, or answered by a voicemail.

Form, states and fields are those of the carrier's OpenAPI description of API version 2010-04-01; the markup is read as
XML. Plain data without a lock, as with texts. A call asks nothing of anybody: the words are kept as they were spoken.
"""

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.etree import ElementTree

from gateway.demo.carrier_form import (
    PARAMETER_WRONG,
    Complaint,
    Field,
    Form,
    about_fields,
    number,
    pattern,
    text,
    url,
    whole,
    words,
)
from gateway.demo.carrier_texts import API_VERSION, rfc2822
from gateway.vocabulary.moments import Ms

LONGEST_MARKUP = 4_000  # characters (OpenAPI description)
LONGEST_RING = 600  # seconds (OpenAPI description)
WORDS = ("completed", "busy", "no-answer", "failed", "canceled")

FIELDS: Mapping[str, Field] = {
    "To": Field(number, 21211),
    "From": Field(number, 21212),
    "Twiml": Field(text(LONGEST_MARKUP), 32018),
    "Timeout": Field(whole(1, LONGEST_RING)),
    "TimeLimit": Field(whole(1, 14_400)),
    "StatusCallback": Field(url, 21609),  # code from memory
    "StatusCallbackEvent": Field(words("initiated", "ringing", "answered", "completed"), several=True),
}
"""Of the description's fields those that the gateway uses; any other is complained of, so that a slip shows."""

FILTERS: Mapping[str, Field] = {
    "To": Field(number),
    "PageSize": Field(whole(1, 1000)),
    "Page": Field(whole(0, 1_000_000)),
    "PageToken": Field(pattern(".{0,100}", "a token")),
}


@dataclass(slots=True, kw_only=True)
class RungCall:
    """One call as the carrier keeps it. words: what each Say of it spoke. at: ms UTC. ends: what its status becomes."""

    id: str
    to: str
    words: tuple[str, ...]
    at: Ms
    ends: str
    status: str = "queued"


@dataclass(slots=True)
class CarrierCalls:
    """The calls of one account. next_ends: the last word on each of the next calls; "completed" where none is given,
    which a voicemail gives as well. phones_off: these are not answered."""

    account: str
    own_number: str
    phones_off: set[str]
    kept: list[RungCall] = field(default_factory=list)
    next_ends: deque[str] = field(default_factory=deque)

    def create(self, form: Form, now: Ms) -> RungCall | Complaint:
        """Ring, or say why not."""
        if complaint := about_fields(form, FIELDS):
            return complaint
        missing = [name for name in ("To", "From", "Twiml") if name not in form]
        if missing:
            return Complaint(code=21201, message=f"{missing[0]} is required")  # code from memory
        if form["From"][0] != self.own_number:
            return Complaint(code=21210, message="the sender is no number of this account")  # code from memory
        try:
            said = tuple(
                each.text or "" for each in ElementTree.fromstring(form["Twiml"][0]).iter("Say")
            )  # our own, on loopback
        except ElementTree.ParseError:
            return Complaint(code=PARAMETER_WRONG, message="Twiml is no XML")
        to = form["To"][0]
        usual = "no-answer" if to in self.phones_off else "completed"
        ends = self.next_ends.popleft() if self.next_ends else usual
        call = RungCall(id=f"CA{len(self.kept) + 1:032x}", to=to, words=said, at=now, ends=ends)
        self.kept.append(call)
        return call

    def fetch(self, id: str) -> RungCall | Complaint:
        """One call, which by then has come to its end."""
        call = next((call for call in self.kept if call.id == id), None)
        if call is None:
            return Complaint(code=20404, message=f"There is no call {id}", status=404)
        call.status = call.ends
        return call

    def page(self, filters: Form) -> list[RungCall] | Complaint:
        """Calls, newest first; all of them on one page."""
        if complaint := about_fields(filters, FILTERS):
            return complaint
        to = filters.get("To", [""])[0]
        return [call for call in reversed(self.kept) if to in ("", call.to)]

    def as_json(self, call: RungCall) -> Mapping[str, object]:
        """The call as the carrier writes it."""
        uri = f"/{API_VERSION}/Accounts/{self.account}/Calls/{call.id}.json"
        return {
            "account_sid": self.account,
            "answered_by": None,
            "date_created": rfc2822(call.at),
            "date_updated": rfc2822(call.at),
            "direction": "outbound-api",
            "from": self.own_number,
            "sid": call.id,
            "status": call.status,
            "to": call.to,
            "uri": uri,
        }
