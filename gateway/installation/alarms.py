"""A boat's alarm points."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, tzinfo
from decimal import Decimal
from itertools import pairwise

from gateway.alarms.limits import ASKED_AGAIN
from gateway.alarms.settings import Attendance, Concerns, Point
from gateway.conditions.values import meets
from gateway.installation.aside import becomes_alarm, check_aside, check_hiding, check_return, return_of
from gateway.installation.boat_files import AlarmTable
from gateway.installation.findings import Findings
from gateway.installation.names import check_keys, check_once
from gateway.installation.nearest import did_you_mean
from gateway.installation.sentences import Known, read_end, read_sentence
from gateway.installation.shape import shaped
from gateway.installation.sharing import check_shared, shared_by
from gateway.installation.standards import Laid
from gateway.installation.starting_values import filled, unmeasured, without_deadband
from gateway.installation.sums import check_asked
from gateway.reckoning.own_sums import HOUSE_BANK, OwnSum
from gateway.telling.settings import CallOutList
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import septets
from grammar.meanings import Condition, Gone, IsBand, IsContact, IsNumber, IsWord, NoNews

LONGEST_SAYING = 80
"""Characters of `means` and of `do`, each: half of one text of 160 septets, the rest is taken by boat, name, time and
what to reply (our choice)."""

ABSENCE = frozenset({Concerns.INTRUSION, Concerns.DRIFT})
"""Alarms whose meaning is that nobody is aboard; the only ones that attendance may limit (design rule 11)."""


def build_points(
    boat: str,
    tables: Laid,
    known: Known,
    callouts: Mapping[str, CallOutList] | None,
    findings: Findings,
    zone: tzinfo = UTC,
    sums: Mapping[str, OwnSum | None] | None = None,
    day_read: Callable[[str], date | None] = lambda _: None,
) -> dict[str, Point]:
    """Points by key, those without fault. callouts: None when their file could not be read. zone: the boat's, for the
    days on which points return to service. sums: the boat's own, by key. day_read: the day at the boat
    on which a file is read, by its name; None when no clock is at hand."""
    points: dict[str, Point] = {}
    alarms: Mapping[str, object] = tables.values["alarm"]
    check_keys(alarms, tables, ("alarm",), findings)
    names: list[tuple[str, Sequence[str | int]]] = []
    for key, values in alarms.items():
        path = ("alarm", key)
        table = shaped(AlarmTable, values, tables, path, findings)
        if table is None:
            continue
        names.append((table.name, (*path, "name")))
        _check(table, tables, path, callouts, findings)
        check_asked(table.reckon, sums or {}, tables, path, findings)
        check_return(table, tables, path, day_read, findings)
        when = read_sentence(table.when, known, tables, (*path, "when"), findings)
        clears = read_end(table.clears, known, tables, (*path, "clears"), findings) if table.clears else None
        if when is None or (table.clears and clears is None):
            continue
        if clears is not None:
            _opposed(when, clears, tables, (*path, "clears"), findings)
        when, clears, said = filled(when, clears, known.signals)
        for where, text in said:
            findings.warn(tables, (*path, where), text)
        bare = unmeasured(when, known.signals) if table.priority is not Priority.EMERGENCY else None
        if bare is not None:
            text = (
                f"gives no delay: one reading raises it; write one, such as `for 60 s`, or in [signal.{bare}] what it"
            )
            findings.warn(tables, (*path, "when"), f"{text} `measures` (handbook 2.5)")
        if isinstance(when, IsNumber) and isinstance(clears, IsNumber) and when.limit == clears.limit:
            findings.warn(
                tables, (*path, "clears"), "is the limit itself, so that it may come and go there (handbook 2.5)"
            )
        if (clears is None or isinstance(clears, Gone)) and without_deadband(when):
            what = "is missing" if clears is None else "says `gone` of a limit without deadband"
            findings.warn(tables, (*path, "clears"), f"{what}, so that it may come and go at its limit (handbook 2.5)")
        points[key] = Point(
            id=f"{boat}/{key}",
            boat=boat,
            key=key,
            name=table.name,
            priority=table.priority,
            when=when,
            clears=clears,
            callout=table.callout,
            latching=bool(table.latching),
            attendance=tuple(table.attendance),
            concerns=table.concerns,
            hidden_by=tuple(f"{boat}/{hider}" for hider in dict.fromkeys(table.hidden_by)),
            out_of_service=return_of(table, zone),
            ask_again=table.ask_again or ASKED_AGAIN.get(table.priority),
            becomes_alarm=becomes_alarm(table),
            alarm_with_others=table.alarm_with_others,
            means=table.means,
            do=table.do,
            offer=tuple(table.offer),
            test=table.test,
            shared=shared_by(table, when),
            reckon=_reckoned(boat, table.reckon),
        )
    check_once(names, tables, "the name", findings)
    check_hiding(points, alarms, tables, findings)
    return points


def _reckoned(boat: str, reckon: str | None) -> str | None:
    """The house bank by its name, a sum of the boat by its id."""
    return reckon if reckon in (None, HOUSE_BANK) else f"{boat}/{reckon}"


def _check(
    table: AlarmTable,
    tables: Laid,
    path: tuple[str, str],
    callouts: Mapping[str, CallOutList] | None,
    findings: Findings,
) -> None:
    if callouts is not None and table.callout not in callouts:
        findings.mistake(
            tables,
            (*path, "callout"),
            f'no call-out list is called "{table.callout}"',
            did_you_mean(table.callout, callouts),
        )
    if table.priority is Priority.EMERGENCY and table.latching is None:
        findings.mistake(
            tables,
            (*path, "latching"),
            "is missing, and an emergency must say whether it stands until somebody has looked",
            "write latching = true, or latching = false when nobody need look afterwards",
        )
    for key, said in (("means", table.means), ("do", table.do)):
        if len(said) > LONGEST_SAYING:
            findings.mistake(
                tables,
                (*path, key),
                f"has {len(said)} characters",
                f"say it in {LONGEST_SAYING}, so that it fits into one text",
            )
    for key, said in (("name", table.name), ("means", table.means), ("do", table.do)):
        if septets(said) is None:
            findings.warn(tables, (*path, key), "holds a character that costs a text more than half its room")
    check_aside(table, tables, path, findings)
    check_shared(table, tables, path, findings)
    _attendance(table, tables, path, findings)


def _attendance(table: AlarmTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    """Design rule 11: attendance never mutes an emergency, nor an alarm whose meaning is not absence."""
    limits = bool(table.attendance) and set(table.attendance) != set(Attendance)
    if not limits:
        return
    if table.priority is Priority.EMERGENCY:
        findings.mistake(
            tables, (*path, "attendance"), "would mute an emergency", "leave it out: an emergency is always told"
        )
    elif table.priority is Priority.ALARM and table.concerns not in ABSENCE:
        findings.mistake(
            tables,
            (*path, "attendance"),
            "would mute an alarm",
            "leave it out; only intrusion and drift may depend on who is aboard (concerns = ...), or make it a warning",
        )


def _opposed(
    when: Condition, clears: Condition | Gone, tables: Laid, path: tuple[str, str, str], findings: Findings
) -> None:
    """What clears an alarm must not hold together with what raises it."""
    if isinstance(when, NoNews) or isinstance(clears, NoNews):
        findings.mistake(tables, path, "silence is over with the first news", "leave `clears` out")
        return
    if isinstance(clears, Gone) or when.signal != clears.signal:
        return
    if isinstance(when, IsContact) and isinstance(clears, IsContact):
        if when.wanted == clears.wanted:
            wanted = "off" if when.wanted else "on"
            findings.mistake(tables, path, "is what raises the alarm", f'write "{when.signal} {wanted} for ..."')
    elif isinstance(when, IsWord) and isinstance(clears, IsWord):
        if when.word == clears.word:
            findings.mistake(tables, path, "is what raises the alarm", "write another word of the signal")
    elif isinstance(when, IsNumber | IsBand) and isinstance(clears, IsNumber | IsBand):
        if _both_hold(when, clears):
            side = f"on the other side of {when.limit:f}" if isinstance(when, IsNumber) else "outside of what raises it"
            findings.mistake(tables, path, "can hold while the alarm is being raised", f"choose a limit {side}")
    elif replace(when, lasting=0) == replace(clears, lasting=0):
        findings.mistake(tables, path, "is what raises the alarm", 'write the opposite, or "gone for 60 s"')


def _both_hold(when: IsNumber | IsBand, clears: IsNumber | IsBand) -> bool:
    """Whether one number can fulfil both: tried on every limit, between each two and beyond the outermost."""
    limits = sorted({limit for one in (when, clears) for limit in _limits(one)})
    between = [(low + high) / 2 for low, high in pairwise(limits)]
    return any(meets(when, v) and meets(clears, v) for v in (limits[0] - 1, *limits, *between, limits[-1] + 1))


def _limits(one: IsNumber | IsBand) -> tuple[Decimal, ...]:
    return (one.limit,) if isinstance(one, IsNumber) else (one.low, one.high)
