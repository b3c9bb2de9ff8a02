"""What was measured when a condition held, as it is said in a text and kept in the logbook."""

from gateway.conditions.judging import said
from gateway.conditions.looking_back import distances, rate_of, starts_by_the_hour, time_on, times_started
from gateway.conditions.sight import Sight
from gateway.conditions.verdicts import Verdict
from gateway.reckoning.answers import Reckoned
from gateway.reckoning.drift import about_m
from gateway.reckoning.lines import STEADY, rate_in_words
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from grammar.meanings import (
    Condition,
    Either,
    FixesAway,
    HasChanged,
    IsCompared,
    IsContact,
    IsMoving,
    IsUnreadable,
    NoNews,
    RanLonger,
    StartedOften,
    StartsGrow,
    leaves_of,
)


def measured(condition: Condition, sight: Sight, at: Ms) -> str:
    """The value that tells most: of a joined sentence that of its first part that is more than on or off, of an `or`
    that of the first part that holds. "" when nothing is known of it."""
    if isinstance(condition, Either):
        holding = (part for part in condition.parts if sight.weigh(part, at) is Verdict.HOLDS)
        return measured(next(holding, condition.parts[0]), sight, at)
    leaves = leaves_of(condition)
    leaf = next((one for one in leaves if not isinstance(one, IsContact | HasChanged | NoNews)), leaves[0])
    if leaf.signal is None:
        return ""
    signal = sight.signals[f"{sight.boat}/{leaf.signal}"]
    latest = sight.seen.latest.get(signal.id)
    value = said(latest, signal) if latest is not None else ""
    match leaf:
        case IsUnreadable():
            return f"unreadable {sight.seen.unreadable.get(signal.id, 0)} times"
        case IsCompared(other=other):
            against = sight.signals[f"{sight.boat}/{other}"]
            theirs = sight.seen.latest.get(against.id)
            return f"{value} against {said(theirs, against)}" if theirs is not None else value
        case RanLonger(wanted=wanted, window=window):
            need, past = sight.past_of(leaf)
            so = "on" if wanted else "off"
            return f"{so} {in_words(time_on(past, need, window, wanted, at).least)} of {in_words(window)}"
        case StartedOften(window=window):
            count = times_started(window, sight.past_of(leaf)[1], at)
            return f"{count} starts in {in_words(window)}"
        case StartsGrow():
            counts = starts_by_the_hour(leaf, sight.past_of(leaf)[1], at)
            return value if counts is None else f"{', '.join(map(str, counts))} starts hour by hour"
        case IsMoving():
            rate = rate_of(leaf, sight.past_of(leaf)[1], signal)
            if rate is None:
                return value
            return rate_in_words(rate) if isinstance(rate, Reckoned) else STEADY
        case FixesAway():
            found = distances(leaf, sight.past_of(leaf)[1], signal)
            off = about_m(found[-1]) if found else None
            return f"{off.shown:f} m off" if isinstance(off, Reckoned) else value
    return value


def in_words(length: Ms) -> str:
    """A length of time in its two largest units: "2 h 5 min", "40 s"."""
    hours, minutes, seconds = length // HOUR, length % HOUR // MINUTE, length % MINUTE // SECOND
    if hours:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    if minutes:
        return f"{minutes} min {seconds} s" if seconds else f"{minutes} min"
    return f"{seconds} s"
