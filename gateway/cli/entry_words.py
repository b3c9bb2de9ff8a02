"""Entries in words: what each kind says, and how instants, lengths and marks are shown. Times are UTC."""

import re
from collections.abc import Callable, Mapping
from string import Formatter

from gateway.cli.masking import printable
from gateway.logbook.chains import REFERENCE
from gateway.vocabulary.entries import Entry
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, as_utc
from gateway.vocabulary.plain import Plain

KINDS: Mapping[str, str] = {
    "service-started": "the service began to run",
    "stops-told": "the gateway had not run; told {people}; not {kept_from}, who heard of such a stop just before",
    "installation-used": "new installation files in use, people: {people}; {greets}",
    "time-fell": "something fell due",
    "clock-stepped": "the wall clock moved by {by}",
    "clock-doubt": "the clock is {doubtful}",
    "link-step": "{link} is {up}",
    "link-told-of": "the installer was told that {link} is down",
    "rival-told-of": "the installer was told that another client uses our client id on {link}",
    "balance-read": "the account of carrier {carrier} holds {amount} {currency}",
    "balance-told-of": "told that little is left on the account of carrier {carrier}",
    "unknown-topic": "first message on a topic that no signal uses: {topic}",
    "text-received": "text from {person}, read as: {read_as}",
    "command-published": "command {order} {taken}",
    "store-gap": "the record could not be kept from {since} to {until}",
    "store-restored": "this record was restored from a backup that ended at {backup_at} with entry {backup_n}",
    "store-replaced": "the record before this one was damaged and lies in {kept_as}: {problem}",
    "readings-dropped": "readings before {before} no longer kept, by {because}: {count} in {hours} hours, {size} bytes",
    "parts-erased": "sealed parts before {before} erased: {count}",
    "person-erased": "sealed parts that named {person} erased: {count}",
    "hour-kept": "the hour from {hour} closed, readings: {count}",
    "condition-began": "condition holds since {since}: {watch}",
    "condition-ended": "condition ended at {at}: {watch}",
    "past-kept": "what is kept of the past from now on: {needs}",
    "signal-unreadable": "{signal} cannot be read",
    "signal-readable": "{signal} can be read again",
    "signal-timeless": "the times that come with {signal} cannot be used, {in_a_row} times in a row",
    "signal-timed": "the times that come with {signal} can be used again",
    "alarm-step": "alarm {number} ({point}), {priority}: {event}, from {before} to {after}",
    "alarm-given-up": "alarm {number} ({point}) closed: {because}",
    "person-seen": "somebody is aboard, by {by}",
    "visit-ended": "nobody is aboard any more, by {by}",
    "attendance-changed": "the boat is kept {attendance} from now on",
    "attendance-asked": "asked whether the boat is still kept {attendance}, unanswered it ends at {until}",
    "alarm-escalated": "alarm {number} ({point}): nobody took it, told as {priority} from now on",
    "service-reminded": "reminded that alarm {number} ({point}) is out of service",
    "point-at-fault": "{point} needs mending: {fault}; told at {tell_at}",
    "point-fault-told": "told that {point} needs mending: {fault}",
    "holder-progressed": "alarm {number} ({point}): {person}, who has it, is {where}",
    "holder-changed": "alarm {number} ({point}) goes over from {before} to {person}",
    "hand-over-asked": "alarm {number} ({point}): {person} asks the others to take it, until {until}",
    "regular-planned": "the next {what} of {person}: {at}",
    "digest-gathered": "alarm {number} ({point}) waits for the digest of {person}, since {since}",
    "digest-emptied": "nothing waits for the digest of {person} any more",
    "welcome-planned": "the first text to {person}: {at}",
    "duty-taken": "{person} is on duty for {boats} from now on",
    "duty-asked": "{asked_by} asks {person} to be on duty for {boats}, answer by {lapses}",
    "duty-ask-ended": "{person} will not be on duty for {boats}: {because}",
    "duty-ended": "the duty of {person} for {boats} has ended, the roster names {following}",
    "practice-began": "practice of {point} begins, set off by {person}",
    "practice-called": "practice of {point} called out, step {step} of its list (from 0): {people}",
    "practice-ended": "practice of {point} is over: {because}",
    "note-kept": "remark of {person}",
    "called-after-all": "alarm {number} ({point}) is told after all: {because}",
    "round-called": "alarm {number} ({point}) called out, step {step} of its list (from 0)",
    "not-called": "alarm {number} ({point}) told to nobody: {because}",
    "text-queued": "text to {person}: {about}",
    "text-answered": "text {order} {accepted} by the carrier",
    "text-delayed": "text {order} not taken by the carrier yet, the next person is told",
    "text-overdue": "text {order} to {person} has not arrived within {within}; who is next is told now of {numbers}",
    "text-delivery": "text {order}: {status}",
    "mail-queued": "mail to {person}: {about}",
    "mail-ended": "mail {order} {taken}",
    "held-back": "held back from {person}: {about}, {because}",
    "quiet-asked": "alarm {number} ({point}): {person} wants no reminders until {until}",
    "opt-out-noted": "{person} has opted {out}",
    "flood-step": "a flood of alarms for {person}: {begun}, {count} within ten minutes",
    "clear-gathered": "{point} has gone; told with the other boats' at {until}",
    "clear-told": "told together that it has gone: {points}",
    "strangers-told": "{people} told of strangers' texts: {count}",
    "request-step": "{equipment} {action}: {event}, from {before} to {after}",
    "code-made": "code made, good until {expires}",
    "second-asked": "{person} is asked as well, code good until {expires}",
    "strangers-wait": "{count} strangers' texts wait to be told to {person}",
    "paper-list-came": "paper list of {person} came into use, {lines} lines",
    "paper-line-used": "line {line} of {person}'s paper list is used",
    "paper-list-void": "paper list of {person} is void: {because}",
    "code-spent": "code of {person} is spent: {trouble}",
    "wrong-code": "wrong code from {person}",
    "code-refused": "code from {person} did nothing: {trouble}",
    "commands-locked": "commands of {person} locked after {wrong} wrong codes",
    "commands-unlocked": "commands of {person} read again, proved by {by}",
    "number-asked": "two words sent to {person} as proof of the number, good until {expires}",
    "number-proved": "number of {person} proved, counts from {at}",
    "number-unproved": "number of {person} must be proved again: {because}",
    "last-switched": "{equipment} was seen {on}",
    "lock-out-seen": "maintenance lock-out {signal} was seen {value}",
    "run-began": "{equipment}: timed run, {ends_with} due {due}",
    "run-proved": "{equipment}: seen to run, its end due {due}",
    "run-seen-over": "{equipment}: the run is {over}",
    "stop-held": "{equipment}: the end that is due waits, {because}",
    "stop-freed": "{equipment}: the end that is due can go out",
    "stop-sent": "{equipment}: the end that is due was sent, try {number}",
    "stop-answered": "{equipment}: the end that is due was {taken}",
    "run-ended": "{equipment}: the timed run is over, {because}",
    REFERENCE: "see entry {n}",
}
"""By kind; names in braces are fields of its body. Fields that are not named follow behind, with their own name."""

