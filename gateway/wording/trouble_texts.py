"""Texts about the gateway's own trouble: links, carrier, blind time, store, sensors, strangers, locks."""

from gateway.requests.number_answers import CommandsLocked
from gateway.telling.trouble_notices import (
    BalanceLow,
    BlindTime,
    ClientIdTwice,
    ClockDoubtful,
    LinkTrouble,
    RecordReplaced,
    SignalBad,
    StoreWasFull,
    StrangerWrote,
    TimesBad,
)
from gateway.wording.clocks import clock, lasting
from gateway.wording.fitting import Worth, by_words, clipped, fit, fixed, maybe, packed, shortening, tidy
from gateway.wording.names import boat, first_name, spoken
from gateway.wording.scene import Scene


def stranger_wrote(notice: StrangerWrote, scene: Scene) -> str:
    """Texts from a number that is nobody's: no answer went out."""
    texts = "a text" if notice.count == 1 else f"{notice.count} texts"
    if not notice.number:
        whose = f": {texts} came in your quiet hours from numbers that are on no list"
        return fit([boat(scene, notice.boat), fixed(whose), fixed(". Not answered, nothing was switched")])
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": {texts} from {clipped(tidy(notice.number), 24)}, a number that is on no list"),
            fixed(". Not answered, nothing was switched"),
            maybe(Worth.ADVICE, ". Yours? The installer can add it"),
        ]
    )


def link_trouble(notice: LinkTrouble, scene: Scene) -> str:
    """A broker or the carrier has been away, or lost what it kept."""
    at = clock(scene, notice.boat, notice.person)
    link = clipped(tidy(notice.link), 40)
    if notice.memory_lost:
        return fit(
            [
                boat(scene, notice.boat),
                fixed(f': link "{link}", down since {at.told(notice.since)}, lost what it had kept'),
                fixed(". What the boat said meanwhile may be missing"),
                maybe(Worth.MEANING, ". Reply STATUS and mind the ages"),
            ]
        )
    away = lasting(scene.now - notice.since)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f': link "{link}" down since {at.told(notice.since)}'),
            maybe(Worth.VALUE, f" ({away})"),
            fixed(". What needs it is not seen or not told meanwhile"),
            maybe(Worth.MEANING, ". It is tried again all the time"),
        ]
    )


def client_id_twice(notice: ClientIdTwice, scene: Scene) -> str:
    """Two clients with one id cut each other off for ever."""
    link = clipped(tidy(notice.link), 40)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f': on link "{link}" another client uses this gateway\'s client_id'),
            fixed(". Each cuts the other off, alarms may be missed"),
            maybe(Worth.MEANING, ". Give each its own"),
        ]
    )


def blind_time(notice: BlindTime, scene: Scene) -> str:
    """The gateway did not run."""
    at = clock(scene, notice.boat, notice.person)
    before = [
        boat(scene, notice.boat),
        fixed(f" did not run {at.at(notice.since)} to {at.at(notice.until)}{at.mark(notice.since, notice.until)}"),
        maybe(Worth.VALUE, f" ({lasting(notice.until - notice.since)})"),
    ]
    if notice.told_before is not None:
        before.append(maybe(Worth.MEANING, f", stop {notice.stops} since {at.at(notice.told_before)}"))
    before.append(fixed(", nothing was watched. "))
    if not notice.standing:
        unseen = "No alarm stands now; what came and went meanwhile was not seen"
        return fit([*before, shortening(Worth.MEANING, unseen, "No alarm stands now")])
    one = len(notice.standing) == 1  # "alarms standing: 1" would read as a count
    before.append(fixed("Alarm " if one else "Alarms "))
    items = [[fixed(str(number))] for number in notice.standing]
    after = [fixed(" stands" if one else " stand"), fixed(". Reply ALARMS")]
    return packed(before, items, after, " and {count} more") or fit(before)


def signal_bad(notice: SignalBad, scene: Scene) -> str:
    """A signal cannot be read, and that has lasted."""
    sample = by_words(tidy(notice.sample), 24)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": {clipped(spoken(notice.signal), 30)} can't be read, {notice.in_a_row} times in a row"),
            maybe(Worth.ADVICE, f', it sent "{sample}"' if sample else ""),
            fixed(". Its alarms are blind until that is mended"),
        ]
    )


def times_bad(notice: TimesBad, scene: Scene) -> str:
    """The times that come with values cannot be used, and that has lasted."""
    first, more = notice.signals[0], len(notice.signals) - 1
    others = f" and {more} more" if more else ""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": values come without a usable time ({clipped(spoken(first), 30)}{others})"),
            fixed(". Alarms still come, but none clears and nothing is switched by these"),
            maybe(Worth.ADVICE, ". Mend the clock that sends them"),
        ]
    )


def store_was_full(notice: StoreWasFull, scene: Scene) -> str:
    """The record could not be kept for a time."""
    at = clock(scene, notice.boat, notice.person)
    mark = at.mark(notice.since, notice.until)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": no record could be kept {at.at(notice.since)} to {at.at(notice.until)}{mark}"),
            fixed(". Alarms were told from memory, nothing was switched"),
            maybe(Worth.ADVICE, ". Make room on its disk"),
        ]
    )


def record_replaced(notice: RecordReplaced, scene: Scene) -> str:
    """The record was damaged: what had been known is not known any more, above all what was to be switched back."""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(": its record was damaged, a new one is begun. Alarms go on"),
            fixed(". What was open is forgotten, timed runs won't end by themselves: look at each"),
            maybe(Worth.ADVICE, ". The old one is kept"),
        ]
    )


def clock_doubtful(notice: ClockDoubtful, scene: Scene) -> str:
    """The gateway's clock and the carrier's disagree."""
    which = "behind" if notice.ahead >= 0 else "ahead of"
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": its clock is {lasting(abs(notice.ahead))} {which} the carrier's"),
            fixed(". Nothing is switched until that is mended, alarms go on"),
            maybe(Worth.ADVICE, ". Mend the clock of its computer"),
        ]
    )


def balance_low(notice: BalanceLow, scene: Scene) -> str:
    """The account that pays for the texts runs empty."""
    carrier = tidy(notice.carrier)
    return fit(
        [
            boat(scene, notice.boat),
            shortening(Worth.NAME, f": account of carrier {carrier}", f": account of carrier {clipped(carrier, 12)}"),
            fixed(f" holds {clipped(tidy(notice.amount), 14)} {clipped(tidy(notice.currency), 6)}"),
            maybe(Worth.VALUE, f", limit {clipped(tidy(notice.limit), 14)}"),
            fixed(". Empty it sends no alarm. Fill it up"),
            maybe(Worth.ADVICE, ". Told once a day till then"),
        ]
    )


def commands_locked(answer: CommandsLocked, scene: Scene) -> str:
    """Wrong codes, five in a row or so many in a day that only the installer ends it; told to owner and installer."""
    at = clock(scene, answer.boat, answer.person)
    own = answer.who == answer.person
    who = first_name(scene, answer.who)
    many = "too many wrong codes" if answer.endless else "five wrong codes in a row"
    until = "the installer has proved it anew" if answer.endless else at.told(answer.until)
    return fit(
        [
            boat(scene, answer.boat),
            fixed(f": {many} from {'your' if own else who + chr(39) + 's'} phone"),
            fixed(f". Commands from it are locked until {until}"),
            maybe(Worth.MEANING, ", alarms still reach it"),
            maybe(Worth.ADVICE, "" if own else f". Ring {who}: who has the phone?"),
        ]
    )
