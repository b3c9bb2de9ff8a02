"""Every notice and every answer, with any names: one part, and what must never be lost is there."""

import itertools
from collections.abc import Sequence
from decimal import Decimal
from typing import Any, get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gateway.alarms.holding import Whereabouts
from gateway.alarms.life import AlarmState
from gateway.alarms.nuisance import PointFault
from gateway.alarms.settings import Attendance, Concerns, Point
from gateway.boat.settings import Boat, Senses, Shared, Signal
from gateway.people.settings import Person, Role
from gateway.reckoning.own_sums import Reckons
from gateway.requests.answers import (
    Answer,
    CautionAndCode,
    CodeAnswer,
    CodeTrouble,
    Dropped,
    NotDone,
    NotProved,
    NotSent,
    Objection,
    Proved,
    Rule,
    SecondDidNot,
    StopTrouble,
    WaitsForSecond,
)
from gateway.requests.number_answers import (
    CannotReport,
    CommandsLocked,
    NumberIsProved,
    PaperRunsLow,
    PhoneLostTold,
    PhoneNotTaken,
    ProveFirst,
)
from gateway.requests.settings import Equipment, Sort
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
from gateway.telling.duty_notices import CannotDuty, DutyAnswer, DutyOf, DutyOver, DutyTold, DutyUnchanged, DutyWanted
from gateway.telling.holder_notices import HandedOver, HandOverWanted, NoteAnswer, ProgressTold
from gateway.telling.notices import (
    AlarmAnswer,
    AlarmGone,
    AlarmReset,
    AlarmsAnswer,
    AlarmTaken,
    AlarmTold,
    Cannot,
    FloodTold,
    GroupTaken,
    Notice,
    NotRead,
    NotTaken,
    PhrasesAnswer,
    SharedGone,
    SharedTold,
    Situation,
    StatusAnswer,
    StatusLine,
    StatusOfAll,
    ThingAnswer,
    VisitAnswer,
    WhichBoat,
)
from gateway.telling.practice import PracticeEnd
from gateway.telling.practice_notices import (
    CannotPractise,
    PracticeBegun,
    PracticeEndTold,
    PracticeRefused,
    PracticeTold,
)
from gateway.telling.quiet_notices import CannotQuiet, QuietRefused, QuietTold
from gateway.telling.regular_notices import BoatInRound, DigestTold, RoundTold, WeeklyTold, WelcomeTold
from gateway.telling.situation import Ahead, BankAhead
from gateway.telling.trouble_notices import (
    BalanceLow,
    BlindTime,
    CarrierStuck,
    ClientIdTwice,
    ClockDoubtful,
    LinkTrouble,
    NotReached,
    OptOutSeen,
    ReachableAgain,
    RecordReplaced,
    SignalBad,
    StoreWasFull,
    StrangerWrote,
    TimesBad,
    TrialText,
    UntoldMeanwhile,
)
from gateway.vocabulary.moments import DAY, HOUR, from_rfc3339
from gateway.vocabulary.priority import Priority
from gateway.wording import fitting
from gateway.wording.alphabet import parts, septets
from gateway.wording.clocks import clock
from gateway.wording.group_texts import named_by
from gateway.wording.names import begins_with_carrier_word
from gateway.wording.phrasebook import BOOKS
from gateway.wording.say import say
from gateway.wording.scene import Scene
from grammar.meanings import Condition, IsContact, IsNumber, NoNews, Than, Why
from tests.effort import some_of, tries

EVERY = (*get_args(Notice), *get_args(Answer))
NOW = from_rfc3339("2026-10-25T03:00:00Z")  # the night the clock goes back: the longest times
ZONES = (ZoneInfo("Europe/London"), ZoneInfo("America/New_York"), ZoneInfo("Pacific/Chatham"))

STEMS = ("Wandering albatross of Tarn Creek ", "Abcdefghijklmnop", "Bilge ", "Lazarette locker and after peak ")
letters = st.builds(lambda stem, size: (stem * 80)[:size].strip(), st.sampled_from(STEMS), st.integers(3, 80))
anything = st.text(max_size=80)
ids = st.sampled_from(("one", "two", "three", "unknown"))
things = st.sampled_from(("boat/one", "boat/two", "boat/unknown"))
instants = st.integers(NOW - 500 * DAY, NOW)
later = st.integers(NOW, NOW + 3 * DAY)
lengths = st.integers(0, 3 * DAY)
numbers = st.integers(1, 9999)
short = st.text(max_size=40)
flags = st.booleans()


