"""A replay in words and as JSON. Times are boat time; numbers and code words are hidden."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo

from gateway.cli.masking import Masks, printable
from gateway.desk.bundle import Bundle
from gateway.rehearsal.lines import AlarmLine, Line
from gateway.rehearsal.replaying import Difference
from gateway.rehearsal.side_by_side import Beside, Which
from gateway.vocabulary.moments import Ms, as_utc, rfc3339

ASSUMPTION = "nobody answers, and every text is delivered after 20 s"
MARK = "[assumed]"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What is said of the whole replay. Instants: ms UTC.

    other: the folder of other files, None for the installation's own. own: those were in use all the time. since,
    until: as asked for; begins: from when on readings are kept. where_from: what the state before it was made of.
    unheard: ids of signals that the record holds no reading of.
    """

    other: str | None
    own: bool
    since: Ms
    begins: Ms
    until: Ms
    where_from: str
    taken: int
    exact: bool
    different: Difference | None
    unheard: tuple[str, ...]


def in_words(
    heading: Heading, rows: Sequence[Beside], bundle: Bundle, names: Mapping[str, str], masks: Masks
) -> Iterator[str]:
    """The replay for a person, line by line."""
    zone = _zone(bundle, "")
    span = f"from {_moment(heading.begins, zone)} to {_moment(heading.until, zone)}"
    yield f"Replayed {span}. Nothing was sent or written."
    yield f"Begins with {heading.where_from}. {heading.taken} happenings of the record were taken in."
    for day in _thinned(heading, zone):
        yield f"{day}: its readings are no longer kept (all or the earlier ones), so nothing of them is replayed."
    yield from _files(heading)
    if heading.different is not None:
        at = _moment(heading.different.now, zone)
        yield f"First difference: {at}, {heading.different.why}."
        yield f"{MARK}: from there on it is assumed that {ASSUMPTION}, and that the boat went on as it did."
    if rows:
        yield ""
    for row in rows:
        mark = f" {MARK}" if row.assumed else ""
        shown = _zone(bundle, row.line.boat)
        yield f"{_moment(row.line.now, shown)}  {row.which:<8}  {_said(row.line, bundle, names, masks)}{mark}"
    yield ""
    yield _result(heading, rows)


def _files(heading: Heading) -> Iterator[str]:
    if heading.other is not None:
        yield f"With the files in {heading.other}."
        if heading.unheard:
            yield f"Never heard of in the record, so nothing can be said of them: {', '.join(heading.unheard)}."
    elif not heading.own:
        yield (
            "Other files were in use then, at least for a time (`logbook show` says when files changed): what follows "
            "is what the present ones would have done."
        )


def _result(heading: Heading, rows: Sequence[Beside]) -> str:
    if heading.different is None:
        same = "Alarms and texts are exactly those of the record"
        return f"{same}, every entry hash for hash." if heading.exact else f"{same}."
    count = {which: sum(row.which is which for row in rows) for which in Which}
    found = (
        f"{count[Which.BOTH]} lines are as they were, {count[Which.WAS]} would not have been, "
        f"{count[Which.WOULD_BE]} would have been new."
    )
    if not heading.own:
        return found
    return f"{found} The files are the same: another release wrote the record, or something was erased from it."


def _said(line: Line, bundle: Bundle, names: Mapping[str, str], masks: Masks) -> str:
    if isinstance(line, AlarmLine):
        point = bundle.points.get(line.point)
        what = f"{bundle.boats[point.boat].name} {point.name}" if point is not None else line.point
        value = f" ({line.measured})" if line.measured else ""
        return printable(f"alarm {line.number}, {what}: {line.event}, now {line.after}{value}")
    who = names.get(line.person, f"person {line.person[:8]}")
    return f"to {printable(who)}: {_body(line.body, masks)}"


def _body(body: str | None, masks: Masks) -> str:
    return "(erased)" if body is None else masks.text(body)


def _moment(at: Ms, zone: tzinfo) -> str:
    """Boat time with its name, as clocks there show it: 2026-03-09 03:04:15 GMT."""
    return f"{as_utc(at).astimezone(zone):%Y-%m-%d %H:%M:%S %Z}"


def _zone(bundle: Bundle, boat: str) -> tzinfo:
    """A boat's zone; of what is no single boat's, the one zone that all have, else UTC."""
    if boat in bundle.boats:
        return bundle.boats[boat].zone
    zones = {one.zone for one in bundle.boats.values()}
    return zones.pop() if len(zones) == 1 else UTC


def _thinned(heading: Heading, zone: tzinfo) -> Iterator[str]:
    """The days, boat time, between what was asked for and what is kept."""
    day: datetime = as_utc(heading.since).astimezone(zone)
    while heading.since < heading.begins and day.date() <= as_utc(heading.begins - 1).astimezone(zone).date():
        yield f"{day:%Y-%m-%d}"
        day += timedelta(days=1)


def as_json(heading: Heading, rows: Sequence[Beside], bundle: Bundle, names: Mapping[str, str], masks: Masks) -> str:
    """One object. Instants are RFC 3339 in UTC, `local` is boat time. lines: which is both, was or would be."""
    different = heading.different
    return json.dumps(
        {
            "from": rfc3339(heading.begins),
            "to": rfc3339(heading.until),
            "begins_with": heading.where_from,
            "with": heading.other,
            "same_files": heading.own,
            "taken": heading.taken,
            "same": different is None,
            "hash_for_hash": heading.exact,
            "first_difference": None if different is None else {"at": rfc3339(different.now), "why": different.why},
            "assumption": None if different is None else ASSUMPTION,
            "days_not_kept": list(_thinned(heading, _zone(bundle, ""))),
            "never_heard_of": list(heading.unheard),
            "lines": [_object(row, bundle, names, masks) for row in rows],
        },
        ensure_ascii=False,
    )


def _object(row: Beside, bundle: Bundle, names: Mapping[str, str], masks: Masks) -> dict[str, object]:
    line = row.line
    shown: dict[str, object] = {
        "which": str(row.which),
        "assumed": row.assumed,
        "at": rfc3339(line.now),
        "local": as_utc(line.now).astimezone(_zone(bundle, line.boat)).isoformat(),
        "boat": line.boat,
    }
    if isinstance(line, AlarmLine):
        return shown | {
            "kind": "alarm",
            "number": line.number,
            "point": line.point,
            "event": line.event,
            "state": line.after,
            "measured": line.measured,
        }
    body = None if line.body is None else masks.text(line.body)
    who = names.get(line.person, line.person)
    return shown | {"kind": "text", "to": who, "about": line.about, "again": line.again, "body": body}
