"""A text of every kind as long as this installation's names can make it: who, which boat, which alarm, and what of it.

Values that nobody can know beforehand are as long as they may become: a number of four digits, a night of another day.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import MISSING, fields, replace
from enum import Enum
from typing import Any, get_type_hints

from gateway.alarms.holding import Whereabouts
from gateway.alarms.life import AlarmState
from gateway.alarms.nuisance import PointFault
from gateway.alarms.settings import Attendance
from gateway.installation.longest_cast import NOW, Cast, situation_of
from gateway.installation.second_look import LONGEST_NUMBER, SOME_NIGHT
from gateway.requests.answers import Answer, Objection, Rule
from gateway.telling.duty_notices import DutyOf
from gateway.telling.notices import Notice, StatusLine
from gateway.telling.regular_notices import BoatInRound
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import DAY, HOUR, MINUTE
from grammar.meanings import Why


def samples(kind: type, cast: Cast) -> Iterator[Notice | Answer]:
    """Notices of one kind: one for each value of what it chooses by, such as why it cannot. None where the boat has no
    alarm point, or nothing to switch, and the kind is about one."""
    names = {each.name for each in fields(kind)}
    needs_point = bool(names & {"situation", "situations", "point"}) and "boats" not in names
    if (needs_point and cast.point is None) or ("equipment" in names and cast.thing is None):
        return
    chosen: list[dict[str, Any]] = [{}]
    hints = get_type_hints(kind)
    for each in fields(kind):
        values = list(_values(kind, each.name, hints[each.name], cast))
        if not values and each.default is MISSING and each.default_factory is MISSING:
            return  # a field that nothing here fills: the tests of `check` ask for every kind
        if values:
            chosen = [{**before, each.name: value} for before in chosen for value in values]
    for values_of in chosen:
        yield kind(**values_of)


def _values(kind: type, name: str, hint: Any, cast: Cast) -> Sequence[Any]:
    """What a field may hold; nothing where its usual value will do."""
    special = SPECIAL.get((kind.__name__, name))
    if special is not None:
        return special(cast)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return tuple(hint)
    if hint is bool:
        return (True, False)
    made = BY_NAME.get(name)
    return () if made is None else (made(cast),)


def _all(cast: Cast) -> tuple[Situation, ...]:
    return () if cast.point is None else (situation_of(cast, cast.point),)


def _in_round(cast: Cast) -> tuple[BoatInRound, ...]:
    seen = replace(_all(cast)[0], gone=None) if cast.point else None
    those = (seen,) if seen else ()
    return tuple(
        BoatInRound(boat=key, situations=those if key == cast.boat.key else (), silent_since=None, heard=NOW - MINUTE)
        for key in cast.boats
    )


BY_NAME: Mapping[str, Callable[[Cast], Any]] = {
    "person": lambda cast: cast.reader.id,
    "boat": lambda cast: cast.boat.key,
    "boats": lambda cast: cast.boats,
    "situation": lambda cast: _all(cast)[0],
    "situations": _all,
    "others": lambda cast: tuple(each.id for each in cast.others),
    "holder": lambda cast: cast.others[0].id,
    "holders": lambda cast: tuple(cast.others[0].id for _ in _all(cast)),
    "before": lambda cast: cast.others[-1].id if len(cast.others) > 1 else cast.reader.id,
    "by": lambda cast: cast.others[0].id,
    "who": lambda cast: cast.others[0].id,
    "instead_of": lambda cast: cast.others[0].id,
    "installers": lambda cast: tuple(each.id for each in cast.others[:2]),
    "asked": lambda cast: tuple(each.id for each in cast.others[:2]),
    "keeps": lambda cast: tuple(each.id for each in cast.others[:2]),
    "first": lambda cast: tuple(each.id for each in cast.others),
    "told": lambda cast: tuple(each.id for each in cast.others),
    "following": lambda cast: cast.others[0].id,
    "at": lambda _: NOW,
    "open": lambda _: (LONGEST_NUMBER, LONGEST_NUMBER - 1),
    "ends": lambda _: NOW + HOUR,
    "lasted": lambda _: HOUR,
    "texts": lambda _: 12,
    "arrived": lambda _: 10,
    "next_person": lambda cast: cast.others[0].id,
    "next_at": lambda _: NOW + MINUTE,
    "point": lambda cast: cast.point.id if cast.point else "",
    "equipment": lambda cast: cast.thing.id if cast.thing else None,
    "action": lambda cast: max(cast.thing.pair, key=len) if cast.thing else "",
    "number": lambda _: LONGEST_NUMBER,
    "numbers": lambda _: (LONGEST_NUMBER, LONGEST_NUMBER - 1),
    "standing": lambda _: (LONGEST_NUMBER, LONGEST_NUMBER - 1),
    "because": lambda _: "new sender fitted, to be proved",
    "kind": lambda _: "link",
    "name": lambda _: "the mast ashore",
    "since": lambda _: SOME_NIGHT,
    "until": lambda _: NOW + DAY,
    "lapses": lambda _: NOW + HOUR,
    "expires": lambda _: NOW + 10 * MINUTE,
    "stops_at": lambda _: NOW + DAY,
    "practised": lambda _: SOME_NIGHT,
    "words": lambda _: ("weather", "example"),
    "run": lambda _: HOUR + 30 * MINUTE,
    "waited": lambda _: HOUR,
    "after": lambda _: HOUR,
    "measured": lambda _: "running, 231.5 V",
    "left": lambda _: 12,
    "count": lambda _: 12,
    "watched": lambda _: 100,
    "tries": lambda _: 10,
    "in_a_row": lambda _: 1000,
    "quiet": lambda _: 10,
    "sample": lambda _: "not-a-number",
    "code": lambda _: "30003",
    "link": lambda cast: f"broker:{cast.boat.broker}",
    "signal": lambda cast: next((key for key in cast.scene.signals if key.startswith(f"{cast.boat.key}/")), "none"),
    "about": lambda _: "the house bank",
    "nearest": lambda _: ("status battery", "status"),
    "example": lambda _: "status",
    "phrases": lambda _: ("status", "alarms", "have it", "checked", "visit", "visit over"),
    "objections": lambda _: (
        Objection(rule=Rule.HOURS, says="permitted 08:00-20:00, it is 03:06", cure="Ask again from 08:00"),
    ),
    "voided": lambda cast: cast.thing.id if cast.thing else None,
}
"""What a field of a notice is, by its name; a field that is not here keeps its usual value."""


def _of_each(*values: Any) -> Callable[[Cast], Sequence[Any]]:
    return lambda _: values


SPECIAL: Mapping[tuple[str, str], Callable[[Cast], Sequence[Any]]] = {
    ("AlarmTold", "situations"): lambda cast: [(each,) for each in _told(cast)],
    ("AlarmTaken", "holder"): lambda cast: [cast.reader.id, cast.others[0].id],
    ("AlarmTaken", "situation"): lambda cast: _told(cast)[-1:] + _told(cast)[:1],
    ("AlarmGone", "situation"): lambda cast: [replace(_all(cast)[0], gone=NOW - MINUTE)],
    ("AlarmGone", "holder"): lambda cast: [None, cast.reader.id, cast.others[0].id],
    ("AlarmReset", "by"): lambda cast: [cast.reader.id, cast.others[0].id],
    ("AlarmAside", "situation"): lambda cast: [
        replace(_all(cast)[0], state=state, until=NOW + DAY)
        for state in (AlarmState.SHELVED, AlarmState.OUT_OF_SERVICE)
    ],
    ("AlarmBack", "left"): _of_each(AlarmState.SHELVED, AlarmState.OUT_OF_SERVICE),
    ("AttendanceTold", "before"): _of_each(Attendance.AWAY),
    ("ServiceReminder", "situation"): lambda cast: [
        replace(_all(cast)[0], state=AlarmState.OUT_OF_SERVICE, until=NOW + DAY)
    ],
    ("DutyAnswer", "duties"): lambda cast: [(DutyOf(boats=cast.boats, who=cast.others[0].id, until=NOW + DAY),)],
    ("DutyTold", "before"): lambda cast: [(cast.others[-1].id,)],
    ("DutyOver", "following"): lambda cast: [None, cast.reader.id, cast.others[0].id],
    ("DutyOver", "at"): _of_each(SOME_NIGHT),
    ("DutyOver", "open"): _of_each(tuple(range(LONGEST_NUMBER - 5, LONGEST_NUMBER + 1))),
    ("DutyUnchanged", "who"): lambda cast: [(cast.others[0].id, cast.others[-1].id)],
    ("AsideRefused", "who"): lambda cast: [(cast.others[0].id, cast.others[-1].id)],
    ("AttendanceRefused", "who"): lambda cast: [(cast.others[0].id, cast.others[-1].id)],
    ("RoundTold", "boats"): lambda cast: [_in_round(cast)],
    ("StatusOfAll", "boats"): lambda cast: [_in_round(cast)],
    ("WeeklyTold", "boats"): lambda cast: [_in_round(cast)],
    ("StrangerWrote", "number"): _of_each("+44 7700 900***"),
    ("StatusAnswer", "lines"): lambda cast: [_lines(cast)],
    ("ThingAnswer", "lines"): lambda cast: [_lines(cast)[:2]],
    ("PhrasesAnswer", "boats"): _of_each(()),
    ("AlarmsAnswer", "boats"): _of_each(()),
    ("TimesBad", "signals"): lambda cast: [tuple(line.signal for line in _lines(cast)[:3])],
    ("BlindTime", "until"): _of_each(NOW),
    ("StoreWasFull", "until"): _of_each(NOW),
    ("ProgressTold", "holder"): lambda cast: [cast.reader.id, cast.others[0].id],
    ("ProgressTold", "where"): _of_each(*Whereabouts),
    ("PointToMend", "fault"): _of_each(*PointFault),
    ("CautionAndCode", "who"): lambda cast: ["", cast.others[0].id],
    ("CautionAndCode", "until"): _of_each(None),
    ("NotRead", "why"): _of_each(*(why.value for why in Why)),
    ("PracticeRefused", "words"): _of_each("the second bilge switch"),
    ("PracticeRefused", "who"): lambda cast: [(cast.others[0].id, cast.others[-1].id)],
    ("BalanceLow", "carrier"): lambda cast: [cast.boat.carrier],
    ("BalanceLow", "amount"): _of_each("-1234.56789"),
    ("BalanceLow", "currency"): _of_each("GBP"),
    ("BalanceLow", "limit"): _of_each("1000000"),
    ("ClockDoubtful", "ahead"): _of_each(HOUR),
    ("CodeAnswer", "until"): _of_each(NOW + HOUR),
}


def _told(cast: Cast) -> list[Situation]:
    """One alarm in every way that it is first told, and told again."""
    plainly = _all(cast)[0]
    return [
        plainly,
        replace(plainly, worse=True),
        replace(plainly, had_by=cast.others[0].id, last_word=SOME_NIGHT),
        replace(plainly, gone=NOW - MINUTE, state=AlarmState.LATCHED_UNACKNOWLEDGED),
    ]


def _lines(cast: Cast) -> tuple[StatusLine, ...]:
    ids = [key for key in cast.scene.signals if key.startswith(f"{cast.boat.key}/")]
    return tuple(StatusLine(signal=key, measured="12.34", age=HOUR) for key in ids[:12])
