"""Trouble that is not a boat's: links, strangers, blind time, clocks, a record that could not be kept."""

from gateway.alarms.life import ASIDE
from gateway.desk.accounts import balance_seen
from gateway.desk.facts import (
    ClockDoubt,
    ClockStepped,
    CommandPublished,
    LinkStep,
    LinkToldOf,
    RivalToldOf,
    ServiceStarted,
    StopsTold,
    StoreGap,
)
from gateway.desk.mails_out import mail_answered
from gateway.desk.opting import flagged
from gateway.desk.texts_out import delivery, tell_untold, text_answered, text_delayed
from gateway.desk.turn import Recorder
from gateway.people.settings import Role
from gateway.telling.trouble_notices import (
    BlindTime,
    ClientIdTwice,
    ClockDoubtful,
    LinkTrouble,
    StoreWasFull,
)
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import (
    BalanceSeen,
    CarrierTimeSeen,
    DeliveryReported,
    Happening,
    LinkChanged,
    MailAnswered,
    OptFlagCame,
    PublishAnswered,
    SendAnswered,
    SendDelayed,
    Started,
    StoreRecovered,
    WallClockStepped,
)
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms

LONG_DOWN = 10 * MINUTE
"""A link down for longer is told to the installer; shorter ones are kept for the record (our choice: marina networks
drop out for minutes every day)."""

LONG_BLIND = 10 * MINUTE
"""Blind time over this is told (design rule 3)."""

BLIND_AGAIN = HOUR
"""Somebody who was told of a stop hears of further short ones so much later, unless another alarm stands by then (our
choice: a gateway that crashes every minute would text all night, and the reader can do no more about the tenth). Each
stop stands in the record."""

MOST_APART = 2 * MINUTE
"""Our clock and the carrier's may differ by this much; more and ours is in doubt (design 3)."""

RIVAL_AGAIN = DAY
"""While another client goes on using our client id the installer hears so once in this time (our choice: the two cut
each other off every half minute for as long as nobody mends it)."""


def noted(rec: Recorder, happening: Happening) -> None:
    """What the world says of itself: the carrier's answers, links, clocks, the store."""
    match happening:
        case SendAnswered():
            text_answered(rec, happening)
        case SendDelayed():
            text_delayed(rec, happening)
        case DeliveryReported():
            delivery(rec, happening)
        case MailAnswered():
            mail_answered(rec, happening)
        case OptFlagCame():
            flagged(rec, happening)
        case LinkChanged():
            link_changed(rec, happening)
        case WallClockStepped(by=by):
            rec.note(INSTALLATION, ClockStepped(by=by))
        case CarrierTimeSeen():
            carrier_time_seen(rec, happening)
        case BalanceSeen():
            balance_seen(rec, happening)
        case StoreRecovered():
            store_recovered(rec, happening)
        case _:
            raise TypeError(f"{type(happening).__name__} is not known to the desk")


def started(rec: Recorder, happening: Started) -> None:
    """The service began to run: note the blind time, and tell it when it was long or an alarm stands."""
    rec.note(INSTALLATION, ServiceStarted(stopped_at=happening.stopped_at))
    if happening.stopped_at is None:
        return
    standing = rec.state.standing.by_point.values()
    numbers = tuple(sorted(alarm.number for alarm in standing if alarm.active or alarm.state not in ASIDE))
    long_blind = rec.now - happening.stopped_at > LONG_BLIND
    if not long_blind and not numbers:
        return
    told = [p for call in rec.state.telling.calls.values() for p in call.heard_of]
    everyone = rec.bundle.with_role(Role.OWNER, Role.CARETAKER, Role.INSTALLER) if long_blind else ()
    persons = dict.fromkeys((*everyone, *rec.bundle.with_role(Role.INSTALLER), *told))
    held = () if long_blind else tuple(one for one in persons if _knows(rec, one, numbers))
    hear = tuple(one for one in persons if one not in held)
    before = {one: rec.state.stops_told.get(one) for one in hear}
    rec.note(INSTALLATION, StopsTold(people=hear, kept_from=held, numbers=numbers))
    for person in hear:
        known = before[person]
        stops, since = (1, None) if known is None or not known.untold else (known.untold + 1, known.at)
        rec.tell(
            BlindTime(
                person=person,
                since=happening.stopped_at,
                until=rec.now,
                standing=numbers,
                stops=stops,
                told_before=since,
            )
        )


