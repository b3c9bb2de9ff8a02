"""The page with a text of every kind, made from the wording itself. ``python -m tests.documents.texts`` writes it anew.

Boats, people and their settings are those of the starter; the moment is a night in March, boat time UTC.
"""

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeAlias

from gateway.alarms.holding import Whereabouts
from gateway.alarms.life import AlarmState
from gateway.alarms.nuisance import PointFault
from gateway.alarms.settings import Attendance
from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down
from gateway.requests import answers, number_answers
from gateway.requests.answers import CodeTrouble, Objection, Rule
from gateway.requests.settings import Equipment, Sort
from gateway.telling import (
    aside_notices,
    duty_notices,
    holder_notices,
    notices,
    practice_notices,
    quiet_notices,
    regular_notices,
    trouble_notices,
)
from gateway.telling.notices import Cannot, StatusLine
from gateway.telling.practice import PracticeEnd
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339
from gateway.wording.alphabet import septets
from gateway.wording.say import say
from gateway.wording.scene import Scene
from grammar.meanings import Why

PAGE = Path(__file__).parents[2] / "gateway/wording/TEXTS.md"
NIGHT = from_rfc3339("2026-03-09T03:06:00Z")
INES, TOBIAS, RUTH, MARINA = "id-ines", "id-tobias", "id-ruth", "id-marina"
GREY, HARRIER, STINT = "grey-wagtail", "salt-harrier", "little-stint"
GENERATOR = f"{GREY}/generator"

Example: TypeAlias = tuple[str, "notices.Notice | answers.Answer"]

HEAD = """# Texts of every kind

One text of each kind as a phone shows it, for whoever wants to know beforehand what comes. Written by
`python -m tests.documents.texts` from the wording itself; a test fails when this page has grown old. Boats, people and
settings are the starter's. Each is one message of at most 160 characters of the alphabet that all phones share (3GPP TS
23.038); the number behind it is what it takes. Longer names shorten the parts that are worth least, never what keeps
somebody from harm.
"""


@cache
def starter() -> Bundle:
    """The whole starter, with fixed ids of persons."""
    with TemporaryDirectory() as folder:
        lay_down(Path(folder))
        return load(
            Path(folder),
            person_id=lambda key: f"id-{key}",
            environ={"HEAVINGLINE_CARRIER_TOKEN": "any"},
        ).bundle


GAS_VALVE = Equipment(
    id=f"{GREY}/gas-valve",
    boat=GREY,
    key="gas-valve",
    name="gas valve",
    spoken_names=("gas valve",),
    sort=Sort.GAS_VALVE,
    pair=("open", "close"),
    topic=f"{GREY}/command/gas-valve",
    feedback=f"{GREY}/gas-valve-open",
    count=f"{GREY}/gas-valve-count",
)
"""As in the standards of whole boats; the boats of the starter have none."""


def scene() -> Scene:
    """The night, and everything that has a name."""
    all_of = starter()
    return Scene(
        now=NIGHT,
        boats=all_of.boats,
        points=all_of.points,
        people=all_of.people,
        equipment={**all_of.equipment, GAS_VALVE.id: GAS_VALVE},
        signals=all_of.signals,
    )


def page() -> str:
    """The page as it should stand."""
    lines = [HEAD]
    for heading, examples in GROUPS:
        lines.append(f"## {heading}\n")
        lines += ["| when | text | takes |", "| --- | --- | --- |"]
        for when, notice in examples:
            words = say(notice, scene())
            lines.append(f"| {when} | {words.replace('|', chr(92) + '|')} | {septets(words)} |")
        lines.append("")
    return "\n".join(lines)


def _one(point: str, number: int, clock: str, measured: str = "", boat: str = GREY) -> Situation:
    since = from_rfc3339(f"2026-03-09T{clock}:00Z")
    state = AlarmState.UNACKNOWLEDGED
    return Situation(number=number, point=f"{boat}/{point}", state=state, since=since, measured=measured)


def _ago(length: Ms) -> Ms:
    return NIGHT - length


