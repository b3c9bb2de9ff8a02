"""A desk with a boat of a few points, driven by hand: time moves only when the test says so."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Point
from gateway.boat.settings import Carries, Senses, Signal
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.desk.turn import Turn
from gateway.installation.load import load
from gateway.installation.starter import lay_down
from gateway.telling.call import WELCOME
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import (
    Happening,
    InstallationCame,
    LinkChanged,
    ReadingsCame,
    SendAnswered,
    Started,
    TextCame,
    TimeCame,
)
from gateway.vocabulary.moments import MINUTE, SECOND, Ms, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.plain import Plain
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import Condition, IsContact, NoNews

BOAT = "grey-wagtail"
BEGAN = from_rfc3339("2026-03-01T03:00:00Z")
INES, TOBIAS, RUTH, MARINA = "id-ines", "id-tobias", "id-ruth", "id-marina"
STRANGER = "+447700900999"


@cache
def starter_bundle() -> Bundle:
    """GREY WAGTAIL alone of the starter, with fixed ids of persons and everything carried out."""
    with TemporaryDirectory() as folder:
        lay_down(Path(folder), boats=(BOAT,))
        found = load(
            Path(folder),
            person_id=lambda key: f"id-{key}",
            environ={"HEAVINGLINE_CARRIER_TOKEN": "secret"},
        )
    return found.bundle


NUMBER_OF = {person.id: person.number for person in starter_bundle().people.values()}


def signal(key: str, carries: Carries = Carries.CONTACT, **more: object) -> Signal:
    """A signal of the boat, reporting every 30 s: stale after 90 s."""
    return Signal(
        id=f"{BOAT}/{key}",
        boat=BOAT,
        key=key,
        topic=f"{BOAT}/{key}",
        carries=carries,
        report_interval=30 * SECOND,
        **more,  # type: ignore[arg-type]
    )


WATER_DELAY, WATER_GONE = 15 * SECOND, 60 * SECOND

SIGNALS = {
    one.id: one
    for one in (
        signal("volts", Carries.NUMBER, unit="V"),
        signal("water"),
        signal("shore"),
        signal("hatch", senses=Senses.PERSON),
        signal("panel", senses=Senses.PANEL_VISIT_OVER),
    )
}

LIST = CallOutList(
    key="list",
    steps=(Step(after=0, tell=(INES,)), Step(after=5 * MINUTE, tell=(TOBIAS,)), Step(after=8 * MINUTE, tell=(MARINA,))),
    repeat=10 * MINUTE,
)


def point(key: str, when: Condition, clears: Condition | None = None, **more: object) -> Point:
    """An alarm point on the usual list; a warning unless said otherwise."""
    given: dict[str, object] = {"priority": Priority.ALARM, "callout": "list", "name": key.title(), **more}
    return Point(id=f"{BOAT}/{key}", boat=BOAT, key=key, when=when, clears=clears, **given)  # type: ignore[arg-type]


WATER = point(
    "water",
    when=IsContact(signal="water", wanted=True, lasting=WATER_DELAY),
    clears=IsContact(signal="water", wanted=False, lasting=WATER_GONE),
    priority=Priority.EMERGENCY,
    latching=True,
)
"""Bilge high water as in the starter: on 15 s, off 60 s, latched."""

SHORE = point(
    "shore",
    when=IsContact(signal="shore", wanted=False, lasting=5 * MINUTE),
    clears=IsContact(signal="shore", wanted=True, lasting=MINUTE),
    priority=Priority.WARNING,
)

SILENT = point("silent", when=NoNews(signal=None, lasting=10 * MINUTE), priority=Priority.WARNING)


@dataclass
class Small:
    """The desk, its clock, and all that it ever recorded and ordered."""

    desk: Desk
    now: Ms = BEGAN
    began: Ms = BEGAN
    turns: list[Turn] = field(default_factory=list)

    def take(self, happening: Happening) -> Turn:
        """One happening at the present instant, or 1 ms later when something was taken in it already."""
        self.now = max(self.now, self.desk.state.now + 1)
        turn = self.desk.take(happening, self.now, len(self.turns).to_bytes(32, "big"))
        self.turns.append(turn)
        return turn

    def wait(self, length: Ms) -> None:
        """Let time pass, waking the desk at every instant that it names, as the service does."""
        until = self.now + length
        while (due := self.desk.next_due()) is not None and due <= until:
            self.now = max(due, self.desk.state.now + 1)
            self.take(TimeCame())
        self.now = max(until, self.now)

    def reads(self, key: str, text: str, *, own_time: Ms | None = None, retained: bool = False) -> Turn:
        """One reading arrives; "?" is an unreadable one."""
        return self.take(ReadingsCame(readings=(reading(key, text, own_time=own_time, retained=retained),)))

    def keeps_reading(self, key: str, text: str, length: Ms) -> None:
        """The same value every 30 s for this long, the first one at once."""
        for _ in range(0, length, 30 * SECOND):
            self.reads(key, text)
            self.wait(30 * SECOND)

    def texts(self, person: str, body: str, *, age: Ms | None = 0) -> Turn:
        """A text from one of the people, or from a number."""
        number = NUMBER_OF.get(person, person)
        return self.take(TextCame(message=f"SM{len(self.turns)}", number=number, body=body, age=age))

    def restarts(self, after: Ms = 1) -> Turn:
        """Stop, come back after so long, and take the start; the link comes up at once."""
        stopped = self.desk.state.now
        self.now += after
        turn = self.take(Started(stopped_at=stopped))
        self.take(LinkChanged(link="broker:quay", up=True))
        return turn

    def uses(self, bundle: Bundle) -> Turn:
        """A new installation is put in place."""
        self.desk.use(bundle)
        return self.take(InstallationCame(fingerprint="f" * 64, people=tuple(bundle.people)))

    def refuses(self, text: SendText, code: str = "21211") -> Turn:
        """The carrier refuses a text."""
        return self.take(SendAnswered(order=text.id, accepted=False, code=code))

    def state_of(self, key: str) -> AlarmState:
        """Where the point's alarm stands."""
        alarm = self.desk.state.standing.by_point.get(f"{BOAT}/{key}")
        return alarm.state if alarm is not None else AlarmState.NORMAL

    @property
    def sent(self) -> list[SendText]:
        """All texts so far."""
        orders = (order for turn in self.turns for order in turn.orders)
        return [order for order in orders if isinstance(order, SendText) and not order.spoken]

    @property
    def rung(self) -> list[tuple[str, Ms, str]]:
        """Who was called by voice so far, when (ms since the begin), and what is spoken."""
        return [
            (order.person, turn.now - self.began, order.body)
            for turn in self.turns
            for order in turn.orders
            if isinstance(order, SendText) and order.spoken
        ]

    def told(self, since: int = 0) -> list[tuple[str, str, Ms]]:
        """Who was sent what kind of text, and when (ms since the begin), from this turn on."""
        kinds = {w.entry.body["order"]: w.entry.body["about"] for w in self.entries if w.entry.kind == "text-queued"}
        return [
            (order.person, str(kinds[order.id]), turn.now - self.began)
            for turn in self.turns[since:]
            for order in turn.orders
            if isinstance(order, SendText) and not order.spoken
        ]

    @property
    def entries(self) -> list[Written]:
        """All entries so far."""
        return [written for turn in self.turns for written in turn.entries]

    def kinds(self, turn: Turn | None = None) -> list[str]:
        """The kinds of entries, of one turn or of all."""
        return [w.entry.kind for w in (self.entries if turn is None else turn.entries)]

    @property
    def held(self) -> list[Mapping[str, Plain]]:
        """What was held back so far, but for the first texts to people who have not agreed to be texted."""
        bodies = (written.entry.body for written in self.entries if written.entry.kind == "held-back")
        return [body for body in bodies if body["about"] != WELCOME]

    def bytes(self) -> bytes:
        """The live state."""
        return state_bytes(self.desk.state)

    def rebuilt(self, entries: Sequence[Written] | None = None) -> bytes:
        """The state as the fold of all entries and readings."""
        rows = [(turn.happening, turn.now, one) for turn in self.turns for one in turn.readings]
        again = rebuilt(self.desk.bundle, None, self.entries if entries is None else entries, rows)
        return state_bytes(again.state)


