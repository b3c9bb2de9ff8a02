"""Which part of the state a fact changes. The only way in, live and in the fold."""

from collections.abc import Sequence
from dataclasses import replace

from gateway.alarms.facts import (
    AlarmEscalated,
    AlarmGivenUp,
    AlarmStep,
    AttendanceAsked,
    AttendanceChanged,
    PersonSeen,
    PointAtFault,
    PointFaultTold,
    ServiceReminded,
    VisitEnded,
)
from gateway.alarms.holding import HandOverAsked, HolderChanged, HolderProgressed
from gateway.alarms.life import AlarmEvent
from gateway.boat.latest import is_sign_of_life
from gateway.boat.settings import Signal
from gateway.conditions.facts import (
    ConditionBegan,
    ConditionEnded,
    PastKept,
)
from gateway.conditions.watching import CLEARS, RAISES
from gateway.desk.facts import (
    BalanceRead,
    BalanceToldOf,
    ClockDoubt,
    ClockStepped,
    InstallationUsed,
    LinkStep,
    LinkToldOf,
    RivalToldOf,
    ServiceStarted,
    StopsTold,
    TextReceived,
    UnknownTopic,
)
from gateway.desk.state import Account, Hour, LinkState, State, StopTold
from gateway.logbook.kept_readings import hour_of, line, roll
from gateway.requests.facts import REQUEST_FACTS
from gateway.telling.duty import DutyAsked, DutyAskEnded, DutyEnded, DutyTaken
from gateway.telling.facts import (
    CalledAfterAll,
    ClearGathered,
    ClearTold,
    FloodStep,
    HeldBack,
    NotCalled,
    OptOutNoted,
    QuietAsked,
    RoundCalled,
    StrangersTold,
    TextAnswered,
    TextDelayed,
    TextDelivery,
    TextOverdue,
    TextQueued,
)
from gateway.telling.practice import PracticeBegan, PracticeCalled, PracticeEnded
from gateway.telling.regular import DigestEmptied, DigestGathered, RegularPlanned, StrangersWait, WelcomePlanned
from gateway.vocabulary.entries import SealedPart
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading


def apply_fact(state: State, fact: Fact, now: Ms, parts: Sequence[SealedPart | None]) -> None:
    """Change the state by one fact. parts: the sealed parts of its entry, None where erased."""
    match fact:
        case ConditionBegan() | ConditionEnded():
            state.held.apply(fact)
        case PastKept():
            state.pasts.apply(fact)
        case AlarmStep():
            if fact.event in (AlarmEvent.RAISE, AlarmEvent.CLEAR):  # from now on its other side is watched
                for side in (RAISES, CLEARS):
                    state.held.since.pop(f"{fact.point} {side}", None)
            state.standing.apply(fact, now)
            state.telling.apply(fact, now)
        case AlarmGivenUp() | AlarmEscalated() | HolderChanged():
            state.standing.apply(fact, now)
            state.telling.apply(fact, now)
        case (
            PersonSeen()
            | VisitEnded()
            | AttendanceChanged()
            | AttendanceAsked()
            | ServiceReminded()
            | PointAtFault()
            | PointFaultTold()
            | HolderProgressed()
            | HandOverAsked()
        ):
            state.standing.apply(fact, now)
        case (
            CalledAfterAll()
            | RoundCalled()
            | NotCalled()
            | HeldBack()
            | QuietAsked()
            | TextQueued()
            | TextAnswered()
            | TextDelayed()
            | TextOverdue()
            | TextDelivery()
            | OptOutNoted()
            | StrangersTold()
            | FloodStep()
            | ClearGathered()
            | ClearTold()
        ):
            state.telling.apply(fact, now)
        case RegularPlanned() | DigestGathered() | DigestEmptied() | WelcomePlanned() | StrangersWait():
            state.regular.apply(fact)
        case (
            DutyTaken()
            | DutyAsked()
            | DutyAskEnded()
            | DutyEnded()
            | PracticeBegan()
            | PracticeCalled()
            | PracticeEnded()
        ):
            _of_lists(state, fact, now)
        case _ if isinstance(fact, REQUEST_FACTS):
            state.requests.apply(fact, now, parts)
        case _:
            _own(state, fact, now)