WATER = _one("bilge-high", 14, "03:04")
DRY = replace(WATER, gone=_ago(MINUTE), state=AlarmState.LATCHED_UNACKNOWLEDGED)
SHORE = _one("shore-lost", 15, "02:10")
SHORE_GONE = replace(SHORE, gone=_ago(MINUTE), state=AlarmState.GONE_UNACKNOWLEDGED)
LOW = _one("house-low", 17, "02:40", "11.9 V")
SILENT = _one("silent", 16, "02:54")
FUEL = _one("fuel-low", 18, "01:00", "14 %")
OF_GREY = {"person": INES, "boat": GREY}
OF_TOBIAS = {"person": TOBIAS, "boat": GREY}
ASKED = {"person": TOBIAS, "boat": GREY, "equipment": GENERATOR, "action": "start"}
SHELVED = replace(SHORE, state=AlarmState.SHELVED, until=NIGHT + 2 * HOUR)
OUT = replace(FUEL, state=AlarmState.OUT_OF_SERVICE, until=NIGHT + 3 * DAY)
MAST = tuple(_one("silent", 20 + place, "02:54", boat=boat) for place, boat in enumerate((GREY, HARRIER, STINT)))
FLOOD = (LOW, SHORE, FUEL, *MAST)
HOURS = Objection(
    rule=Rule.HOURS, says="Tarn Creek Marina office permits 08:00-20:00, it is 03:06", cure="Ask again from 08:00"
)
ROUND = (
    regular_notices.BoatInRound(
        boat=HARRIER, situations=(replace(LOW, point=f"{HARRIER}/house-low"),), silent_since=None, heard=_ago(MINUTE)
    ),
    regular_notices.BoatInRound(boat=STINT, situations=(), silent_since=_ago(86 * MINUTE), heard=_ago(86 * MINUTE)),
    regular_notices.BoatInRound(boat=GREY, situations=(OUT,), silent_since=None, heard=_ago(MINUTE)),
)

ALARMS: tuple[Example, ...] = (
    ("an emergency, first told", notices.AlarmTold(**OF_GREY, situations=(WATER,), others=(TOBIAS,))),
    ("nobody took it: again", notices.AlarmTold(**OF_GREY, situations=(WATER,), others=(TOBIAS,), again=True)),
    (
        "an alarm, to who stands in for somebody away",
        notices.AlarmTold(person=RUTH, boat=GREY, situations=(SHORE,), others=(INES,), instead_of=TOBIAS),
    ),
    (
        "who had it gives no word",
        notices.AlarmTold(
            **OF_GREY, situations=(replace(WATER, had_by=TOBIAS, last_word=_ago(12 * MINUTE)),), others=(TOBIAS,)
        ),
    ),
    ("fire", notices.AlarmTold(**OF_GREY, situations=(_one("fire", 19, "03:05"),), others=(TOBIAS,))),
    ("carbon monoxide", notices.AlarmTold(**OF_GREY, situations=(_one("co", 19, "03:05"),), others=(TOBIAS,))),
    ("gas", notices.AlarmTold(**OF_GREY, situations=(_one("gas", 19, "03:05"),), others=(TOBIAS,))),
    ("a warning", notices.AlarmTold(**OF_TOBIAS, situations=(SHORE,), others=(INES,))),
    ("a warning with its value", notices.AlarmTold(**OF_TOBIAS, situations=(LOW,), others=())),
    (
        "worse: a warning that nobody took",
        notices.AlarmTold(**OF_TOBIAS, situations=(replace(LOW, worse=True),), others=(INES,)),
    ),
    ("no data comes", notices.AlarmTold(**OF_TOBIAS, situations=(SILENT,), others=(INES,))),
    ("several of one boat", notices.AlarmTold(**OF_TOBIAS, situations=(SHORE, LOW, FUEL), others=(INES,))),
    (
        "one matter of several boats",
        notices.SharedTold(person=TOBIAS, kind="link", name="Tarn Creek mast", situations=MAST),
    ),
    (
        "that matter is over",
        notices.SharedGone(
            person=TOBIAS,
            kind="link",
            name="Tarn Creek mast",
            situations=tuple(replace(one, gone=NIGHT, state=AlarmState.GONE_UNACKNOWLEDGED) for one in MAST),
        ),
    ),
    ("a flood of alarms", notices.FloodTold(person=TOBIAS, situations=FLOOD)),
    ("gone by itself", notices.AlarmGone(**OF_GREY, situation=SHORE_GONE, latched=False, holder=None)),
    (
        "all clear of what somebody had",
        notices.AlarmGone(
            **OF_GREY, situation=replace(SHORE_GONE, state=AlarmState.NORMAL), latched=False, holder=TOBIAS
        ),
    ),
    ("latched and dry again", notices.AlarmGone(**OF_TOBIAS, situation=DRY, latched=True, holder=TOBIAS)),
    ("the same while nobody has it", notices.AlarmGone(**OF_GREY, situation=DRY, latched=True, holder=None)),
    ("somebody has looked", notices.AlarmReset(**OF_GREY, situation=DRY, by=TOBIAS)),
)