def scenes(names: st.SearchStrategy[str], languages: Sequence[str] = ("en",)) -> st.SearchStrategy[Scene]:
    """One boat and three of everything, under drawn names; all persons speak one of the languages."""

    @st.composite
    def draw_scene(draw: st.DrawFn) -> Scene:
        pool = itertools.cycle(draw(st.lists(names, min_size=3, max_size=3)))
        language = draw(st.sampled_from(languages))
        boat = Boat(
            key="boat",
            name=next(pool),
            short_name=next(pool),
            zone=draw(st.sampled_from(ZONES)),
            broker="shore",
            carrier="texts",
            berth=next(pool),
            emergency_number=draw(st.sampled_from(("112", "999", "+1 202 555 0123"))),
        )
        conditions: st.SearchStrategy[Condition] = st.sampled_from(
            (
                IsContact(signal="one", wanted=True),
                IsNumber(signal="one", than=Than.AT_LEAST, limit=Decimal("12.000"), unit="kg/min"),
                NoNews(signal=None, lasting=600_000),
            )
        )
        points = [
            Point(
                id=f"boat/{key}",
                boat="boat",
                key=key,
                name=next(pool),
                priority=draw(st.sampled_from(Priority)),
                when=draw(conditions),
                clears=None,
                callout="all",
                concerns=draw(st.none() | st.sampled_from(Concerns)),
                means=next(pool) * draw(flags),
                do=next(pool) * draw(flags),
            )
            for key in ("one", "two")
        ]
        people = [
            Person(
                id=key,
                key=key,
                name=next(pool),
                number="+447700900101",
                role=draw(st.sampled_from(Role)),
                zone=draw(st.sampled_from(ZONES)),
                boats=("boat",),
                language=language,
            )
            for key in ("one", "two", "three")
        ]
        equipment = [
            Equipment(
                id=f"boat/{key}",
                boat="boat",
                key=key,
                name=next(pool),
                spoken_names=(next(pool),),
                sort=draw(st.sampled_from(Sort)),
                pair=draw(st.sampled_from((("start", "stop"), ("on", "off"), ("open", "close")))),
                topic="t",
                feedback="boat/one",
                count="boat/two",
                caution=next(pool) * draw(flags),
                stop_caution=next(pool),
            )
            for key in ("one", "two")
        ]
        signals = [
            Signal(id=f"boat/{key}", boat="boat", key=key, topic=key, senses=draw(st.none() | st.sampled_from(Senses)))
            for key in ("one", "two")
        ]
        return Scene(
            now=NOW,
            boats={"boat": boat},
            points={each.id: each for each in points},
            people={each.id: each for each in people},
            equipment={each.id: each for each in equipment},
            signals={each.id: each for each in signals},
        )

    return draw_scene()


SAID: dict[Reckons, tuple[dict[str, str], ...]] = {  # as long as each may become
    Reckons.BILGE: (
        {"inflow": "about 120000 L/h", "margin": "12345.6", "high": "less than 15 min"},
        {"quiet": "5 h 45 min"},
        {"floods": "pump no longer keeps up: 359 min without a pause"},
    ),
    Reckons.TANK: (
        {"rate": "falling 1200 %/h", "until": "99.5%", "left": "about 5 h 45 min", "flow": "about 120000 L/h"},
        {"steady": "steady"},
    ),
    Reckons.FUEL: ({"left": "more than 240 h", "until": "15.5%"},),
    Reckons.COLD: ({"rule": "2 h above 4.4 C", "past": "past"}, {"rule": "48 h limit", "past": ""}),
    Reckons.CO: (
        {"level": "1234.5 ppm", "held": "less than 1 min", "must": "EN-50291"},
        {"level": "1234.5 ppm", "held": "240 min", "quiet": "UL-2034"},
        {"level": "29.95 ppm", "low": "30 ppm"},
    ),
    Reckons.DRIFT: (
        {"off": "about 19000000 m", "out": "1200 m/min"},
        {"off": "about 12 m", "still": "not moving off"},
        {"off": "about 12 m", "unknown": "too few fixes for a rate"},
    ),
    Reckons.DEW: ({"point": "about -10.5 C", "surface": "-12.25 C", "wet": "yes"}, {"point": "about 9.5 C"}),
    Reckons.FROST: ({"rate": "falling 12 C/h", "left": "about 5 h 45 min"}, {"frozen": "-12.25 C"}),
}


