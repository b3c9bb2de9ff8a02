"""Texts about alarms that are put aside, how a boat is kept, and points that need mending."""

from gateway.alarms.life import AlarmState
from gateway.alarms.nuisance import PointFault
from gateway.alarms.settings import Attendance
from gateway.telling.aside_notices import (
    AlarmAside,
    AlarmBack,
    AsideRefused,
    AttendanceAsk,
    AttendanceRefused,
    AttendanceTold,
    CannotAside,
    HolderAsked,
    PointToMend,
    ServiceReminder,
)
from gateway.wording.clocks import clock, lasting
from gateway.wording.fitting import Piece, Worth, by_words, capitals, fit, fixed, maybe, packed, placed, tidy
from gateway.wording.names import boat, first_name, what
from gateway.wording.own_kinds import fit_as
from gateway.wording.scene import Scene
from gateway.wording.situations import listed, worst_first


def alarm_aside(notice: AlarmAside, scene: Scene) -> str:
    """Shelved or out of service: until when, by whom, and how it is ended."""
    at, situation = clock(scene, notice.boat, notice.person), notice.situation
    until = f" until {at.told(situation.until)}" if situation.until is not None else ""
    own = notice.by == notice.person
    who = "" if notice.by is None else f" by {'you' if own else first_name(scene, notice.by)}"
    number = situation.number
    ends = f"UNSHELVE {number}" if situation.state is AlarmState.SHELVED else f"IN SERVICE {number}"
    because = by_words(tidy(notice.because), 40)
    return fit_as(
        "put aside",
        scene,
        [
            *placed("boat", boat(scene, notice.boat)),
            what(scene, situation.point, f": alarm {number}, {{}}, "),
            *placed("aside", fixed(f"{situation.state}{until}")),
            *placed("who", maybe(Worth.VALUE, who)),
            *placed("because", maybe(Worth.MEANING, f" ({because})" if because else "")),
            *placed("nobody", fixed(". NOBODY is told of it till then")),
            *placed("reply", maybe(Worth.MEANING, f". To end that reply {ends}")),
        ],
        *placed("what", what(scene, situation.point)),
        *placed("number", fixed(str(number))),
    )


def alarm_back(notice: AlarmBack, scene: Scene) -> str:
    """Told as before again; whether it stands."""
    at, situation = clock(scene, notice.boat, notice.person), notice.situation
    own = notice.by == notice.person
    who = ", its time is over" if notice.by is None else f", by {'you' if own else first_name(scene, notice.by)}"
    over = "no longer shelved" if notice.left is AlarmState.SHELVED else "back in service"
    stands = f". It stands since {at.told(situation.since)} and is told now" if notice.stands else ". It does not stand"
    return fit(
        [
            boat(scene, notice.boat),
            what(scene, situation.point, f": alarm {situation.number}, {{}}, "),
            fixed(f"{over}{who}"),
            fixed(stands),
            maybe(Worth.MEANING, ". It is watched and told as before"),
        ]
    )


def aside_refused(notice: AsideRefused, scene: Scene) -> str:
    """Why an alarm was not put aside or brought back; nothing was changed."""
    number = notice.situation.number
    who = " or ".join(first_name(scene, each) for each in notice.who[:2]) or "the installer"
    match notice.cannot:
        case CannotAside.NOT_YOURS:
            words = f"only {who} can put alarm {number} aside or back"
        case CannotAside.EMERGENCY:
            words = f"alarm {number} is an emergency and can't be shelved. Reply HAVE IT {number} and look"
        case CannotAside.TOO_LONG:
            words = f"alarm {number} can be put aside for {lasting(notice.longest)} at most"
        case CannotAside.ASIDE_ALREADY:
            words = f"alarm {number} is {notice.situation.state} already"
        case CannotAside.NOT_SHELVED:
            words = f"alarm {number} is not shelved"
        case CannotAside.NOT_OUT:
            words = f"alarm {number} is not out of service"
    return fit([boat(scene, notice.boat), fixed(f": {words}. Nothing was changed")])


def service_reminder(notice: ServiceReminder, scene: Scene) -> str:
    """The day before its return."""
    at, situation = clock(scene, notice.boat, notice.person), notice.situation
    until = f", returns {at.told(situation.until)}" if situation.until is not None else ""
    return fit(
        [
            boat(scene, notice.boat),
            what(scene, situation.point, f": alarm {situation.number}, {{}}, "),
            fixed(f"is out of service{until}"),
            maybe(Worth.MEANING, f". Done? Reply IN SERVICE {situation.number}"),
        ]
    )


