"""The kinds of value that occur in several files."""

import re
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from pydantic import AfterValidator, BeforeValidator, Field

from gateway.installation.lengths import clock_of, length_of, spelt
from gateway.installation.slips import Slip
from gateway.vocabulary.moments import Ms


def between(low: Ms, high: Ms, why: str) -> AfterValidator:
    """A length of time from low to high, both allowed. why: said in the remedy."""

    def held(length: Ms) -> Ms:
        if not low <= length <= high:
            raise Slip(f"is {spelt(length)}, which is out of range", f"write {spelt(low)} to {spelt(high)} ({why})")
        return length

    return AfterValidator(held)


def whole_between(low: int, high: int) -> AfterValidator:
    """A whole number from low to high, both allowed."""

    def held(number: int) -> int:
        if not low <= number <= high:
            raise Slip(f"is {number}, which is out of range", f"write a whole number from {low} to {high}")
        return number

    return AfterValidator(held)


def _number(written: object) -> Decimal:
    if isinstance(written, bool) or not isinstance(written, int | Decimal) or not Decimal(written).is_finite():
        raise Slip("is no number", "write a plain number without quotation marks, such as 0.1")
    return Decimal(written)


def _as_sent(written: object) -> str:
    """What a node sends, number or text, as it stands in a payload."""
    if isinstance(written, bool) or not isinstance(written, int | Decimal | str) or written == "":
        raise Slip("is nothing that a node sends", 'write a number or a text, such as [-127, "---"]')
    return str(written)


def _zone(written: object) -> ZoneInfo:
    try:
        return ZoneInfo(written) if isinstance(written, str) else _no_zone(written)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return _no_zone(written)


def _no_zone(written: object) -> ZoneInfo:
    raise Slip(f'is "{written}", which is no time zone', 'write its name, such as "Europe/London"')


def _named_reason(written: str) -> str:
    """``name: reason``: an exception must have somebody who answers for it (handbook 5.1, G0)."""
    name, colon, reason = written.partition(":")
    if written and not (colon and name.strip() and reason.strip()):
        raise Slip("names nobody or gives no reason", 'write who answers for it and why: "Ruth Okell: the reason"')
    return written


def _pointer(written: str) -> str:
    """RFC 6901: empty, or parts that each begin with a slash; ~ only as ~0 and ~1."""
    lone = written.replace("~0", "").replace("~1", "")
    if (written and not written.startswith("/")) or "~" in lone:
        raise Slip("is no JSON pointer (RFC 6901)", 'write "/" and the name in the payload, such as "/voltage"')
    return written


def _topic(written: str) -> str:
    """One plain MQTT topic (MQTT 5, 4.7): no wildcard, not the broker's own, no NUL."""
    if re.search(r"(^|/)\+[a-z0-9-]+(/|$)", written):
        raise Slip(
            f'"{written}" has a named level, and nothing says what may stand there',
            'in signals.toml write for_each = { NAME = ["port", "starboard"] } with it; elsewhere name the topic whole',
        )
    if "+" in written or "#" in written:
        raise Slip(
            "holds a wildcard",
            "name each topic whole; a signal that stands for many has named levels (+tank) and says them in for_each",
        )
    unfilled = re.search(r"\{[^{}]*\}", written)
    if unfilled:
        raise Slip(
            f'holds "{unfilled.group()}", which nothing fills',
            "write {boat}, or a signal's own level and for_each with it",
        )
    if written.startswith("$") or "\x00" in written:
        raise Slip("is a topic of the broker's own", "write a topic that the boat publishes, such as boat/bilge/high")
    return written


def _emergency_number(written: str) -> str:
    """As it is dialled aboard: 112, 999, or a coastguard's own number."""
    if not re.fullmatch(r"\+?[0-9 ]{2,16}", written):
        raise Slip("is no number to dial", 'write digits, such as "112"')
    return written


def day_of(written: object) -> date:
    """A day, ``2026-12-05`` (RFC 3339 full-date), in quotation marks or without."""
    if isinstance(written, date) and not isinstance(written, datetime):
        return written
    try:
        return date.fromisoformat(written) if isinstance(written, str) else _no_day()
    except ValueError:
        return _no_day()


def _no_day() -> date:
    raise Slip("is no day", "write year, month and day, such as 2026-12-05")


Text = Annotated[str, Field(min_length=1)]
Length = Annotated[int, BeforeValidator(length_of)]
Clock = Annotated[int, BeforeValidator(clock_of)]
Number = Annotated[Decimal, BeforeValidator(_number)]
AsSent = Annotated[str, BeforeValidator(_as_sent)]
EmergencyNumber = Annotated[str, AfterValidator(_emergency_number)]
Zone = Annotated[Any, BeforeValidator(_zone)]
NamedReason = Annotated[str, AfterValidator(_named_reason)]
Pointer = Annotated[str, AfterValidator(_pointer)]
Topic = Annotated[str, Field(min_length=1), AfterValidator(_topic)]