HOLDING: tuple[Example, ...] = (
    ("have it 14: to who takes it", notices.AlarmTaken(**OF_TOBIAS, situation=WATER, holder=TOBIAS)),
    ("have it 14: to the others, once", notices.AlarmTaken(**OF_GREY, situation=WATER, holder=TOBIAS)),
    ("have it to several", notices.GroupTaken(person=TOBIAS, holder=TOBIAS, situations=(SHORE, LOW), left=1)),
    ("ok: takes nothing", notices.NotTaken(**OF_TOBIAS, situation=WATER, next_person=INES, next_at=NIGHT + MINUTE)),
    ("somebody else has it", notices.AlarmAnswer(**OF_GREY, cannot=Cannot.HELD_BY_OTHER, numbers=(14,), holder=TOBIAS)),
    (
        "several could be meant",
        notices.AlarmAnswer(**OF_TOBIAS, cannot=Cannot.WHICH, numbers=(14, 15), situations=(WATER, SHORE)),
    ),
    ("checked, while it still holds", notices.AlarmAnswer(**OF_TOBIAS, cannot=Cannot.STILL_ACTIVE, numbers=(14,))),
    (
        "at boat 14: to who is there",
        holder_notices.ProgressTold(**OF_TOBIAS, situations=(WATER,), holder=TOBIAS, where=Whereabouts.AT_BOAT),
    ),
    (
        "at boat 14, while somebody else has it",
        notices.AlarmAnswer(**OF_GREY, cannot=Cannot.HELD_BY_OTHER, numbers=(14,), holder=TOBIAS, aboard=True),
    ),
    (
        "at boat 14: to the others, once",
        holder_notices.ProgressTold(**OF_GREY, situations=(WATER,), holder=TOBIAS, where=Whereabouts.AT_BOAT),
    ),
    (
        "ashore 14",
        holder_notices.ProgressTold(**OF_TOBIAS, situations=(WATER,), holder=TOBIAS, where=Whereabouts.ASHORE),
    ),
    ("no word of who has it", aside_notices.HolderAsked(**OF_TOBIAS, situations=(WATER,), until=NIGHT + 3 * MINUTE)),
    (
        "take over 14: to who had it",
        holder_notices.HandedOver(**OF_TOBIAS, situation=WATER, holder=INES, before=TOBIAS),
    ),
    (
        "hand over 14: to the others",
        holder_notices.HandOverWanted(
            **OF_GREY, situation=WATER, holder=TOBIAS, until=NIGHT + 10 * MINUTE, asked=(INES, MARINA)
        ),
    ),
    (
        "hand over 14: to who asks",
        holder_notices.HandOverWanted(
            **OF_TOBIAS, situation=WATER, holder=TOBIAS, until=NIGHT + 10 * MINUTE, asked=(INES, MARINA)
        ),
    ),
    (
        "quiet 15 for 2 h",
        quiet_notices.QuietTold(**OF_GREY, situation=SHORE, until=NIGHT + 2 * HOUR, others=(TOBIAS,)),
    ),
    *(
        (
            f"quiet 15 refused: {cannot}",
            quiet_notices.QuietRefused(**OF_GREY, situation=SHORE, cannot=cannot, longest=8 * HOUR),
        )
        for cannot in quiet_notices.CannotQuiet
    ),
    (
        "practice house bank low: as it is called out",
        practice_notices.PracticeTold(**OF_TOBIAS, point=f"{GREY}/house-low", by=RUTH),
    ),
    (
        "practice house bank low: to whoever set it off",
        practice_notices.PracticeBegun(
            person=RUTH, boat=GREY, point=f"{GREY}/house-low", first=(TOBIAS,), ends=NIGHT + 18 * MINUTE
        ),
    ),
    (
        "practice is over: to who was told",
        practice_notices.PracticeEndTold(
            **OF_TOBIAS,
            point=f"{GREY}/house-low",
            because=PracticeEnd.TRUE_ALARM,
            by=None,
            lasted=2 * MINUTE,
            told=(TOBIAS,),
        ),
    ),
    *(
        (
            f"practice is over, {because}: to whoever set it off",
            practice_notices.PracticeEndTold(
                person=RUTH,
                boat=GREY,
                point=f"{GREY}/house-low",
                because=because,
                by=TOBIAS if because in (PracticeEnd.TAKEN, PracticeEnd.SAID) else None,
                lasted=2 * MINUTE,
                told=(TOBIAS, INES),
                texts=2,
                arrived=1,
            ),
        )
        for because in PracticeEnd
    ),
    *(
        (
            f"no practice, {cannot}",
            practice_notices.PracticeRefused(
                **OF_TOBIAS,
                cannot=cannot,
                words="house bank lo",
                point=f"{GREY}/house-low",
                number=14,
                because="the boat is kept aboard",
                who=(RUTH, INES),
            ),
        )
        for cannot in practice_notices.CannotPractise
    ),
    ("note 14 ...", holder_notices.NoteAnswer(**OF_TOBIAS, number=14)),
)