def reading(key: str, text: str, *, own_time: Ms | None = None, retained: bool = False) -> Reading:
    """A reading as it leaves decoding."""
    carries = SIGNALS[f"{BOAT}/{key}"].carries
    grade = Grade.UNREADABLE if text == "?" else Grade.NUMBER if carries is Carries.NUMBER else Grade.CONTACT
    return Reading(signal=f"{BOAT}/{key}", grade=grade, text=text, own_time=own_time, retained=retained)


def bundle_of(*points: Point, callouts: Sequence[CallOutList] = (LIST,), **more: object) -> Bundle:
    """The starter's people and speech with these points on the small boat's signals; nothing to switch unless given."""
    whole = starter_bundle()
    # nobody has agreed yet, so no first text, round or digest comes between the alarms
    people = {key: replace(whole.people[key], boats=(BOAT,), consent="") for key in (INES, TOBIAS, RUTH, MARINA)}
    return replace(
        whole,
        boats={BOAT: whole.boats[BOAT]},
        people=people,
        signals=SIGNALS,
        points={one.id: one for one in points},
        callouts={one.key: one for one in callouts},
        **{"equipment": {}, **more},  # type: ignore[arg-type]
    )


WELL = {"house-volts": "12.61", "start-volts": "12.8", "fuel-level": "80", "fridge-temperature": "3", "shore": "on"}


