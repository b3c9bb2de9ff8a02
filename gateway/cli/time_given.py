"""Instants as people type them: with a zone, or in boat time."""

from datetime import datetime
from zoneinfo import ZoneInfo

from gateway.cli.reading_logbook import WrongUse
from gateway.vocabulary.moments import Ms, as_utc, from_datetime


def instant(option: str, text: str, zone: ZoneInfo | None) -> Ms:
    """The instant (ms UTC) of ISO 8601 text: a date for its 00:00, a date with a time. zone: of what names none, None
    when the boats have several; of an hour that comes twice the first is meant. Raises WrongUse."""
    try:
        found = datetime.fromisoformat(text.strip())
    except ValueError:
        raise WrongUse(
            f"{option} {text}: no instant. Write 2026-03-09, or 2026-03-09T03:00 (boat time), or 2026-03-09T03:00:00Z."
        ) from None
    if found.tzinfo is not None:
        return from_datetime(found)
    if zone is None:
        raise WrongUse(f"{option} {text}: the boats keep different times. Say which: 2026-03-09T03:00:00Z for UTC.")
    at = from_datetime(found.replace(tzinfo=zone))
    if as_utc(at).astimezone(zone).replace(tzinfo=None) != found:
        raise WrongUse(f"{option} {text}: the clocks of {zone.key} leave this hour out that day. Name another.")
    return at