SUNDAY = from_rfc3339("2026-03-16T00:00:00Z")
ON_DUTY = {"boats": (GREY,), "until": SUNDAY}
DUTY: tuple[Example, ...] = (
    (
        "duty until Sunday is over: to who had it",
        duty_notices.DutyOver(
            person=INES, boat=GREY, boats=(GREY,), who=INES, following=TOBIAS, at=NIGHT - 186 * MINUTE
        ),
    ),
    (
        "duty until Sunday is over: to who follows",
        duty_notices.DutyOver(
            **OF_TOBIAS,
            boats=(GREY,),
            who=INES,
            following=TOBIAS,
            at=NIGHT - 186 * MINUTE,
            until=SUNDAY,
            open=(14, 15),
        ),
    ),
    (
        "who is on duty",
        duty_notices.DutyAnswer(
            **OF_GREY, duties=(duty_notices.DutyOf(boats=(GREY,), who=TOBIAS, until=SUNDAY, following=RUTH),)
        ),
    ),
    (
        "who is on duty, of several boats",
        duty_notices.DutyAnswer(
            person=TOBIAS,
            boat="",
            duties=(
                duty_notices.DutyOf(boats=(GREY, HARRIER), who=TOBIAS, until=SUNDAY),
                duty_notices.DutyOf(boats=(STINT,), who=RUTH, until=NIGHT + 12 * HOUR),
            ),
        ),
    ),
    ("who is on duty, where no list tells them", duty_notices.DutyAnswer(**OF_GREY, duties=())),
    (
        "who is on duty, of several boats without a list",
        duty_notices.DutyAnswer(person=TOBIAS, boat="", duties=()),
    ),
    ("duty me", duty_notices.DutyTold(**OF_TOBIAS, **ON_DUTY, who=TOBIAS, before=(INES,))),
    ("duty me: to who had it", duty_notices.DutyTold(**OF_GREY, **ON_DUTY, who=TOBIAS, before=(INES,))),
    (
        "duty Tobias until Sunday: to him",
        duty_notices.DutyWanted(**OF_TOBIAS, **ON_DUTY, who=TOBIAS, by=INES, lapses=NIGHT + 4 * HOUR, keeps=(INES,)),
    ),
    (
        "duty Tobias until Sunday: to who asks",
        duty_notices.DutyWanted(**OF_GREY, **ON_DUTY, who=TOBIAS, by=INES, lapses=NIGHT + 4 * HOUR, keeps=(INES,)),
    ),
    *(
        (
            f"nothing changed: {cannot}",
            duty_notices.DutyUnchanged(**OF_GREY, boats=(GREY,), cannot=cannot, who=(TOBIAS, RUTH)),
        )
        for cannot in duty_notices.CannotDuty
    ),
)

