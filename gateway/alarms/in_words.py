"""The states and events of an alarm in an installer's words, for the manual page that is made from the table."""

from collections.abc import Mapping

from gateway.alarms.life import AlarmEvent, AlarmState

S, E = AlarmState, AlarmEvent

MEANS: Mapping[AlarmState, str] = {
    S.NORMAL: "nothing is wrong, or nothing is left to do",
    S.UNACKNOWLEDGED: "the condition holds and nobody has said that he has it",
    S.ACKNOWLEDGED: "the condition holds and somebody has it",
    S.GONE_UNACKNOWLEDGED: "it went by itself before anybody had it",
    S.LATCHED_UNACKNOWLEDGED: "it went, must be looked at, and nobody has it",
    S.LATCHED_ACKNOWLEDGED: "it went, somebody has it and has yet to look",
    S.SHELVED: "put aside by a person for a time",
    S.SUPPRESSED: "hidden by another alarm that stands",
    S.OUT_OF_SERVICE: "its sensor is being worked on, until a day",
}

TOLD: Mapping[AlarmState, str] = {
    S.NORMAL: "those who were told hear once that it is over",
    S.UNACKNOWLEDGED: "the call-out list, round by round, until somebody has it",
    S.ACKNOWLEDGED: "the others hear once who has it; the holder is asked again where the files say so",
    S.GONE_UNACKNOWLEDGED: "those who were told, once",
    S.LATCHED_UNACKNOWLEDGED: "the call-out list goes on",
    S.LATCHED_ACKNOWLEDGED: "nobody more",
    S.SHELVED: "nobody of the alarm; those who were told hear that it is shelved",
    S.SUPPRESSED: "nobody; it stands in the record and is told at once if it outlasts what hides it",
    S.OUT_OF_SERVICE: "nobody of the alarm; owner, caretaker and installer hear that it is out, and of its return",
}

HAPPENS: Mapping[AlarmEvent, str] = {
    E.RAISE: "the condition holds",
    E.CLEAR: "it has gone",
    E.TAKE: "HAVE IT",
    E.RESET: "CHECKED",
    E.RE_ALARM: "asked again",
    E.SHELVE: "SHELVE",
    E.UNSHELVE: "UNSHELVE, or the time is over",
    E.SUPPRESS: "another that hides it stands",
    E.UNSUPPRESS: "that one has gone",
    E.REMOVE: "OUT OF SERVICE, or the files",
    E.RETURN: "IN SERVICE, or the day has come",
}