def _knows(rec: Recorder, person: str, standing: tuple[int, ...]) -> bool:
    """Whether somebody heard a short while ago of a stop with all of these alarms."""
    known = rec.state.stops_told.get(person)
    return known is not None and rec.now - known.at < BLIND_AGAIN and set(standing) <= set(known.standing)


def link_changed(rec: Recorder, happening: LinkChanged) -> None:
    """A link came or went; that a broker lost its memory is told at once, because alarms may be missing."""
    known = rec.state.links.get(happening.link)
    fact = LinkStep(link=happening.link, up=happening.up, memory_kept=happening.memory_kept, detail=happening.detail)
    rec.note(INSTALLATION, fact)
    if happening.up and not happening.memory_kept and known is not None:
        since = known.down_since if known.down_since is not None else rec.now
        for person in rec.bundle.with_role(Role.INSTALLER):
            rec.tell(LinkTrouble(person=person, link=happening.link, since=since, memory_lost=True))
    told = rec.state.rivals.get(happening.link)
    if happening.rival and (told is None or rec.now - told >= RIVAL_AGAIN):
        rec.note(INSTALLATION, RivalToldOf(link=happening.link))
        for person in rec.bundle.with_role(Role.INSTALLER):
            rec.tell(ClientIdTwice(person=person, link=happening.link))
    if happening.up and happening.link.startswith("carrier:"):
        tell_untold(rec)


def links_due(rec: Recorder) -> bool:
    """Tell the installer of links that have been down for long; once each."""
    found = [link for link, at in long_down(rec).items() if at <= rec.now]
    for link in found:
        since = rec.state.links[link].down_since or rec.now
        rec.note(INSTALLATION, LinkToldOf(link=link))
        for person in rec.bundle.with_role(Role.INSTALLER):
            rec.tell(LinkTrouble(person=person, link=link, since=since, memory_lost=False))
    return bool(found)


def long_down(rec: Recorder) -> dict[str, Ms]:
    """When each link that is down will have been so for long, for those not told of; without those that have left the
    installation and those that stand for a passing fault."""
    return {
        link: known.down_since + LONG_DOWN
        for link, known in rec.state.links.items()
        if known.down_since is not None and not known.told and link in rec.bundle.links
    }


def command_published(rec: Recorder, happening: PublishAnswered) -> None:
    """What the broker did with a command: kept."""
    rec.note(INSTALLATION, CommandPublished(order=happening.order, taken=happening.taken, detail=happening.detail))


def carrier_time_seen(rec: Recorder, happening: CarrierTimeSeen) -> None:
    """The carrier's clock against ours: a difference of more than 2 min puts ours in doubt (design 3)."""
    ahead = happening.ahead - rec.state.clock_offset
    doubtful = abs(ahead) > MOST_APART
    if doubtful is rec.state.clock_doubtful:
        return
    rec.note(INSTALLATION, ClockDoubt(doubtful=doubtful, ahead=ahead))
    if doubtful:
        for person in rec.bundle.with_role(Role.INSTALLER):
            rec.tell(ClockDoubtful(person=person, ahead=ahead))


def store_recovered(rec: Recorder, happening: StoreRecovered) -> None:
    """The record can be kept again: the first entry says what is missing."""
    rec.note(INSTALLATION, StoreGap(since=happening.since, until=happening.until, told=happening.told))
    for person in rec.bundle.with_role(Role.INSTALLER):
        rec.tell(StoreWasFull(person=person, since=happening.since, until=happening.until))