INSTANTS = frozenset(
    [
        "at",
        "since",
        "until",
        "stopped_at",
        "expires",
        "hour",
        "prove_by",
        "seen_at",
        "due",
        "again",
        "before",
        "backup_at",
        "gone",
        "tell_at",
        "anew_at",
        "lapses",
    ],
)
LENGTHS = frozenset(["by", "ahead", "age", "run", "valid", "prove_within", "cool_down", "within"])
"""Fields whose whole numbers are ms: instants (UTC), and lengths of time."""

COUNTS = frozenset(
    [
        "line",
        "lines",
        "number",
        "numbers",
        "says_held",
        "named",
        "times",
        "count",
        "step",
        "next_step",
        "in_a_row",
        "wrong",
        "alarm",
        "n",
        "hours",
        "size",
        "backup_n",
    ]
)
"""Fields whose whole numbers are just that."""

PERSONS = frozenset({"person", "following", "people", "kept_from", "renumbered", "asked_by", "reported_by"})
"""Fields that hold random ids of persons."""

MARKS: Mapping[str, tuple[str, str]] = {
    "up": ("up", "down"),
    "memory_kept": ("", "it had forgotten us"),
    "taken": ("taken by the broker", "not taken by the broker"),
    "doubtful": ("in doubt", "in order again"),
    "greets": ("the first people get a first text too", "the first people were told by word"),
    "late": ("told late", ""),
    "found": ("found on asking", ""),
    "again": ("again", ""),
    "spoken": ("by a call", ""),
    "accepted": ("accepted", "refused"),
    "out": ("out", "in again"),
    "closed": ("closed", "still open"),
    "begun": ("began", "over"),
    "drop": ("it was a drop", ""),
    "on": ("on", "off"),
    "over": ("over", "going on after all"),
    "wanted": ("then on", "then off"),
    "unreachable": ("the next person is told", ""),
    "repeats": ("repeated until proved", "tried once"),
}
"""What a field's yes and no are shown as; "" for what need not be said."""

_ID = re.compile(r"[0-9a-f]{16,64}")
_SHOWN_ID = 8  # our choice: enough to tell apart what stands on one page; `--json` has them whole


def in_words(entry: Entry, person: Callable[[str], str]) -> str:
    """One entry on one line, without its number, time and chain. person: how a random id is shown."""
    pattern = KINDS.get(entry.kind, entry.kind.replace("-", " "))
    named = {name for _, name, _, _ in Formatter().parse(pattern) if name}
    shown = {name: said(name, value, person) or "nobody known" for name, value in entry.body.items()}
    told = pattern.format_map({name: shown.get(name, "?") for name in named})
    rest = [
        text if isinstance(value, bool) or name == "person" else f"{name.replace('_', ' ')} {text}"
        for name, value in entry.body.items()
        if name not in named and name != "boat" and value not in (None, "") and (text := said(name, value, person))
    ]
    return printable("; ".join([told, *rest]))


def said(name: str, value: Plain, person: Callable[[str], str]) -> str:
    """One field's value in words; "" for what need not be said."""
    if isinstance(value, bool):
        return MARKS.get(name, ("yes", "no"))[0 if value else 1]
    if isinstance(value, int):
        return moment(value) if name in INSTANTS else lasting(value) if name in LENGTHS else str(value)
    if isinstance(value, list | tuple):
        return ", ".join(said(name, item, person) for item in value)
    if not isinstance(value, str):
        return ""
    if name in PERSONS:
        return person(value)
    return value[:_SHOWN_ID] if _ID.fullmatch(value) else value


def moment(at: Ms) -> str:
    """An instant in UTC, ``2026-03-09 03:04:15``; with its milliseconds when it is not on a whole second."""
    text = f"{as_utc(at):%Y-%m-%d %H:%M:%S}"
    return f"{text}.{at % SECOND:03}" if at % SECOND else text


def lasting(length: Ms) -> str:
    """A length of time, ``2 h``, ``10 min``, ``12.5 s``."""
    for unit, word in ((HOUR, "h"), (MINUTE, "min"), (SECOND, "s")):
        if length and length % unit == 0:
            return f"{length // unit} {word}"
    return f"{length / SECOND:g} s"
