"""Requests as the phrases that replies print: equipment first, so that none begins with a word that carriers act on."""

from collections.abc import Callable, Mapping

from grammar.meanings import (
    Ashore,
    AtBoat,
    Attend,
    Confirm,
    Duty,
    DutyOff,
    HandOver,
    Note,
    PaperLine,
    PhoneLost,
    Practice,
    PracticeOver,
    ProveNumber,
    PutBack,
    Question,
    QuietAlarm,
    RemoveAlarm,
    Request,
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Withdraw,
)

BEFORE_WORDS: Mapping[type, str] = {Confirm: "go", Withdraw: "drop", ProveNumber: "prove"}
"""What stands before two code words."""


def say(request: Request, names: Mapping[str, str], printed: Mapping[str, str] | None = None) -> str:
    """The printed phrase for `request`; the reader with these names reads it back to an equal value.

    names: neutral key of the equipment, or of a person -> the name to print. printed: how the words are printed in
    another language (`Language.printed`). Raises KeyError for an equipment's key without a name; a person without one
    is called by the key.
    """
    word = (printed or {}).get

    def said(plain: str, behind: object = None) -> str:
        shown = word(plain, plain)
        return shown if behind is None else f"{shown} {behind}"

    match request:
        case Question(asking=asking, equipment=equipment, subject=subject):
            return said(asking.value, names[equipment] if equipment is not None else subject)
        case TakeAlarm(alarm=alarm):
            return said("have it", alarm)
        case ResetAlarm(alarm=alarm):
            return said("checked", alarm)
        case VisitBegins():
            return said("visit")
        case VisitOver():
            return said("visit over")
        case Switch(equipment=equipment, action=action, minutes=minutes, until=until):
            limit = "" if minutes is None else f" {said('for', say_minutes(minutes))}"
            limit += "" if until is None else f" {said('until', say_clock(until))}"
            return f"{names[equipment]} {said(action)}{limit}"
        case Confirm(words=words, line=PaperLine(number=number, words=paper)):
            return said(BEFORE_WORDS[Confirm], f"{' '.join(words)} {number} {' '.join(paper)}")
        case Confirm(words=words) | Withdraw(words=words) | ProveNumber(words=words):
            return said(BEFORE_WORDS[type(request)], " ".join(words))
        case PhoneLost(person=key):
            return said("phone lost", said("me", None) if key is None else names.get(key, key))
        case ShelveAlarm() | UnshelveAlarm() | RemoveAlarm() | PutBack() | Attend() | QuietAlarm():
            return _say_aside(request, said)
        case AtBoat() | Ashore() | TakeOver() | HandOver() | Note() | Practice() | PracticeOver():
            return _say_holding(request, said)
        case Duty() | DutyOff():
            return _say_duty(request, names, said)


WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
"""As they are printed behind "until"."""


def _say_duty(request: Duty | DutyOff, names: Mapping[str, str], said: Callable[[str, object], str]) -> str:
    if isinstance(request, DutyOff):
        return said("duty off", None)
    key = request.person
    who = said("duty me", None) if key is None else said("duty", names.get(key, key))
    if request.weekday is not None:
        return f"{who} {said('until', said(WEEKDAYS[request.weekday], None))}"
    return who if request.minute is None else f"{who} {said('until', say_clock(request.minute))}"


def _say_holding(
    request: AtBoat | Ashore | TakeOver | HandOver | Note | Practice | PracticeOver, said: Callable[[str, object], str]
) -> str:
    match request:
        case AtBoat(alarm=alarm):
            return said("at boat", alarm)
        case Ashore(alarm=alarm):
            return said("ashore", alarm)
        case TakeOver(alarm=alarm):
            return said("take over", alarm)
        case HandOver(alarm=alarm):
            return said("hand over", alarm)
        case Note(words=words, alarm=alarm):
            return f"{said('note', alarm)} {words}"
        case Practice(words=words):
            return said("practice", words)
        case PracticeOver():
            return said("practice over", None)


def _say_aside(
    request: ShelveAlarm | UnshelveAlarm | RemoveAlarm | PutBack | Attend | QuietAlarm,
    said: Callable[[str, object], str],
) -> str:
    match request:
        case ShelveAlarm(alarm=alarm, minutes=minutes):
            return f"{said('shelve', alarm)} {said('for', say_minutes(minutes))}"
        case QuietAlarm(alarm=alarm, minutes=minutes):
            return f"{said('quiet', alarm)} {said('for', say_minutes(minutes))}"
        case UnshelveAlarm(alarm=alarm):
            return said("unshelve", alarm)
        case RemoveAlarm(alarm=alarm, days=days):
            return f"{said('out of service', alarm)} {_for_days(days, said)}"
        case PutBack(alarm=alarm):
            return said("in service", alarm)
        case Attend(kept=kept, days=days):
            return said(kept, None) if days is None else f"{said(kept, None)} {_for_days(days, said)}"


def _for_days(days: int, said: Callable[[str, object], str]) -> str:
    return said("for", f"{days} {said('day' if days == 1 else 'days', None)}")


def say_minutes(minutes: int) -> str:
    """`90` as `1 h 30 min`, `120` as `2 h`, `45` as `45 min`."""
    hours, rest = divmod(minutes, 60)
    said = [f"{hours} h"] if hours else []
    return " ".join(said + ([f"{rest} min"] if rest or not hours else []))


def say_days(days: int) -> str:
    """`1 day`, `10 days`."""
    return f"{days} day{'' if days == 1 else 's'}"


def say_clock(minute: int) -> str:
    """Minutes after midnight as `18:00`."""
    return f"{minute // 60:02}:{minute % 60:02}"