REGULAR: tuple[Example, ...] = (
    ("to a new person", regular_notices.WelcomeTold(person=TOBIAS, boats=(GREY, HARRIER, STINT), who=RUTH)),
    ("the morning round", regular_notices.RoundTold(person=TOBIAS, boats=ROUND)),
    (
        "the weekly word",
        regular_notices.WeeklyTold(
            person=INES, boats=(replace(ROUND[2], situations=()),), watched=18, practised=NIGHT - 20 * DAY
        ),
    ),
    (
        "the digest of cautions",
        regular_notices.DigestTold(
            person=TOBIAS, situations=(FUEL, replace(FUEL, number=23, point=f"{GREY}/hatch-open", gone=NIGHT))
        ),
    ),
)

ASIDE: tuple[Example, ...] = (
    ("shelved", aside_notices.AlarmAside(**OF_GREY, situation=SHELVED, by=RUTH)),
    ("out of service", aside_notices.AlarmAside(**OF_GREY, situation=OUT, by=RUTH, because="new sender fitted")),
    ("back", aside_notices.AlarmBack(**OF_GREY, situation=SHORE, left=AlarmState.SHELVED, by=None, stands=True)),
    (
        "not put aside",
        aside_notices.AsideRefused(**OF_TOBIAS, situation=WATER, cannot=aside_notices.CannotAside.EMERGENCY),
    ),
    ("the day before its return", aside_notices.ServiceReminder(person=RUTH, boat=GREY, situation=OUT)),
    (
        "how the boat is kept",
        aside_notices.AttendanceTold(
            **OF_GREY, attendance=Attendance.ABOARD, by=INES, before=Attendance.AWAY, until=NIGHT + DAY, quiet=2
        ),
    ),
    (
        "still in the yard?",
        aside_notices.AttendanceAsk(**OF_GREY, attendance=Attendance.IN_THE_YARD, until=NIGHT + DAY),
    ),
    ("who may not say so", aside_notices.AttendanceRefused(person=MARINA, boat=GREY, who=(INES, TOBIAS))),
    (
        "a point to mend",
        aside_notices.PointToMend(
            person=RUTH, boat=GREY, point=f"{GREY}/shore-lost", fault=PointFault.CHATTERING, has_limit=False, number=15
        ),
    ),
)

