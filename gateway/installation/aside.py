"""What an alarm point says of being hidden by another, out of service, asked again and becoming worse."""

from collections.abc import Callable, Mapping
from datetime import date, datetime, time, timedelta, tzinfo

from gateway.alarms.limits import BECOMES_ALARM, LONGEST_OUT, RETURNS_AT
from gateway.alarms.settings import OutOfService, Point
from gateway.installation.boat_files import AlarmTable
from gateway.installation.findings import Findings
from gateway.installation.lengths import spelt
from gateway.installation.nearest import did_you_mean
from gateway.installation.standards import Laid
from gateway.vocabulary.moments import DAY, Ms, from_datetime
from gateway.vocabulary.priority import Priority
from grammar.meanings import Condition

LONGEST_OUT_DAYS = LONGEST_OUT // DAY


def return_of(table: AlarmTable, zone: tzinfo) -> OutOfService | None:
    """When the point returns to service: at 09:00 boat time on the day that is written."""
    said = table.out_of_service
    if said is None:
        return None
    at = datetime.combine(said.until, time(RETURNS_AT // 60, RETURNS_AT % 60), tzinfo=zone)
    return OutOfService(until=from_datetime(at), by=said.by, because=said.because)


def check_return(
    table: AlarmTable, tables: Laid, path: tuple[str, str], day_read: Callable[[str], date | None], findings: Findings
) -> None:
    """Design rule 11: a point returns to service within 14 days. A day that has passed is none of ours any more: it was
    within them once, and the point is back. day_read: the day at the boat on which a file is read, by its name."""
    if table.out_of_service is None:
        return
    place = (*path, "out_of_service", "until")
    until, today = table.out_of_service.until, day_read(tables.place(place)[0])
    if today is not None and (until - today).days > LONGEST_OUT_DAYS:
        findings.mistake(
            tables,
            place,
            f"is {(until - today).days} days ahead, and an alarm is out of service for {LONGEST_OUT_DAYS} at most",
            f"write a day up to {today + timedelta(days=LONGEST_OUT_DAYS)}; who is still at work then writes another",
        )


def becomes_alarm(table: AlarmTable) -> Ms | None:
    """After how long unheeded it is told as an alarm; None when it never is."""
    return table.becomes_alarm_after or (BECOMES_ALARM if table.becomes_alarm else None)


def check_aside(table: AlarmTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    """Design rule 11: an emergency is never hidden by another alarm. Only a warning can become an alarm."""
    if table.priority is Priority.EMERGENCY and table.hidden_by:
        findings.mistake(
            tables, (*path, "hidden_by"), "would hide an emergency", "leave it out: an emergency is always told"
        )
    for key in ("becomes_alarm", "becomes_alarm_after"):
        if getattr(table, key) and table.priority is not Priority.WARNING:
            findings.mistake(
                tables,
                (*path, key),
                f"is written of {_an(table.priority)}",
                "leave it out; only a warning that nobody takes becomes an alarm (IMO MSC.302(87) 6.2.2.2)",
            )
    if table.becomes_alarm is False and table.becomes_alarm_after is not None:
        findings.mistake(
            tables, (*path, "becomes_alarm"), "is false, and becomes_alarm_after says when", "keep one of the two"
        )

    if table.alarm_with_others and table.priority is not Priority.WARNING:
        findings.mistake(
            tables,
            (*path, "alarm_with_others"),
            f"is written of {_an(table.priority)}",
            "leave it out; only a warning becomes an alarm while others stand (handbook 3, P26)",
        )


def check_hiding(points: Mapping[str, Point], alarms: Mapping[str, object], tables: Laid, findings: Findings) -> None:
    """What hides an alarm must be another alarm of this boat, and two must not hide each other. Warned of: a hider that
    comes later than what it hides, so that both are told, and one that is less grave."""
    for key, point in points.items():
        for place, hider_id in enumerate(point.hidden_by):
            hider_key = hider_id.partition("/")[2]
            path = ("alarm", key, "hidden_by")
            if hider_key in tables.left_out:
                continue  # of the standard, and not on this boat: nothing hides this one
            if hider_key not in alarms:
                findings.mistake(
                    tables,
                    (*path, place),
                    f'"{hider_key}" is no alarm of this boat',
                    did_you_mean(hider_key, [other for other in alarms if other != key]),
                )
            elif key in _hidden_behind(hider_key, points):
                findings.mistake(
                    tables,
                    (*path, place),
                    "would be hidden by itself in turn",
                    "let one hide, the other be hidden",
                )
            elif hider_key in points:
                _warn(point, points[hider_key], tables, path, findings)


def _hidden_behind(key: str, points: Mapping[str, Point]) -> set[str]:
    """The point, and all that hide it, and what hides those."""
    found: set[str] = set()
    waiting = [key]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += [hider.partition("/")[2] for hider in points[one].hidden_by] if one in points else []
    return found


def _warn(point: Point, hider: Point, tables: Laid, path: tuple[str, str, str], findings: Findings) -> None:
    worse = hider.priority.gravity > point.priority.gravity  # it has got worse, and takes the other's place
    if _delay(hider.when) > _delay(point.when) and not worse:
        findings.warn(
            tables,
            path,
            f'"{hider.key}" comes after {spelt(_delay(hider.when))}, later than this one, so that both are told',
        )
    if hider.priority.gravity < point.priority.gravity:
        findings.warn(tables, path, f'"{hider.key}" is only {_an(hider.priority)}, less grave than what it hides')


def _delay(condition: Condition) -> Ms:
    lasting: Ms = getattr(condition, "lasting", 0)
    return lasting


def _an(priority: Priority) -> str:
    return f"{'an' if priority in (Priority.EMERGENCY, Priority.ALARM) else 'a'} {priority}"
