"""Trouble that is not a boat's: links, refused texts, strangers, blind time, a record that could not be kept."""

from gateway.desk.facts import (
    ClockDoubt,
    ClockStepped,
    CommandPublished,
    LinkStep,
    LinkToldOf,
    RivalToldOf,
    ServiceStarted,
    StoreGap,
)
from gateway.desk.turn import Recorder
from gateway.people.numbers import masked
from gateway.people.settings import Person, Role
from gateway.telling.delivery import Amounts, amounts_to
from gateway.telling.facts import OptOutNoted, StrangersTold, TextAnswered, TextDelivery
from gateway.telling.notices import (
    BlindTime,
    ClientIdTwice,
    ClockDoubtful,
    LinkTrouble,
    NotReached,
    OptOutSeen,
    StoreWasFull,
    StrangerWrote,
)
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import (
    CarrierTimeSeen,
    DeliveryReported,
    Happening,
    LinkChanged,
    PublishAnswered,
    SendAnswered,
    Started,
    StoreRecovered,
    WallClockStepped,
)
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms
from gateway.wording.say import kind_of

LONG_DOWN = 10 * MINUTE
"""A link down for longer is told to the installer; shorter ones are kept for the record (our choice: marina networks
drop out for minutes every day)."""

LONG_BLIND = 10 * MINUTE
"""Blind time over this is told (design rule 3)."""

MOST_APART = 2 * MINUTE
"""Our clock and the carrier's may differ by this much; more and ours is in doubt (design 3)."""

RIVAL_AGAIN = DAY
"""While another client goes on using our client id the installer hears so once in this time (our choice: the two cut
each other off every half minute for as long as nobody mends it)."""

OPTED_OUT = "21610"
"""The carrier's code for an addressee who has opted out (its errors page)."""

_NOT_REACHED = kind_of(NotReached(person="", who="", code=""))
_OPT_OUT_SEEN = kind_of(OptOutSeen(person="", who=""))


def noted(rec: Recorder, happening: Happening) -> None:
    """What the world says of itself: the carrier's answers, links, clocks, the store."""
    match happening:
        case SendAnswered():
            text_answered(rec, happening)
        case DeliveryReported():
            delivery(rec, happening)
        case LinkChanged():
            link_changed(rec, happening)
        case WallClockStepped(by=by):
            rec.note(INSTALLATION, ClockStepped(by=by))
        case CarrierTimeSeen():
            carrier_time_seen(rec, happening)
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
    numbers = tuple(sorted(alarm.number for alarm in standing))
    long_blind = rec.now - happening.stopped_at > LONG_BLIND
    if not long_blind and not numbers:
        return
    told = [p for call in rec.state.telling.calls.values() for p in call.told]
    everyone = rec.bundle.with_role(Role.OWNER, Role.CARETAKER, Role.INSTALLER) if long_blind else ()
    for person in dict.fromkeys((*everyone, *rec.bundle.with_role(Role.INSTALLER), *told)):
        rec.tell(BlindTime(person=person, since=happening.stopped_at, until=rec.now, standing=numbers))


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


def text_answered(rec: Recorder, happening: SendAnswered) -> None:
    """What the carrier said to a text. A refused one is told to those who can mend it, once until one gets through."""
    queued = rec.state.telling.texts.get(happening.order)
    known_code = rec.state.telling.refused.get(queued.person) if queued is not None else None
    fact = TextAnswered(
        order=happening.order,
        accepted=happening.accepted,
        message=happening.message,
        code=happening.code,
        detail=happening.detail,
        found=happening.found,
    )
    rec.note(INSTALLATION, fact)
    if happening.accepted or queued is None or queued.about in (_NOT_REACHED, _OPT_OUT_SEEN):
        return
    person = rec.bundle.people.get(queued.person)
    if person is None or known_code == happening.code:
        return
    if happening.code == OPTED_OUT:
        if person.id not in rec.state.telling.opted_out:
            _opted_out(rec, person, by=happening.code)
        return
    for other in _who_can_help(rec, person):
        rec.tell(NotReached(person=other, who=person.id, code=happening.code))


def delivery(rec: Recorder, happening: DeliveryReported) -> None:
    """A later word on a text: kept when it is news, for they come in any order and some come twice."""
    if amounts_to(rec.state.telling.deliveries.get(happening.order), happening.status) is Amounts.NOTHING:
        return
    rec.note(INSTALLATION, TextDelivery(order=happening.order, status=happening.status, code=happening.code))


def command_published(rec: Recorder, happening: PublishAnswered) -> None:
    """What the broker did with a command: kept."""
    rec.note(INSTALLATION, CommandPublished(order=happening.order, taken=happening.taken, detail=happening.detail))


def opted(rec: Recorder, person: Person, *, out: bool) -> None:
    """A text was nothing but a word that carriers take as opt-out or opt-in. No answer: the carrier gives its own."""
    noted = person.id in rec.state.telling.opted_out
    if out and not noted:
        _opted_out(rec, person, by="text")
    elif not out and noted:
        rec.note(INSTALLATION, OptOutNoted(person=person.id, out=False, by="text"))


def _opted_out(rec: Recorder, person: Person, *, by: str) -> None:
    rec.note(INSTALLATION, OptOutNoted(person=person.id, out=True, by=by))
    for other in _who_can_help(rec, person):
        rec.tell(OptOutSeen(person=other, who=person.id))


def _who_can_help(rec: Recorder, person: Person) -> tuple[str, ...]:
    roles = (Role.OWNER, Role.CARETAKER, Role.INSTALLER)
    found = dict.fromkeys(p for boat in person.boats for p in rec.bundle.concerned(boat, *roles))
    return tuple(p for p in found if p != person.id)


def strangers(rec: Recorder, number: str) -> None:
    """A number that is nobody's wrote: no answer; owner and installer hear of it at most once an hour."""
    telling = rec.state.telling
    if telling.strangers_told is not None and rec.now - telling.strangers_told < HOUR:
        return
    count = telling.strangers
    rec.note(INSTALLATION, StrangersTold(count=count))
    for person in rec.bundle.with_role(Role.OWNER, Role.INSTALLER):
        rec.tell(StrangerWrote(person=person, number=masked(number), count=count))


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