SWITCHING: tuple[Example, ...] = (
    (
        "asked back, with the code",
        answers.CautionAndCode(**ASKED, words=("teapot", "marble"), expires=NIGHT + 10 * MINUTE, run=2 * HOUR),
    ),
    (
        "asked of the second person",
        answers.CautionAndCode(
            **ASKED | {"person": INES},
            words=("series", "roadway"),
            expires=NIGHT + 12 * MINUTE,
            run=2 * HOUR,
            who=TOBIAS,
        ),
    ),
    (
        "asked back, with the code and a line from paper",
        answers.CautionAndCode(**ASKED, words=("teapot", "marble"), expires=NIGHT + 10 * MINUTE, run=2 * HOUR, line=7),
    ),
    (
        "words too soon after wrong ones",
        answers.CodeAnswer(
            person=ASKED["person"],
            boat=GREY,
            equipment=ASKED["equipment"],
            trouble=CodeTrouble.WAITS,
            wait=24 * SECOND,
        ),
    ),
    (
        "the code without the line from paper",
        answers.CodeAnswer(
            person=ASKED["person"],
            boat=GREY,
            equipment=ASKED["equipment"],
            trouble=CodeTrouble.LINE_MISSING,
            line=7,
            until=NIGHT + 10 * MINUTE,
        ),
    ),
    (
        "a line from paper that is used",
        answers.CodeAnswer(
            person=ASKED["person"],
            boat=GREY,
            equipment=ASKED["equipment"],
            trouble=CodeTrouble.LINE_USED,
            line=8,
            until=NIGHT + 10 * MINUTE,
        ),
    ),
    ("a paper list runs low", number_answers.PaperRunsLow(person=TOBIAS, who=TOBIAS, left=3, boat=GREY)),
    ("the same to the installer", number_answers.PaperRunsLow(person=RUTH, who=TOBIAS, left=0)),
    ("the second person is asked", answers.WaitsForSecond(**ASKED, who=INES, expires=NIGHT + 12 * MINUTE)),
    ("the second person gave no word", answers.SecondDidNot(**ASKED, who=INES, trouble=CodeTrouble.EXPIRED)),
    ("refused", answers.NotDone(**ASKED, objections=(HOURS,), confirming=False)),
    (
        "refused, and an older code is void",
        answers.NotDone(**ASKED, objections=(HOURS,), confirming=False, voided=ASKED["equipment"]),
    ),
    ("done, as measured", answers.Proved(**ASKED, measured="231 V", after=14 * SECOND, stops_at=NIGHT + 2 * HOUR)),
    ("no proof seen", answers.NotProved(**ASKED, waited=60 * SECOND, measured="on, 0 V")),
    ("not sent", answers.NotSent(**ASKED)),
    ("withdrawn", answers.Dropped(**ASKED)),
    (
        "a number to be proved",
        number_answers.ProveFirst(**ASKED, words=("teapot", "marble"), expires=NIGHT + 10 * MINUTE),
    ),
    (
        "the same after a long silence",
        number_answers.ProveFirst(**ASKED, words=("teapot", "marble"), expires=NIGHT + 10 * MINUTE, silent=True),
    ),
    (
        "a phone is reported lost, to whoever said so",
        number_answers.PhoneLostTold(person=INES, who=TOBIAS, by=INES, installers=(RUTH,)),
    ),
    ("the same to the phone", number_answers.PhoneLostTold(person=TOBIAS, who=TOBIAS, by=INES, installers=(RUTH,))),
    (
        "the last who may command stays",
        number_answers.PhoneNotTaken(
            person=TOBIAS, who=INES, cannot=number_answers.CannotReport.LAST, boat=GREY, installers=(RUTH,)
        ),
    ),
    ("a number is proved", number_answers.NumberIsProved(person=TOBIAS)),
    (
        "a wrong code",
        answers.CodeAnswer(
            person=TOBIAS, boat=GREY, trouble=CodeTrouble.WRONG, equipment=GENERATOR, tries_left=2, wait=30 * SECOND
        ),
    ),
    ("commands locked", number_answers.CommandsLocked(**OF_GREY, who=TOBIAS, until=NIGHT + 30 * MINUTE)),
    (
        "a stop that is due and not proved",
        answers.StopTrouble(person=TOBIAS, boat=GREY, equipment=GENERATOR, action="stop", tries=3),
    ),
)

QUESTIONS: tuple[Example, ...] = (
    (
        "status",
        notices.StatusAnswer(
            **OF_TOBIAS,
            situations=(SHORE,),
            lines=(
                StatusLine(signal=f"{GREY}/house-volts", measured="12.4 V", age=None),
                StatusLine(signal=f"{GREY}/shore", measured="off", age=5 * MINUTE),
            ),
        ),
    ),
    (
        "status generator",
        notices.ThingAnswer(
            **OF_TOBIAS,
            about="generator",
            equipment=GENERATOR,
            lines=(StatusLine(signal=f"{GREY}/generator-running", measured="off", age=20 * SECOND),),
            situations=(),
            watched=False,
        ),
    ),
    ("status, to whoever has several boats", notices.StatusOfAll(person=TOBIAS, boats=ROUND)),
    ("alarms", notices.AlarmsAnswer(**OF_TOBIAS, situations=(WATER, SHORE), holders=(TOBIAS, None))),
    (
        "phrases",
        notices.PhrasesAnswer(
            **OF_TOBIAS,
            phrases=(
                "status",
                "alarms",
                "have it",
                "checked",
                "visit",
                "visit over",
                "at boat",
                "ashore",
                "generator start",
            ),
        ),
    ),
    ("visit", notices.VisitAnswer(**OF_TOBIAS, begun=True)),
    ("visit over", notices.VisitAnswer(**OF_TOBIAS, begun=False, since=_ago(HOUR))),
    ("which boat?", notices.WhichBoat(person=TOBIAS, boats=(GREY, HARRIER, STINT), example="grey wagtail status")),
    (
        "not understood",
        notices.NotRead(**OF_TOBIAS, why=str(Why.NOT_A_PHRASE), nearest=("generator start", "generator stop")),
    ),
    (
        "a gas valve is to be opened",
        notices.NotRead(**OF_TOBIAS, why=str(Why.AT_THE_BOAT_ONLY), nearest=(), equipment="gas-valve"),
    ),
    (
        "several alarms in one text",
        notices.NotRead(**OF_TOBIAS, why=str(Why.SEVERAL_ALARMS), nearest=("have it 4", "have it 5")),
    ),
    ("half a code", notices.NotRead(**OF_TOBIAS, why=str(Why.HALF_A_CODE), nearest=())),
    ("words of a code without GO", notices.NotRead(**OF_TOBIAS, why=str(Why.CODE_ALONE), nearest=())),
    ("words of a proof without PROVE", notices.NotRead(**OF_TOBIAS, why=str(Why.PROOF_ALONE), nearest=())),
    ("a lost phone of nobody", notices.NotRead(**OF_TOBIAS, why=str(Why.WHOSE_PHONE), nearest=())),
    ("a time that is none", notices.NotRead(**OF_TOBIAS, why=str(Why.BAD_TIME), nearest=())),
)