def aheads() -> st.SearchStrategy[Ahead]:
    kinds = [(kind, says) for kind, some in SAID.items() for says in some]
    found = st.sampled_from(kinds).flatmap(
        lambda one: st.builds(Ahead, sum=things, reckons=st.just(one[0]), says=st.just(one[1]), at=instants)
    )
    missing = st.sampled_from(("no fresh refrigeration running", "its pump has just begun to be watched"))
    return found | st.builds(Ahead, sum=things, reckons=st.sampled_from(Reckons), missing=missing)


banks = st.builds(
    BankAhead,
    charge=st.none() | st.just(Decimal(100)),
    limit=st.just(Decimal("50.5")),
    left=st.sampled_from(("", "less than 15 min", "about 5 h 45 min")),
    missing=st.sampled_from(("", "no fresh current, so nobody knows whether it rests")),
    by=st.sampled_from(("shunt", "volts at rest, flat")),
)
several_aheads = st.lists(aheads(), max_size=4).map(tuple)
situations = st.builds(
    Situation,
    bank=st.none() | banks,
    ahead=st.none() | aheads(),
    number=numbers,
    point=things,
    state=st.sampled_from(AlarmState),
    since=instants,
    measured=short,
    gone=st.none() | instants,
    times=st.integers(1, 200),
    received=st.none() | instants,
    found=flags,
    until=st.none() | later,
    worse=flags,
    offers=st.lists(short, max_size=3).map(tuple),
)
many = st.lists(situations, min_size=1, max_size=12, unique_by=lambda each: each.number).map(tuple)
boats = st.just("boat")
shared = st.sampled_from(Shared)
boat_or_none = st.sampled_from(("boat", ""))
actions = st.sampled_from(("start", "stop", "on", "off", "open", "close"))
words = st.text("abcdefghijklmnopqrstuvwxyz", min_size=4, max_size=7)
objections = st.builds(Objection, rule=st.sampled_from(Rule), says=st.text(max_size=200), cure=anything, measured=short)
request = {"person": ids, "boat": boats, "equipment": things, "action": actions}
alarm = {"person": ids, "boat": boats, "situation": situations}


@st.composite
def alarms_answers(draw: st.DrawFn) -> AlarmsAnswer:
    some = draw(many | st.just(()))
    holders = tuple(draw(st.none() | ids) for _ in some)
    key = draw(boat_or_none)
    return AlarmsAnswer(
        person=draw(ids), boat=key, situations=some, holders=holders, boats=() if key else ("boat", "gone")
    )


rounds = st.lists(
    st.builds(
        BoatInRound,
        boat=st.sampled_from(("boat", "gone")),
        situations=many | st.just(()),
        silent_since=st.none() | instants,
        heard=st.none() | instants,
    ),
    max_size=40,
).map(tuple)

fleets = st.lists(st.sampled_from(("boat", "gone")), min_size=2, max_size=30).map(tuple)
untils = st.none() | later


