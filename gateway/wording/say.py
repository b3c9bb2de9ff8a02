"""Every notice and every answer into one text of one part. The only place where words are made.

A text is at most 160 septets of the 7-bit alphabet (3GPP TS 23.038, 23.040), whatever the names are.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, TypeAlias

from gateway.requests.answers import (
    Answer,
    CautionAndCode,
    CodeAnswer,
    Dropped,
    NotDone,
    NotProved,
    NotSent,
    Proved,
    SecondDidNot,
    StopTrouble,
    WaitsForSecond,
)
from gateway.requests.number_answers import (
    CommandsLocked,
    NumberIsProved,
    PaperRunsLow,
    PhoneLostTold,
    PhoneNotTaken,
    ProveFirst,
)
from gateway.telling.aside_notices import (
    AlarmAside,
    AlarmBack,
    AsideRefused,
    AttendanceAsk,
    AttendanceRefused,
    AttendanceTold,
    HolderAsked,
    PointToMend,
    ServiceReminder,
)
from gateway.telling.call import (
    FLOOD_TOLD,
    PRACTICE_RUNG,
    PRACTICE_TOLD,
    SHARED_GONE,
    SHARED_TOLD,
    TRIAL_TEXT,
    UNTOLD,
    WELCOME,
)
from gateway.telling.duty_notices import DutyAnswer, DutyOver, DutyTold, DutyUnchanged, DutyWanted
from gateway.telling.holder_notices import HandedOver, HandOverWanted, NoteAnswer, ProgressTold
from gateway.telling.notices import (
    AlarmAnswer,
    AlarmGone,
    AlarmReset,
    AlarmRung,
    AlarmsAnswer,
    AlarmTaken,
    AlarmTold,
    FloodTold,
    GroupTaken,
    Notice,
    NotRead,
    NotTaken,
    PhrasesAnswer,
    SharedGone,
    SharedTold,
    StatusAnswer,
    StatusOfAll,
    ThingAnswer,
    VisitAnswer,
    WhichBoat,
)
from gateway.telling.pacing import NOT_READ
from gateway.telling.practice_notices import (
    PracticeBegun,
    PracticeEndTold,
    PracticeRefused,
    PracticeRung,
    PracticeTold,
)
from gateway.telling.quiet_notices import QuietRefused, QuietTold
from gateway.telling.regular_notices import DigestTold, RoundTold, WeeklyTold, WelcomeTold
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
from gateway.wording import (
    alarm_ends,
    alarm_replies,
    alarm_texts,
    aside_texts,
    authority_texts,
    duty_texts,
    group_texts,
    holder_texts,
    not_read_texts,
    overview_texts,
    practice_texts,
    quiet_texts,
    reach_texts,
    regular_texts,
    request_texts,
    result_texts,
    spoken,
    thing_texts,
    trouble_texts,
)
from gateway.wording.alphabet import plain
from gateway.wording.phrasebook import speaking
from gateway.wording.scene import Scene

WORDINGS: Mapping[type, tuple[str, Callable[[Any, Scene], str]]] = {
    AlarmTold: ("alarm told", alarm_texts.alarm_told),
    SharedTold: (SHARED_TOLD, group_texts.shared_told),
    SharedGone: (SHARED_GONE, group_texts.shared_gone),
    FloodTold: (FLOOD_TOLD, group_texts.flood_told),
    GroupTaken: ("group taken", group_texts.group_taken),
    AlarmTaken: ("alarm taken", alarm_ends.alarm_taken),
    AlarmGone: ("alarm gone", alarm_ends.alarm_gone),
    AlarmReset: ("alarm reset", alarm_ends.alarm_reset),
    NotTaken: ("not taken", alarm_replies.not_taken),
    AlarmAnswer: ("alarm answer", alarm_replies.alarm_answer),
    VisitAnswer: ("visit noted", alarm_replies.visit_answer),
    WhichBoat: ("which boat", alarm_replies.which_boat),
    NotRead: (NOT_READ, not_read_texts.not_read),
    StatusAnswer: ("status", overview_texts.status_answer),
    StatusOfAll: ("status of all boats", regular_texts.status_of_all),
    ThingAnswer: ("thing asked after", thing_texts.thing_answer),
    AlarmsAnswer: ("alarms", overview_texts.alarms_answer),
    PhrasesAnswer: ("phrases", overview_texts.phrases_answer),
    AlarmAside: ("put aside", aside_texts.alarm_aside),
    AlarmBack: ("brought back", aside_texts.alarm_back),
    AsideRefused: ("not put aside", aside_texts.aside_refused),
    ServiceReminder: ("service reminder", aside_texts.service_reminder),
    HolderAsked: ("holder asked", aside_texts.holder_asked),
    AttendanceTold: ("attendance", aside_texts.attendance_told),
    AttendanceAsk: ("attendance asked", aside_texts.attendance_ask),
    AttendanceRefused: ("attendance refused", aside_texts.attendance_refused),
    PointToMend: ("point to mend", aside_texts.point_to_mend),
    RoundTold: ("round", regular_texts.round_told),
    WeeklyTold: ("weekly", regular_texts.weekly_told),
    DigestTold: ("digest", regular_texts.digest_told),
    WelcomeTold: (WELCOME, regular_texts.welcome_told),
    ProgressTold: ("progress", holder_texts.progress_told),
    HandedOver: ("handed over", holder_texts.handed_over),
    HandOverWanted: ("hand-over wanted", holder_texts.hand_over_wanted),
    DutyAnswer: ("who is on duty", duty_texts.duty_answer),
    DutyTold: ("duty told", duty_texts.duty_told),
    DutyWanted: ("duty wanted", duty_texts.duty_wanted),
    DutyOver: ("duty over", duty_texts.duty_over),
    DutyUnchanged: ("duty unchanged", duty_texts.duty_unchanged),
    QuietTold: ("no reminders", quiet_texts.quiet_told),
    QuietRefused: ("reminders go on", quiet_texts.quiet_refused),
    PracticeTold: (PRACTICE_TOLD, practice_texts.practice_told),
    PracticeBegun: ("practice begun", practice_texts.practice_begun),
    PracticeEndTold: ("practice over", practice_texts.practice_end_told),
    PracticeRefused: ("no practice", practice_texts.practice_refused),
    NoteAnswer: ("note kept", holder_texts.note_answer),
    StrangerWrote: ("stranger wrote", trouble_texts.stranger_wrote),
    OptOutSeen: ("opt-out seen", reach_texts.opt_out_seen),
    TrialText: (TRIAL_TEXT, reach_texts.trial_text),
    ReachableAgain: ("reachable again", reach_texts.reachable_again),
    UntoldMeanwhile: (UNTOLD, reach_texts.untold_meanwhile),
    CarrierStuck: ("carrier stuck", reach_texts.carrier_stuck),
    NotReached: ("not reached", reach_texts.not_reached),
    LinkTrouble: ("link trouble", trouble_texts.link_trouble),
    ClientIdTwice: ("client id twice", trouble_texts.client_id_twice),
    BlindTime: ("blind time", trouble_texts.blind_time),
    SignalBad: ("signal bad", trouble_texts.signal_bad),
    TimesBad: ("times bad", trouble_texts.times_bad),
    BalanceLow: ("balance low", trouble_texts.balance_low),
    ClockDoubtful: ("clock doubtful", trouble_texts.clock_doubtful),
    StoreWasFull: ("store was full", trouble_texts.store_was_full),
    RecordReplaced: ("record replaced", trouble_texts.record_replaced),
    CautionAndCode: ("code asked", request_texts.caution_and_code),
    PhoneLostTold: ("phone lost", authority_texts.phone_lost_told),
    PhoneNotTaken: ("phone not taken", authority_texts.phone_not_taken),
    ProveFirst: ("proof asked", authority_texts.prove_first),
    NumberIsProved: ("number proved", authority_texts.number_is_proved),
    WaitsForSecond: ("second person awaited", request_texts.waits_for_second),
    PaperRunsLow: ("paper list runs low", request_texts.paper_runs_low),
    SecondDidNot: ("second person did not", request_texts.second_did_not),
    NotDone: ("refused", request_texts.not_done),
    Dropped: ("withdrawn", request_texts.dropped),
    CodeAnswer: ("code answered", request_texts.code_answer),
    Proved: ("proved", result_texts.proved),
    NotProved: ("not proved", result_texts.not_proved),
    NotSent: ("not sent", result_texts.not_sent),
    StopTrouble: ("stop trouble", result_texts.stop_trouble),
    CommandsLocked: ("commands locked", trouble_texts.commands_locked),
}
"""What each kind is called in the logbook, and how it is put into words."""


Spoken: TypeAlias = AlarmRung | PracticeRung
"""What is spoken in a call."""

SPOKEN: Mapping[type, tuple[str, Callable[[Any, Scene], str]]] = {
    AlarmRung: ("alarm called", spoken.alarm_rung),
    PracticeRung: (PRACTICE_RUNG, spoken.practice_rung),
}
"""The same of what is spoken in a call, which is no text and has no length to keep to."""


def say(notice: Notice | Answer, scene: Scene) -> str:
    """The text for one notice or answer: one part, at most 160 septets, in the 7-bit alphabet. Times are boat time."""
    reader = scene.people.get(notice.person)
    own = replace(scene, language=reader.language) if reader is not None else scene
    with speaking(own.language):
        return plain(WORDINGS[type(notice)][1](notice, own))


def say_aloud(notice: Spoken, scene: Scene) -> str:
    """What is spoken in a call."""
    return SPOKEN[type(notice)][1](notice, scene)


def kind_of(notice: Notice | Answer | Spoken) -> str:
    """Our plain short name of the kind of text, or call, for the logbook ("alarm told")."""
    return (WORDINGS if type(notice) in WORDINGS else SPOKEN)[type(notice)][0]