def _of_lists(
    state: State,
    fact: DutyTaken | DutyAsked | DutyAskEnded | DutyEnded | PracticeBegan | PracticeCalled | PracticeEnded,
    now: Ms,
) -> None:
    match fact:
        case DutyTaken() | DutyAsked() | DutyAskEnded() | DutyEnded():
            state.duty.apply(fact)
        case _:
            state.practice.apply(fact, now)


def _own(state: State, fact: Fact, now: Ms) -> None:
    match fact:
        case ServiceStarted():
            state.started, state.clock_offset = now, 0  # at a start the time goes on from the wall clock
            state.links = {link: LinkState(down_since=now) for link in state.links}
        case StopsTold():
            _stops_told(state, fact, now)
        case InstallationUsed():
            _files_used(state, fact)
        case ClockStepped():
            state.clock_offset += fact.by
            state.regular.clock_moved(fact.by)
            state.duty.clock_moved(fact.by)
            _accounts_moved(state, fact.by)
            if fact.by > 0:
                state.requests.clock_moved(fact.by)
                state.standing.clock_moved(fact.by)
        case ClockDoubt():
            state.clock_doubtful = fact.doubtful
        case LinkStep() | LinkToldOf() | RivalToldOf():
            _of_link(state, fact, now)
        case BalanceRead() | BalanceToldOf():
            _account(state, fact, now)
        case UnknownTopic():
            state.unknown_topics.append(f"{fact.broker} {fact.topic}")
        case TextReceived():
            _text_came(state, fact, now)
        case _:
            pass  # kept for the record; changes nothing that is decided by


def _files_used(state: State, fact: InstallationUsed) -> None:
    there_before = () if state.fingerprint or fact.greets else fact.people
    state.telling.welcomes.files_used(fact.renumbered, there_before)
    state.fingerprint = fact.fingerprint


def _text_came(state: State, fact: TextReceived, now: Ms) -> None:
    if fact.person is None:
        state.telling.strangers += 1
    else:
        state.standing.heard_from(fact.person, now)
        state.requests.numbers.heard[fact.person] = now


def _account(state: State, fact: BalanceRead | BalanceToldOf, now: Ms) -> None:
    if isinstance(fact, BalanceRead):
        state.accounts[fact.carrier] = Account(fact.amount, fact.currency, at=now, tell_at=fact.tell_at)
    else:
        state.accounts[fact.carrier] = replace(state.accounts[fact.carrier], tell_at=None)


def _accounts_moved(state: State, by: Ms) -> None:
    """The wall clock was moved (ms, positive forward): what is told by day is told by the new day."""
    for name, one in state.accounts.items():
        if one.tell_at is not None:
            state.accounts[name] = replace(one, tell_at=one.tell_at - by)


def _of_link(state: State, fact: LinkStep | LinkToldOf | RivalToldOf, now: Ms) -> None:
    match fact:
        case LinkStep():
            _link(state, fact, now)
        case LinkToldOf():
            state.links[fact.link] = replace(state.links[fact.link], told=True)
        case RivalToldOf():
            state.rivals[fact.link] = now


def _link(state: State, fact: LinkStep, now: Ms) -> None:
    known = state.links.get(fact.link)
    if fact.up:
        since = known.up_since if known is not None and known.up_since is not None else now
        state.links[fact.link] = LinkState(up_since=since if fact.memory_kept else now)
    elif known is None or known.down_since is None:
        state.links[fact.link] = LinkState(down_since=now)


def absorb(state: State, reading: Reading, boat: str, now: Ms, signal: Signal | None) -> bool:
    """Take one marked reading into the state: its hour's hash, the newest values and the kept past. signal: None for
    one that the installation no longer has. True when it is the newest."""
    known = state.hours.get(boat)
    hour = hour_of(now)
    count, digest = (known.count, known.digest) if known is not None and known.hour == hour else (0, "")
    state.hours[boat] = Hour(hour, count + 1, roll(digest, line(state.happening, now, reading)))
    newest = state.seen.absorb(reading, now, boat, alive=is_sign_of_life(reading, signal))
    if newest:
        state.pasts.absorb(reading, state.seen.latest[reading.signal].measured)
    return newest


def _stops_told(state: State, fact: StopsTold, now: Ms) -> None:
    state.stops_told |= {person: StopTold(at=now, standing=fact.numbers) for person in fact.people}
    for person in fact.kept_from:
        known = state.stops_told[person]
        state.stops_told[person] = replace(known, untold=known.untold + 1)