def of_duty(kind: type, **more: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A notice of duty for one boat, and for several."""
    one = st.builds(kind, person=ids, boat=boats, boats=st.just(("boat",)), **more)
    return one | st.builds(kind, person=ids, boat=st.just(""), boats=fleets, **more)


duties = st.builds(
    DutyOf, boats=st.just(("boat",)) | fleets, who=st.none() | ids, until=untils, following=st.none() | ids
)

DRAWN: dict[type, st.SearchStrategy[Any]] = {
    AlarmTold: st.builds(
        AlarmTold,
        person=ids,
        boat=boats,
        situations=many,
        others=st.lists(ids, max_size=4).map(tuple),
        again=flags,
        instead_of=st.none() | ids,
    ),
    AlarmTaken: st.builds(AlarmTaken, **alarm, holder=ids),
    AlarmGone: st.builds(AlarmGone, **alarm, latched=flags, holder=st.none() | ids),
    AlarmReset: st.builds(AlarmReset, **alarm, by=ids),
    SharedTold: st.builds(SharedTold, person=ids, kind=shared, name=anything, situations=many, again=flags),
    SharedGone: st.builds(SharedGone, person=ids, kind=shared, name=anything, situations=many),
    FloodTold: st.builds(FloodTold, person=ids, situations=many),
    GroupTaken: st.builds(GroupTaken, person=ids, holder=ids, situations=many, left=st.integers(0, 9999)),
    NotTaken: st.builds(NotTaken, **alarm, next_person=st.none() | ids, next_at=st.none() | later),
    AlarmAnswer: st.builds(
        AlarmAnswer,
        person=ids,
        boat=boat_or_none,
        cannot=st.sampled_from(Cannot),
        numbers=st.lists(numbers, max_size=60).map(tuple),
        situations=many | st.just(()),
        holder=st.none() | ids,
    ),
    VisitAnswer: st.builds(
        VisitAnswer,
        person=ids,
        boat=boats,
        begun=flags,
        since=st.none() | instants,
        elsewhere=boat_or_none,
        elsewhere_since=st.none() | instants,
    ),
    StatusOfAll: st.builds(StatusOfAll, person=ids, boats=rounds),
    StatusAnswer: st.builds(
        StatusAnswer,
        person=ids,
        boat=boats,
        situations=many | st.just(()),
        lines=st.lists(st.builds(StatusLine, signal=things, measured=short, age=st.none() | lengths), max_size=12).map(
            tuple
        ),
        silent_since=st.none() | instants,
        bank=st.none() | banks,
        ahead=several_aheads,
    ),
    ThingAnswer: st.builds(
        ThingAnswer,
        person=ids,
        boat=boats,
        about=short,
        equipment=st.none() | things,
        lines=st.lists(st.builds(StatusLine, signal=things, measured=short, age=st.none() | lengths), max_size=6).map(
            tuple
        ),
        situations=many | st.just(()),
        watched=flags,
        bank=st.none() | banks,
        ahead=several_aheads,
    ),
    AlarmsAnswer: alarms_answers(),
    PhrasesAnswer: st.builds(
        PhrasesAnswer, person=ids, boat=boat_or_none, phrases=st.lists(anything, max_size=20).map(tuple)
    )
    | st.builds(
        PhrasesAnswer,
        person=ids,
        boat=st.just(""),
        phrases=st.just(("alarms", "have it", "checked")),
        boats=st.just(("boat", "gone")),
        named=st.lists(anything, min_size=1, max_size=20).map(tuple),
    ),
    WhichBoat: st.builds(
        WhichBoat,
        person=ids,
        boats=st.lists(st.sampled_from(("boat", "gone")), max_size=30).map(tuple),
        example=anything,
    ),
    NotRead: st.builds(
        NotRead,
        person=ids,
        boat=boat_or_none,
        why=st.sampled_from(Why).map(lambda why: why.value),
        nearest=st.lists(anything, max_size=3).map(tuple),
        equipment=st.none() | things | st.just("one"),
    ),
    StrangerWrote: st.builds(StrangerWrote, person=ids, number=short, count=numbers, boat=boat_or_none),
    TrialText: st.builds(TrialText, person=ids, boat=boat_or_none),
    ReachableAgain: st.builds(ReachableAgain, person=ids, who=ids, boat=boat_or_none),
    UntoldMeanwhile: st.builds(
        UntoldMeanwhile, person=ids, numbers=st.lists(numbers, min_size=1, max_size=60).map(tuple), boat=boat_or_none
    ),
    CarrierStuck: st.builds(
        CarrierStuck,
        person=ids,
        who=ids,
        code=short,
        numbers=st.lists(numbers, min_size=1, max_size=60).map(tuple),
        boat=boat_or_none,
    ),
    OptOutSeen: st.builds(OptOutSeen, person=ids, who=ids, boat=boat_or_none),
    NotReached: st.builds(NotReached, person=ids, who=ids, code=short, boat=boat_or_none),
    LinkTrouble: st.builds(
        LinkTrouble, person=ids, link=anything, since=instants, memory_lost=flags, boat=boat_or_none
    ),
    ClientIdTwice: st.builds(ClientIdTwice, person=ids, link=anything, boat=boat_or_none),
    BlindTime: st.builds(
        BlindTime,
        person=ids,
        since=instants,
        until=instants,
        standing=st.lists(numbers, max_size=60).map(tuple),
        stops=st.integers(1, 2000),
        told_before=st.none() | instants,
        boat=boat_or_none,
    ),
    TimesBad: st.builds(TimesBad, person=ids, boat=boats, signals=st.lists(things, min_size=1, max_size=9).map(tuple)),
    SignalBad: st.builds(SignalBad, person=ids, boat=boats, signal=things, sample=anything, in_a_row=numbers),
    ClockDoubtful: st.builds(ClockDoubtful, person=ids, ahead=st.integers(-9 * DAY, 9 * DAY), boat=boat_or_none),
    BalanceLow: st.builds(
        BalanceLow, person=ids, carrier=anything, amount=anything, currency=anything, limit=anything, boat=boat_or_none
    ),
    RecordReplaced: st.builds(RecordReplaced, person=ids, boat=boat_or_none),
    StoreWasFull: st.builds(StoreWasFull, person=ids, since=instants, until=instants, boat=boat_or_none),
    CautionAndCode: st.builds(
        CautionAndCode,
        **request,
        words=st.tuples(words, words),
        expires=later,
        run=st.none() | st.integers(1, 24 * HOUR),
        until=st.none() | later,
        who=st.just("") | ids,
        line=st.none() | st.integers(1, 99),
    ),
    PaperRunsLow: st.builds(PaperRunsLow, person=ids, who=ids, left=st.integers(0, 3), boat=boat_or_none),
    WaitsForSecond: st.builds(WaitsForSecond, **request, who=ids, expires=later),
    SecondDidNot: st.builds(SecondDidNot, **request, who=ids, trouble=st.sampled_from(CodeTrouble)),
    NotDone: st.builds(
        NotDone,
        **request,
        objections=st.lists(objections, max_size=4).map(tuple),
        confirming=flags,
        voided=st.none() | things,
    ),
    Proved: st.builds(Proved, **request, measured=short, after=lengths, stops_at=st.none() | later, ended=flags),
    NotProved: st.builds(NotProved, **request, waited=lengths, measured=short, restarted=flags),
    NotSent: st.builds(NotSent, **request),
    CodeAnswer: st.builds(
        CodeAnswer,
        person=ids,
        trouble=st.sampled_from(CodeTrouble),
        boat=boat_or_none,
        equipment=st.none() | things,
        until=st.none() | later,
        age=st.none() | lengths,
        tries_left=st.none() | st.integers(0, 4),
        line=st.none() | st.integers(1, 99),
        wait=st.none() | st.integers(1, HOUR),
    ),
    CommandsLocked: st.builds(CommandsLocked, person=ids, who=ids, until=later, boat=boat_or_none, endless=flags),
    Dropped: st.builds(Dropped, **request),
    ProveFirst: st.builds(ProveFirst, **request, words=st.tuples(words, words), expires=later, silent=flags),
    PhoneLostTold: st.builds(
        PhoneLostTold, person=ids, who=ids, by=ids, installers=st.lists(ids, max_size=2).map(tuple)
    ),
    PhoneNotTaken: st.builds(
        PhoneNotTaken,
        person=ids,
        who=st.none() | ids,
        cannot=st.sampled_from(CannotReport),
        boat=boat_or_none,
        installers=st.lists(ids, max_size=2).map(tuple),
    ),
    NumberIsProved: st.builds(NumberIsProved, person=ids),
    AlarmAside: st.builds(AlarmAside, **alarm, by=st.none() | ids, because=anything),
    AlarmBack: st.builds(
        AlarmBack,
        **alarm,
        left=st.sampled_from((AlarmState.SHELVED, AlarmState.OUT_OF_SERVICE)),
        by=st.none() | ids,
        stands=flags,
    ),
    AsideRefused: st.builds(
        AsideRefused,
        **alarm,
        cannot=st.sampled_from(CannotAside),
        who=st.lists(ids, max_size=4).map(tuple),
        longest=lengths,
    ),
    ServiceReminder: st.builds(ServiceReminder, **alarm),
    HolderAsked: st.builds(HolderAsked, person=ids, boat=boats, situations=many, until=later),
    ProgressTold: st.builds(
        ProgressTold, person=ids, boat=boats, situations=many, holder=ids, where=st.sampled_from(Whereabouts)
    ),
    RoundTold: st.builds(RoundTold, person=ids, boats=rounds),
    WeeklyTold: st.builds(
        WeeklyTold, person=ids, boats=rounds, watched=st.integers(0, 40_000), practised=st.none() | instants
    ),
    DigestTold: st.builds(DigestTold, person=ids, situations=many),
    WelcomeTold: st.builds(WelcomeTold, person=ids, boats=st.lists(ids, max_size=8).map(tuple), who=st.none() | ids),
    HandedOver: st.builds(HandedOver, **alarm, holder=ids, before=ids),
    HandOverWanted: st.builds(
        HandOverWanted, **alarm, holder=ids, until=later, asked=st.lists(ids, max_size=40).map(tuple)
    ),
    DutyAnswer: st.builds(
        DutyAnswer, person=ids, boat=st.just(""), duties=st.lists(duties, min_size=1, max_size=20).map(tuple)
    ),
    DutyTold: of_duty(
        DutyTold, who=ids, until=untils, before=st.lists(ids, max_size=3, unique=True).map(tuple), asked=flags
    ),
    DutyWanted: of_duty(
        DutyWanted, who=ids, by=ids, until=untils, lapses=later, keeps=st.lists(ids, max_size=3, unique=True).map(tuple)
    ),
    DutyOver: of_duty(
        DutyOver,
        who=ids,
        following=st.none() | ids,
        at=instants,
        until=untils,
        open=st.lists(numbers, max_size=12).map(tuple),
    ),
    DutyUnchanged: of_duty(
        DutyUnchanged, cannot=st.sampled_from(CannotDuty), who=st.lists(ids, max_size=4, unique=True).map(tuple)
    ),
    QuietTold: st.builds(QuietTold, **alarm, until=later, others=st.lists(ids, max_size=4, unique=True).map(tuple)),
    QuietRefused: st.builds(QuietRefused, **alarm, cannot=st.sampled_from(CannotQuiet), longest=lengths),
    PracticeTold: st.builds(PracticeTold, person=ids, boat=boats, point=things, by=ids),
    PracticeBegun: st.builds(
        PracticeBegun,
        person=ids,
        boat=boats,
        point=things,
        first=st.lists(ids, max_size=4, unique=True).map(tuple),
        ends=later,
    ),
    PracticeEndTold: st.builds(
        PracticeEndTold,
        person=ids,
        boat=boats,
        point=things,
        because=st.sampled_from(PracticeEnd),
        by=st.none() | ids,
        lasted=lengths,
        told=st.lists(ids, max_size=4, unique=True).map(tuple),
        texts=st.none() | numbers,
        arrived=numbers,
    ),
    PracticeRefused: st.builds(
        PracticeRefused,
        person=ids,
        boat=boats,
        cannot=st.sampled_from(CannotPractise),
        words=anything,
        point=st.none() | things,
        number=numbers,
        because=anything,
        who=st.lists(ids, max_size=4, unique=True).map(tuple),
    ),
    NoteAnswer: st.builds(NoteAnswer, person=ids, boat=boat_or_none, number=st.none() | numbers),
    AttendanceTold: st.builds(
        AttendanceTold,
        person=ids,
        boat=boats,
        attendance=st.sampled_from(Attendance),
        by=st.none() | ids,
        before=st.sampled_from(Attendance),
        until=st.none() | later,
        quiet=st.integers(0, 99),
        occupied=flags,
    ),
    AttendanceAsk: st.builds(
        AttendanceAsk, person=ids, boat=boats, attendance=st.sampled_from(Attendance), until=later
    ),
    AttendanceRefused: st.builds(AttendanceRefused, person=ids, boat=boats, who=st.lists(ids, max_size=4).map(tuple)),
    PointToMend: st.builds(
        PointToMend,
        person=ids,
        boat=boats,
        point=things,
        fault=st.sampled_from(PointFault),
        has_limit=flags,
        number=st.none() | numbers,
    ),
    StopTrouble: st.builds(
        StopTrouble, **request, tries=st.integers(0, 10), held_by=st.none() | numbers, given_up=flags, unreachable=flags
    ),
}

few = settings(max_examples=tries(12), deadline=None, suppress_health_check=list(HealthCheck))


def test_every_notice_and_every_answer_is_drawn() -> None:
    assert set(DRAWN) == set(EVERY)


@pytest.mark.parametrize("language", ["en", *BOOKS])
@pytest.mark.parametrize("kind", some_of(EVERY, 4), ids=lambda kind: kind.__name__)
def test_whatever_the_names_a_text_is_one_part_and_no_wish_to_a_carrier(
    kind: type, language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fitting, "cut_at_end", too_long)

    @few
    @given(DRAWN[kind], scenes(anything, (language,)))
    def one_part(notice: Notice | Answer, scene: Scene) -> None:
        text = say(notice, scene)
        taken = septets(text)
        assert taken is not None
        assert 0 < taken <= 160
        assert parts(text) == 1
        assert not begins_with_carrier_word(text)

    one_part()


def too_long(pieces: object, room: int) -> str:
    raise AssertionError(f"even the shortest forms do not fit {room} septets: {pieces!r}")


def begins(name: str) -> str:
    """What a name keeps of itself however much it is cut, our choice being 12 septets: the first eight."""
    return " ".join(name.split())[:8].strip()


@pytest.mark.parametrize(
    "kind",
    some_of((kind for kind in EVERY if "boat" in kind.__annotations__ and kind is not WhichBoat), 4),
    ids=lambda k: k.__name__,
)
def test_however_long_the_names_the_boat_is_named_and_never_called_safe(kind: type) -> None:
    @few
    @given(DRAWN[kind], scenes(letters))
    def named(notice: Notice | Answer, scene: Scene) -> None:
        text = say(notice, scene)
        assert "safe" not in text.casefold()
        if notice.boat:
            boat = scene.boats["boat"]
            assert begins(boat.name) in text or begins(boat.short_name).upper() in text

    named()


@pytest.mark.parametrize("kind", [AlarmTold, AlarmTaken, AlarmGone, AlarmReset, NotTaken], ids=lambda k: k.__name__)
def test_however_long_the_names_the_alarm_is_named_with_its_number_and_reply(kind: type) -> None:
    @few
    @given(DRAWN[kind], scenes(letters))
    def numbered(notice: Any, scene: Scene) -> None:
        text = say(notice, scene)
        if isinstance(notice, AlarmTold):
            if len(notice.situations) == 1:
                assert f"HAVE IT {notice.situations[0].number}" in text
            assert "HAVE IT" in text
            for each in named_by(notice, scene):
                assert str(each) in text
        else:
            assert str(notice.situation.number) in text
        if isinstance(notice, NotTaken):
            assert f"HAVE IT {notice.situation.number}" in text
        elif kind is not AlarmTaken and (kind is not AlarmTold or len(notice.situations) == 1):
            each = notice.situations[0] if isinstance(notice, AlarmTold) else notice.situation
            point = scene.points.get(each.point)
            assert begins(point.name if point else "unknown").casefold() in text.casefold()

    numbered()


@few
@given(DRAWN[AlarmTaken], scenes(letters))
def test_whoever_takes_an_emergency_always_gets_the_number_to_call(notice: AlarmTaken, scene: Scene) -> None:
    point = scene.points.get(notice.situation.point)
    if notice.holder == notice.person and point and (point.concerns or point.priority is Priority.EMERGENCY):
        assert f"call {scene.boats['boat'].emergency_number}" in say(notice, scene)


@few
@given(DRAWN[CautionAndCode], scenes(letters))
def test_however_long_the_names_a_code_stands_in_full_with_its_expiry_and_an_engines_caution(
    notice: CautionAndCode, scene: Scene
) -> None:
    text = say(notice, scene)
    at = clock(scene, "boat", notice.person)
    asked = f"GO {notice.words[0].upper()} {notice.words[1].upper()}"
    if notice.line is None:
        assert f"{asked} by {at.at(notice.expires)}" in text
    else:
        assert f"{asked} {notice.line} " in text
        assert any(said in text.partition(asked)[2] for said in (f"line {notice.line}", "+ paper"))
        assert f" by {at.at(notice.expires)}" in text.partition(asked)[2]
    assert text.count("boat time") == (1 if at.mark(notice.expires, notice.until or notice.expires) else 0)
    equipment = scene.equipment.get(notice.equipment)
    if equipment and equipment.sort is Sort.ENGINE and notice.action == equipment.pair[0]:
        assert "CO KILLS" in text
    if equipment:
        assert begins(equipment.name).casefold() in text.casefold()


@few
@given(DRAWN[NotDone], scenes(letters))
def test_however_long_the_names_a_refusal_says_that_nothing_was_switched(notice: NotDone, scene: Scene) -> None:
    text = say(notice, scene)
    assert " NOT " in text
    assert text.endswith("Nothing was switched")
