"""The form that the carrier takes a text by: which fields there are and what each may hold.

Sources: the carrier's OpenAPI description of "create a message" of API version 2010-04-01 (25 fields), and the newer
MessageIntent as its Python package 9.13.0 sends it. The carrier itself is lenient in places; the stand-in refuses
whatever the description does not allow, so that a slip shows at home. Error codes are the carrier's, from its error
pages; those marked * are from memory.
"""

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TypeAlias
from urllib.parse import urlsplit

from gateway.people.numbers import E164_DIGITS

Form: TypeAlias = Mapping[str, Sequence[str]]
"""A form as it was sent: each field's values in order."""

LONGEST_BODY = 1600  # characters
LONGEST_VALIDITY = 36_000  # seconds
PARAMETER_WRONG = 20001  # *


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """Why the carrier does not take a form. code: its error code. status: HTTP status. message: for a person."""

    code: int
    message: str
    status: int = 400


Check: TypeAlias = Callable[[str], str | None]
"""What is wrong with a value, as the end of a sentence ("must be ..."); None when nothing is."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form. code: what the carrier answers to a wrong value. several: may be repeated."""

    check: Check
    code: int = PARAMETER_WRONG
    several: bool = False


def text(longest: int) -> Check:
    return lambda value: None if len(value) <= longest else f"must be at most {longest} characters"


def whole(low: int, high: int) -> Check:
    def check(value: str) -> str | None:
        fits = re.fullmatch(r"-?[0-9]{1,9}", value) and low <= int(value) <= high
        return None if fits else f"must be a whole number from {low} to {high}"

    return check


def pattern(pattern: str, must: str) -> Check:
    return lambda value: None if re.fullmatch(pattern, value) else f"must be {must}"


def words(*known: str) -> Check:
    return lambda value: None if value in known else f"must be one of {', '.join(known)}"


def _resource(letters: str) -> Check:
    return pattern(f"{letters}[0-9a-fA-F]{{32}}", f"{letters} and 32 hex digits")


def url(value: str) -> str | None:
    try:
        read = urlsplit(value)
        host = read.hostname or ""
    except ValueError:
        return "must be an absolute URL"
    if read.scheme not in {"http", "https"} or not host:
        return "must be an absolute URL"
    return "must have no underscore in its host" if "_" in host else None


def _moment(value: str) -> str | None:
    try:
        zone = datetime.fromisoformat(value).tzinfo
    except ValueError:
        zone = None
    return None if zone is not None else "must be an ISO 8601 time with its zone"


def _json_object(value: str) -> str | None:
    try:
        read = json.loads(value)
    except ValueError:
        read = None
    return None if isinstance(read, dict) else "must be a JSON object"


_flag = words("true", "false")
number = pattern(rf"\+[1-9][0-9]{{6,{E164_DIGITS - 1}}}", "a number in E.164 form")

FIELDS: Mapping[str, Field] = {
    "To": Field(number, 21211),
    "From": Field(number, 21212),  # *
    "MessagingServiceSid": Field(_resource("MG")),
    "Body": Field(text(LONGEST_BODY), 21617),  # *
    "MediaUrl": Field(url, several=True),
    "ContentSid": Field(_resource("HX")),
    "ContentVariables": Field(_json_object),
    "StatusCallback": Field(url, 21609),  # *
    "ApplicationSid": Field(_resource("AP")),
    "MaxPrice": Field(pattern(r"[0-9]{1,6}(\.[0-9]{1,6})?", "a decimal number")),
    "ProvideFeedback": Field(_flag),
    "Attempt": Field(whole(1, 1_000_000)),
    "ValidityPeriod": Field(whole(1, LONGEST_VALIDITY), 90007),
    "ForceDelivery": Field(_flag),
    "ContentRetention": Field(words("retain", "discard")),
    "AddressRetention": Field(words("retain", "obfuscate")),
    "SmartEncoded": Field(_flag),
    "PersistentAction": Field(text(LONGEST_BODY), several=True),
    "TrafficType": Field(words("free")),
    "ShortenUrls": Field(_flag),
    "ScheduleType": Field(words("fixed")),
    "SendAt": Field(_moment),
    "SendAsMms": Field(_flag),
    "RiskCheck": Field(words("enable", "disable")),
    "FallbackFrom": Field(number),
    "MessageIntent": Field(
        words(
            "otp",
            "notifications",
            "marketing",
            "fraud",
            "security",
            "customercare",
            "delivery",
            "education",
            "polling",
            "announcements",
            "events",
        )
    ),
}
"""The 25 fields of the description, and MessageIntent."""

NEEDS_A_SERVICE = ("ShortenUrls", "SendAt", "ScheduleType", "FallbackFrom")
"""Fields that mean something only together with MessagingServiceSid (OpenAPI description)."""


def complaint_about(form: Form, fields: Mapping[str, Field] = FIELDS) -> Complaint | None:
    """The first thing wrong with a form to create a text, in the carrier's way; None when it is in order."""
    return about_fields(form, fields) or _about_thewhole(form)


def about_fields(form: Form, fields: Mapping[str, Field]) -> Complaint | None:
    for name, values in form.items():
        field = fields.get(name)
        if field is None:
            return Complaint(code=PARAMETER_WRONG, message=f"There is no parameter {name}")
        if len(values) > 1 and not field.several:
            return Complaint(code=PARAMETER_WRONG, message=f"Parameter {name} was given {len(values)} times")
        for value in values:
            if wrong := field.check(value):
                return Complaint(code=field.code, message=f"Parameter {name} {wrong}")
    return None


def _about_thewhole(form: Form) -> Complaint | None:
    if "To" not in form:
        return Complaint(code=21604, message="Parameter To is required")  # *
    if "From" not in form and "MessagingServiceSid" not in form:
        return Complaint(code=21603, message="One of From and MessagingServiceSid is required")  # *
    if not any(form.get("Body", ())) and not form.get("MediaUrl") and not form.get("ContentSid"):
        return Complaint(code=21602, message="One of Body, MediaUrl and ContentSid is required")  # *
    if "MessagingServiceSid" not in form:
        for name in NEEDS_A_SERVICE:
            if name in form:
                return Complaint(code=PARAMETER_WRONG, message=f"Parameter {name} needs MessagingServiceSid")
    return None


def _day_or_time(value: str) -> str | None:
    try:
        fits = re.fullmatch(r"[0-9-]{10}(T[0-9:]{8}Z)?", value) and datetime.fromisoformat(value)
    except ValueError:
        fits = None
    return None if fits else "must be YYYY-MM-DD, or a time in UTC ending in Z"


FILTERS: Mapping[str, Field] = {
    "To": Field(number),
    "From": Field(number),
    "DateSent": Field(_day_or_time),
    "DateSent<": Field(_day_or_time),
    "DateSent>": Field(_day_or_time),
    "PageSize": Field(whole(1, 1000)),
    "Page": Field(whole(0, 1_000_000)),
    "PageToken": Field(text(100)),
}
"""What a list of texts may be narrowed by (OpenAPI description)."""

UPDATES: Mapping[str, Field] = {"Status": Field(words("canceled"))}
"""What may be changed afterwards: of the description's two fields the stand-in speaks the one that withdraws a text."""


def complaint_about_filters(form: Form) -> Complaint | None:
    """The first thing wrong with the filters of a list; None when they are in order."""
    return about_fields(form, FILTERS)


def complaint_about_update(form: Form) -> Complaint | None:
    """The first thing wrong with a change to a text; None when it is in order."""
    if "Status" not in form:
        return Complaint(code=PARAMETER_WRONG, message="Parameter Status is required")
    return about_fields(form, UPDATES)
