"""Instants and lengths of time as whole milliseconds.

An instant is the number of milliseconds since 1970-01-01T00:00:00Z (UTC); a length is a plain number of
milliseconds. Whole numbers, because what is hashed into the logbook must not hold a float (RFC 8785 in the narrow
form of the logbook). Local time exists only in people's hours and in wording.
"""

from datetime import UTC, datetime, timedelta
from typing import TypeAlias

Ms: TypeAlias = int
"""Milliseconds: an instant (since the Unix epoch, UTC) or a length, as the name beside it says."""

SECOND: Ms = 1_000
MINUTE: Ms = 60 * SECOND
HOUR: Ms = 60 * MINUTE
DAY: Ms = 24 * HOUR

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def as_utc(moment: Ms) -> datetime:
    """The instant as an aware datetime in UTC, exact to the millisecond."""
    return _EPOCH + timedelta(milliseconds=moment)


def from_datetime(moment: datetime) -> Ms:
    """The instant of an aware datetime, cut down to whole milliseconds. A datetime without zone is refused."""
    if moment.tzinfo is None:
        raise ValueError(f"{moment.isoformat()}: time without zone; write it like 2026-03-01T06:00:00Z")
    return (moment - _EPOCH) // timedelta(milliseconds=1)


def rfc3339(moment: Ms) -> str:
    """The instant as RFC 3339 text in UTC: ``2026-03-01T06:00:00Z``, with ``.123`` only when not on a whole second."""
    text = as_utc(moment).strftime("%Y-%m-%dT%H:%M:%S")
    part = moment % SECOND
    return f"{text}.{part:03d}Z" if part else f"{text}Z"


def from_rfc3339(text: str) -> Ms:
    """The instant of an RFC 3339 text with a zone. Raises ValueError with the text when it is none."""
    return from_datetime(datetime.fromisoformat(text.replace("Z", "+00:00")))