TROUBLE: tuple[Example, ...] = (
    (
        "the gateway did not run",
        trouble_notices.BlindTime(person=INES, since=_ago(30 * MINUTE), until=NIGHT, standing=(14,)),
    ),
    (
        "a link is down",
        trouble_notices.LinkTrouble(person=RUTH, link="broker:quay", since=_ago(12 * MINUTE), memory_lost=False),
    ),
    ("two clients with one id", trouble_notices.ClientIdTwice(person=RUTH, link="broker:quay")),
    (
        "a signal that cannot be read",
        trouble_notices.SignalBad(person=RUTH, boat=GREY, signal=f"{GREY}/house-volts", sample="---", in_a_row=20),
    ),
    ("times that cannot be read", trouble_notices.TimesBad(person=RUTH, boat=GREY, signals=(f"{GREY}/house-volts",))),
    ("the clock is in doubt", trouble_notices.ClockDoubtful(person=RUTH, ahead=4 * MINUTE)),
    (
        "the account with the carrier runs empty",
        trouble_notices.BalanceLow(person=RUTH, carrier="main", amount="8.40", currency="GBP", limit="20"),
    ),
    ("the record could not be kept", trouble_notices.StoreWasFull(person=RUTH, since=_ago(HOUR), until=_ago(MINUTE))),
    ("the record was damaged", trouble_notices.RecordReplaced(person=RUTH)),
    ("a text was refused", trouble_notices.NotReached(person=RUTH, who=TOBIAS, code="30003")),
    (
        "an alarm's text does not go (by mail)",
        trouble_notices.CarrierStuck(person=RUTH, who=TOBIAS, code="timeout", numbers=(14,), boat=GREY),
    ),
    ("alarms that could not be told", trouble_notices.UntoldMeanwhile(person=TOBIAS, numbers=(14, 15))),
    ("a phone has opted out", trouble_notices.OptOutSeen(person=RUTH, who=TOBIAS)),
    ("it has opted in again", trouble_notices.TrialText(person=TOBIAS)),
    ("and texts arrive there", trouble_notices.ReachableAgain(person=RUTH, who=TOBIAS)),
    ("strangers wrote in the night", trouble_notices.StrangerWrote(person=RUTH, number="", count=3)),
    ("strangers wrote", trouble_notices.StrangerWrote(person=RUTH, number="+44 7700 900***", count=2)),
)

GROUPS: tuple[tuple[str, tuple[Example, ...]], ...] = (
    ("Alarms", ALARMS),
    ("Who has it", HOLDING),
    ("Who is on duty", DUTY),
    ("Regular words, if wished", REGULAR),
    ("Put aside, and how the boat is kept", ASIDE),
    ("Switching", SWITCHING),
    ("Questions", QUESTIONS),
    ("Trouble of the gateway itself", TROUBLE),
)

if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
