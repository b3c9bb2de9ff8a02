"""The state is the fold of what was recorded: from the beginning or from a snapshot at any moment, with sealed parts or
without them, after anything that may come in any order. On the whole starter installation.
"""

from dataclasses import replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from gateway.boat.settings import Carries, Signal
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes, state_of
from gateway.desk.turn import Turn
from gateway.requests.life import RequestState
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import (
    CarrierTimeSeen,
    DeliveryReported,
    Happening,
    InstallationCame,
    LinkChanged,
    PublishAnswered,
    ReadingsCame,
    SendAnswered,
    Started,
    StoreRecovered,
    TextCame,
    TimeCame,
    UnknownTopicCame,
    WallClockStepped,
)
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339
from gateway.vocabulary.orders import PublishCommand, SendText
from gateway.vocabulary.readings import Grade, Reading
from tests.desk.small_boat import INES, MARINA, NUMBER_OF, RUTH, STRANGER, TOBIAS, starter_bundle, well
from tests.effort import tries

BUNDLE = starter_bundle()
LINKS = sorted(
    {f"broker:{b.broker}" for b in BUNDLE.boats.values()} | {f"carrier:{b.carrier}" for b in BUNDLE.boats.values()}
)
SIGNALS = sorted(BUNDLE.signals)
TEXTS = [
    "have it",
    "have it 1",
    "have it 2",
    "have it 9999",
    "checked",
    "checked 1",
    "ok",
    "\U0001f44d",
    'Liked "GREY WAGTAIL: start generator? Reply GO TEAPOT MARBLE by 08:11"',
    "visit",
    "visit over",
    "wagtail visit over",
    "status",
    "wagtail status",
    "alarms",
    "phrases",
    "wagtail generator start for 2 h",
    "generator stop",
    "wagtail refrigeration off until 18:00",
    "deck lights on",
    "wagtail deck lights off",
    "go teapot marble",
    "drop teapot marble",
    "STOP",
    "START",
    "",
    "open the pod bay",
    "x" * 1600,
]
LENGTHS = [1, SECOND, 20 * SECOND, MINUTE, 5 * MINUTE, 11 * MINUTE, HOUR, 5 * HOUR]


def value(signal: Signal, which: int) -> Reading:
    """One of a few values that matter, or an unreadable one."""
    if which == 0:
        return Reading(signal=signal.id, grade=Grade.UNREADABLE, text="?")
    if signal.carries is Carries.CONTACT:
        return Reading(signal=signal.id, grade=Grade.CONTACT, text="on" if which % 2 else "off")
    if signal.carries is Carries.WORD:
        return Reading(signal=signal.id, grade=Grade.WORD, text=signal.words[which % len(signal.words)])
    return Reading(signal=signal.id, grade=Grade.NUMBER, text=["0", "11.5", "12.61", "60", "231.0"][which % 5])


ASKED = ["deck lights on", "deck lights off", "refrigeration off", "generator start for 2 h", "cabin lights on for 1 h"]


@st.composite
def readings(draw: st.DrawFn) -> tuple[tuple[Reading, Ms | None], ...]:
    """Some readings that come together; own times as ms before now."""
    found = []
    for _ in range(draw(st.integers(1, 5))):
        one = value(BUNDLE.signals[draw(st.sampled_from(SIGNALS))], draw(st.integers(0, 4)))
        one = replace(one, retained=draw(st.sampled_from([False, False, False, True])))
        found.append((one, draw(st.sampled_from([None, None, None, 0, 5 * SECOND, HOUR, -10 * SECOND, -DAY]))))
    return tuple(found)