def well(signal: Signal) -> Reading:
    """The value that stands in nobody's way."""
    usual = {Carries.CONTACT: "off", Carries.NUMBER: "0", Carries.WORD: "REMOTE"}[signal.carries]
    grade = {Carries.CONTACT: Grade.CONTACT, Carries.NUMBER: Grade.NUMBER, Carries.WORD: Grade.WORD}[signal.carries]
    return Reading(signal=signal.id, grade=grade, text=WELL.get(signal.key, usual))


def with_salt_harrier(bundle: Bundle, *people: str) -> Bundle:
    """The same with a second boat, which is a matter of these people too."""
    other = replace(bundle.boats[BOAT], key="salt-harrier", name="SALT HARRIER", short_name="harrier")
    both = {key: replace(bundle.people[key], boats=(BOAT, "salt-harrier")) for key in people}
    return replace(bundle, boats={BOAT: bundle.boats[BOAT], other.key: other}, people={**bundle.people, **both})


def small(*points: Point, callouts: Sequence[CallOutList] = (LIST,), linked: bool = True) -> Small:
    """A desk that has just started for the first time, its link up."""
    boat = Small(Desk(bundle_of(*points, callouts=callouts)), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=boat.desk.bundle.fingerprint, people=tuple(boat.desk.bundle.people)))
    boat.take(Started(stopped_at=None))
    if linked:
        boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def rightly_doubted(
    heard: Sequence[Ms], at: Ms, doubted: bool, own: Sequence[Ms], ages: Sequence[tuple[Ms, Ms]] = ()
) -> bool:
    """By the instants at which messages came alone: whether one without a time of its own that comes now is rightly
    taken for one that may have lain in a queue, or rightly not. What comes first behind more than the 90 s of the
    boat's signals must be; what comes when the queue must have ended must not, however it stalled meanwhile; the rule
    may decide between them. heard: when the boat was; own: when this signal came before (instants). ages: of what came
    late by its own time, when, and how old it was (ms). Looks at every silence, one by one."""
    pauses = [(before, after) for before, after in pairwise([*(one for one in own if one < at), at])]
    silences = [(after, after - before) for before, after in pauses if after - before > 90 * SECOND]
    if any(after == at for after, _ in silences):
        return doubted
    first = min(own, default=at)  # a signal that was never heard was as silent as its boat
    boats = [(before, after) for before, after in pairwise(heard) if after <= first]
    silences += [(after, after - before) for before, after in boats if after - before > 90 * SECOND]

    def may_last(after: Ms, silence: Ms) -> Ms:
        stalls = sum(end - begin for begin, end in pauses if begin >= after and end - begin > 30 * SECOND)
        return after + 2 * silence + 3 * stalls

    return not doubted or any(at <= may_last(after, silence) for after, silence in (*silences, *ages))