def holder_asked(notice: HolderAsked, scene: Scene) -> str:
    """What somebody has still stands; without an answer the others are told."""
    at = clock(scene, notice.boat, notice.person)
    situations = worst_first(scene, notice.situations)
    worst = situations[0]
    others = f". Else the others are told from {at.told(notice.until)}"
    if len(situations) == 1:
        return fit(
            [
                boat(scene, notice.boat),
                what(scene, worst.point, ": {}"),
                maybe(Worth.SINCE, f" since {at.told(worst.since)}"),
                fixed(" has not gone"),
                fixed(f". Still yours? Reply HAVE IT {worst.number}"),
                maybe(Worth.MEANING, others),
            ]
        )
    before = [boat(scene, notice.boat), fixed(f": {len(situations)} alarms of yours have not gone: ")]
    after = [fixed(f". Still yours? Reply HAVE IT {worst.number}, one text for each"), maybe(Worth.MEANING, others)]
    items = [[listed(scene, each, at)] for each in situations]
    return packed(before, items, after, " and {count} more: ALARMS") or fit([*before, *after])


def attendance_told(notice: AttendanceTold, scene: Scene) -> str:
    """How the boat is kept, what is not told meanwhile, and when that ends."""
    at = clock(scene, notice.boat, notice.person)
    own = notice.by == notice.person
    if notice.by is None:
        who = f", because nobody said it is still {notice.before}"
    else:
        who = ", as you say" if own else f", says {first_name(scene, notice.by)}"
    quiet = f". {notice.quiet} of its alarms not told, emergencies always" if notice.quiet else ". Every alarm is told"
    ends = ""
    if notice.until is not None:
        asked = "Asked again" if notice.attendance is Attendance.IN_THE_YARD else "Ends"
        ends = f". {asked} {at.told(notice.until)}"
    visit = ". Somebody still counts as aboard. Nobody is? Reply VISIT OVER" if notice.occupied else ""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": kept as {capitals(notice.attendance)} now"),
            maybe(Worth.MEANING, who),
            fixed(quiet),
            fixed(ends),
            maybe(Worth.ADVICE, "" if notice.attendance is Attendance.AWAY else ". To end that reply AWAY"),
            maybe(Worth.VALUE, visit),
        ]
    )


def attendance_ask(notice: AttendanceAsk, scene: Scene) -> str:
    """The day that was said has come."""
    at = clock(scene, notice.boat, notice.person)
    kept = capitals(notice.attendance)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": still {notice.attendance}? Then reply {kept}, else AWAY"),
            fixed(f". Without an answer it counts as away from {at.told(notice.until)}"),
            maybe(Worth.MEANING, ", and every alarm is told"),
        ]
    )


def attendance_refused(notice: AttendanceRefused, scene: Scene) -> str:
    """Somebody whose matter it is not."""
    who = " or ".join(first_name(scene, each) for each in notice.who[:2]) or "the installer"
    return fit([boat(scene, notice.boat), fixed(f": only {who} can say how it is kept. Nothing was changed")])


def point_to_mend(notice: PointToMend, scene: Scene) -> str:
    """Which point to mend, and how."""
    number = f" (alarm {notice.number})" if notice.number is not None else ""
    found, cure = _fault(notice)
    return fit(
        [
            boat(scene, notice.boat),
            what(scene, notice.point, f": the point {{}}{number} "),
            fixed(found),
            Piece((f". To mend: {cure}", ". Mend it"), (Worth.MEANING,)),
            maybe(Worth.ADVICE, ". Told once"),
        ]
    )


def _fault(notice: PointToMend) -> tuple[str, str]:
    match notice.fault:
        case PointFault.CHATTERING:
            found = "chatters: 3 alarms within a minute"
            return (
                found,
                "a wider deadband in `clears`" if notice.has_limit else "longer `for`, look for a loose contact",
            )
        case PointFault.FLEETING:
            return "comes and goes within a minute, 3 times today", "a longer `for` in `when`"
        case PointFault.STALE:
            out = f", or OUT OF SERVICE {notice.number} FOR 3 DAYS" if notice.number is not None else ""
            return "has stood for over 24 h", f"the boat, or its limit{out}"