class Days(RuleBasedStateMachine):
    """Whatever may come to a desk; what it recorded is kept as a store would."""

    def __init__(self) -> None:
        super().__init__()
        self.desk = Desk(BUNDLE)
        self.now = from_rfc3339("2026-03-01T09:00:00Z")
        self.turns: list[Turn] = []
        self.snapshots: list[tuple[int, bytes]] = []
        self.waiting: list[SendText | PublishCommand] = []
        self.sent: list[SendText] = []

    @initialize()
    def it_starts(self) -> None:
        self.take(InstallationCame(fingerprint=BUNDLE.fingerprint, people=tuple(BUNDLE.people)))
        self.take(Started(stopped_at=None))
        for link in LINKS:
            self.take(LinkChanged(link=link, up=True))

    def take(self, happening: Happening) -> Turn:
        self.now = max(self.now, self.desk.state.now + 1)
        turn = self.desk.take(happening, self.now, len(self.turns).to_bytes(32, "big"))
        self.turns.append(turn)
        orders = [order for order in turn.orders if isinstance(order, SendText | PublishCommand)]
        self.waiting += orders
        self.sent += [order for order in orders if isinstance(order, SendText)]
        if not isinstance(happening, ReadingsCame | UnknownTopicCame | CarrierTimeSeen | DeliveryReported):
            assert any(w.entry.now == turn.now for w in turn.entries), "a happening left no entry"
        return turn

    @rule(some=readings())
    def readings_come(self, some: tuple[tuple[Reading, Ms | None], ...]) -> None:
        times = [None if age is None else self.now - age for _, age in some]
        self.take(
            ReadingsCame(readings=tuple(replace(one, own_time=at) for (one, _), at in zip(some, times, strict=True)))
        )

    @rule(which=st.integers(1, 4))
    def every_signal_says_something(self, which: int) -> None:
        self.take(ReadingsCame(readings=tuple(value(signal, which) for signal in BUNDLE.signals.values())))

    @rule(
        who=st.sampled_from([INES, TOBIAS, RUTH, MARINA, STRANGER]),
        body=st.sampled_from(TEXTS),
        age=st.sampled_from([0, 0, 0, 5 * MINUTE + 1, None]),
    )
    def a_text_comes(self, who: str, body: str, age: Ms | None) -> None:
        self.take(TextCame(message=f"SM{len(self.turns)}", number=NUMBER_OF.get(who, who), body=body, age=age))

    @rule(body=st.sampled_from(ASKED), back=st.booleans())
    def all_is_well_and_something_is_asked(self, body: str, back: bool) -> None:
        self.take(ReadingsCame(readings=tuple(well(signal) for signal in BUNDLE.signals.values())))
        self.a_text_comes(TOBIAS, "wagtail visit over", 0)
        self.take(ReadingsCame(readings=tuple(well(signal) for signal in BUNDLE.signals.values())))
        self.a_text_comes(INES, body, 0)
        if back:
            self.a_code_comes_back(False)

    @rule(running=st.booleans(), which=st.integers(1, 4))
    def the_equipment_answers(self, running: bool, which: int) -> None:
        nodes = [s for s in BUNDLE.signals.values() if s.key.endswith(("-running", "-volts", "-count"))]
        self.take(ReadingsCame(readings=tuple(value(s, int(running) or 2 * which) for s in nodes)))

    @rule(drop=st.booleans())
    def a_code_comes_back(self, drop: bool) -> None:
        for request in list(self.desk.state.requests.open.values()):
            if request.state is RequestState.WAITING and request.words is not None:
                body = f"{'drop' if drop else 'go'} {' '.join(request.words)}"
                self.a_text_comes(request.person, body, 0)

    @precondition(lambda self: self.waiting)
    @rule(place=st.integers(0, 9), good=st.booleans(), code=st.sampled_from(["30003", "21610"]))
    def an_order_is_answered(self, place: int, good: bool, code: str) -> None:
        order = self.waiting.pop(place % len(self.waiting))
        if isinstance(order, PublishCommand):
            self.take(PublishAnswered(order=order.id, taken=good))
        elif good:
            self.take(SendAnswered(order=order.id, accepted=True, message=f"SM{order.id}"))
        else:
            self.take(SendAnswered(order=order.id, accepted=False, code=code))

    @precondition(lambda self: self.sent)
    @rule(place=st.integers(0, 9), status=st.sampled_from(["sent", "delivered", "undelivered"]))
    def a_word_on_a_text_comes(self, place: int, status: str) -> None:
        self.take(DeliveryReported(order=self.sent[-1 - place % len(self.sent)].id, status=status))

    @rule(link=st.sampled_from(LINKS), up=st.booleans(), kept=st.booleans())
    def a_link_changes(self, link: str, up: bool, kept: bool) -> None:
        self.take(LinkChanged(link=link, up=up, memory_kept=kept))

    @rule(topic=st.sampled_from(["a/b", "c/d"]))
    def an_unknown_topic_comes(self, topic: str) -> None:
        self.take(UnknownTopicCame(broker="quay", topic=topic, sample="1"))

    @rule(by=st.sampled_from([-HOUR, 3 * MINUTE, HOUR]))
    def a_clock_moves(self, by: Ms) -> None:
        self.take(WallClockStepped(by=by))
        self.take(CarrierTimeSeen(ahead=by))

    @rule()
    def the_store_comes_back(self) -> None:
        self.take(StoreRecovered(since=self.now - MINUTE, until=self.now, told=("one line",)))

    @rule(length=st.sampled_from(LENGTHS))
    def time_passes(self, length: Ms) -> None:
        until = self.now + length
        while (due := self.desk.next_due()) is not None and due <= until:
            self.now = max(due, self.desk.state.now + 1)
            self.take(TimeCame())
            after = self.desk.next_due()
            assert after is None or after > self.now, "the desk would be woken for ever"
        self.now = max(until, self.now)

    @rule(length=st.sampled_from(LENGTHS))
    def nobody_wakes_the_desk(self, length: Ms) -> None:
        self.now += length

    @rule()
    def a_snapshot_is_taken(self) -> None:
        self.snapshots.append((len(self.turns), state_bytes(self.desk.state)))

    @rule(blind=st.sampled_from(LENGTHS), place=st.integers(0, 9))
    def the_gateway_is_restarted(self, blind: Ms, place: int) -> None:
        snapshot = self.snapshots[-1 - place % len(self.snapshots)] if self.snapshots else None
        live = state_bytes(self.desk.state)
        self.desk = self.fold(snapshot)
        assert state_bytes(self.desk.state) == live
        stopped, self.waiting = self.desk.state.now, []
        self.now = max(self.now, stopped) + blind
        self.take(Started(stopped_at=stopped))

    @invariant()
    def what_is_due_can_be_asked(self) -> None:
        self.desk.next_due()

    def fold(self, snapshot: tuple[int, bytes] | None, *, erased: bool = False) -> Desk:
        begin, data = snapshot if snapshot is not None else (0, None)
        turns = self.turns[begin:]
        entries = [without_parts(w) if erased else w for turn in turns for w in turn.entries]
        rows = [(turn.happening, turn.now, one) for turn in turns for one in turn.readings]
        return rebuilt(BUNDLE, data, entries, rows)

    def teardown(self) -> None:
        live = state_bytes(self.desk.state)
        assert state_bytes(self.fold(None).state) == live
        for snapshot in self.snapshots[-3:]:
            assert state_bytes(self.fold(snapshot).state) == live
        assert state_bytes(state_of(live)) == live
        assert state_bytes(self.fold(None, erased=True).state) == without_open_codes(live)


def without_parts(written: Written) -> Written:
    return replace(written, parts=(None,) * len(written.parts))


def without_open_codes(data: bytes) -> bytes:
    state = state_of(data)
    for key, request in state.requests.open.items():
        state.requests.open[key] = replace(request, words=None)
    return state_bytes(state)


TestDays = Days.TestCase
TestDays.settings = settings(max_examples=tries(30), stateful_step_count=30, deadline=None)
