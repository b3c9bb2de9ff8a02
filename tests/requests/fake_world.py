"""A small world for the room's tests: settings and values that a test sets by hand. No boat, no clock of its own."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from zoneinfo import ZoneInfo

from gateway.alarms.aboard import Occupied
from gateway.alarms.settings import Concerns
from gateway.boat.latest import Latest
from gateway.boat.settings import Boat, Carries, Senses, Signal
from gateway.conditions.judging import Judged, Verdict, judge_strictly
from gateway.people.settings import Person, Right, Role
from gateway.requests.answers import Answer
from gateway.requests.asking import ask
from gateway.requests.authority import waits_until
from gateway.requests.carrying_out import published
from gateway.requests.confirming import confirm
from gateway.requests.decision import Decision
from gateway.requests.facts import REQUEST_FACTS
from gateway.requests.falling_due import fall_due, next_due, restarted
from gateway.requests.paper_lists import PaperList
from gateway.requests.proof import readings_changed
from gateway.requests.proving_numbers import prove
from gateway.requests.settings import Equipment, Interlock, PermittedHours, Sort
from gateway.requests.state import Requests
from gateway.requests.withdrawing import withdraw
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import SealedPart
from gateway.vocabulary.facts import Fact, body_of, fact_of
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339
from gateway.vocabulary.orders import PublishCommand
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import Condition, Confirm, IsContact, IsNumber, IsWord, PaperLine, Switch, Than

BOAT = "grey-wagtail"
MIDNIGHT = from_rfc3339("2026-03-01T00:00:00Z")
NOON = MIDNIGHT + 12 * HOUR
WORDS = tuple(f"word{number}" for number in range(1, 1026))
ALL = frozenset(Sort)
ZONE = ZoneInfo("UTC")


def at(clock: str) -> Ms:
    """An instant of the day by its UTC time: "03:11:00"."""
    return from_rfc3339(f"2026-03-01T{clock}Z")


def person(key: str, role: Role, boats: tuple[str, ...] = (BOAT,), rights: tuple[Right, ...] | None = None) -> Person:
    """One of the people of the scenario."""
    every = tuple(Right(boat=boat, equipment="*") for boat in boats)
    return Person(
        id=f"id-{key}",
        key=key,
        name=key.title(),
        number="+447700900101",
        role=role,
        zone=ZONE,
        boats=boats,
        rights=every if rights is None else rights,
    )


INES = person("ines", Role.OWNER)
TOBIAS = person("tobias", Role.CARETAKER)
RUTH = person("ruth", Role.INSTALLER)
MARINA = person("marina", Role.OFFICE, rights=())
PEOPLE = {one.id: one for one in (INES, TOBIAS, RUTH, MARINA)}

GENERATOR = Equipment(
    id=f"{BOAT}/generator",
    boat=BOAT,
    key="generator",
    name="generator",
    spoken_names=("generator",),
    sort=Sort.ENGINE,
    pair=("start", "stop"),
    topic="grey-wagtail/command/generator",
    feedback=f"{BOAT}/generator-running",
    count=f"{BOAT}/generator-count",
    proof=f"{BOAT}/generator-volts",
    selector=f"{BOAT}/selector",
    caution="CO KILLS.",
    interlocks=(
        Interlock(
            key="fuel",
            needs=IsNumber(signal="fuel-level", than=Than.AT_LEAST, limit=Decimal(20), unit="%"),
            says="fuel under 20%",
            actions=("start",),
        ),
    ),
    run_limit=4 * HOUR,
    default_run=HOUR,
    permitted=PermittedHours(start=8 * 60, end=20 * 60, by="Ruth Okell", reason="marina rules"),
)
FRIDGE = Equipment(
    id=f"{BOAT}/refrigeration",
    boat=BOAT,
    key="refrigeration",
    name="refrigeration",
    spoken_names=("refrigeration",),
    sort=Sort.REFRIGERATION,
    pair=("on", "off"),
    topic="grey-wagtail/command/refrigeration",
    feedback=f"{BOAT}/refrigeration-running",
    count=f"{BOAT}/refrigeration-count",
    minimum_off=5 * MINUTE,
    minimum_on=3 * MINUTE,
    prove_within=30 * SECOND,
)
LIGHTS = Equipment(
    id=f"{BOAT}/deck-lights",
    boat=BOAT,
    key="deck-lights",
    name="deck lights",
    spoken_names=("deck lights",),
    sort=Sort.LIGHTS,
    pair=("on", "off"),
    topic="grey-wagtail/command/deck-lights",
    feedback=f"{BOAT}/deck-lights-running",
    count=f"{BOAT}/deck-lights-count",
    run_limit=4 * HOUR,
    default_run=30 * MINUTE,
)
GAS_VALVE = Equipment(
    id=f"{BOAT}/gas-valve",
    boat=BOAT,
    key="gas-valve",
    name="gas valve",
    spoken_names=("gas valve",),
    sort=Sort.GAS_VALVE,
    pair=("open", "close"),
    topic="grey-wagtail/command/gas-valve",
    feedback=f"{BOAT}/gas-valve-open",
    count=f"{BOAT}/gas-valve-count",
)
HEATER = Equipment(
    id=f"{BOAT}/cabin-heater",
    boat=BOAT,
    key="cabin-heater",
    name="cabin heater",
    spoken_names=("cabin heater",),
    sort=Sort.HEAT,
    pair=("on", "off"),
    topic="grey-wagtail/command/cabin-heater",
    feedback=f"{BOAT}/cabin-heater-running",
    count=f"{BOAT}/cabin-heater-count",
    selector=f"{BOAT}/selector",
    caution="Check nothing lies on the outlets.",
    prove_within=4 * MINUTE,
    run_limit=3 * HOUR,
    default_run=HOUR,
    attempts=3,
    cooling_off=10 * MINUTE,
    cool_down=5 * MINUTE,
)
INVERTER = Equipment(
    id=f"{BOAT}/inverter",
    boat=BOAT,
    key="inverter",
    name="inverter",
    spoken_names=("inverter",),
    sort=Sort.INVERTER,
    pair=("on", "off"),
    topic="grey-wagtail/command/inverter",
    feedback=f"{BOAT}/inverter-running",
    count=f"{BOAT}/inverter-count",
    selector=f"{BOAT}/selector",
    caution="Sockets become live.",
    prove_within=30 * SECOND,
)
EQUIPMENT = {piece.id: piece for piece in (GENERATOR, FRIDGE, LIGHTS, GAS_VALVE, HEATER, INVERTER)}


def _signal(
    key: str, carries: Carries, unit: str = "", senses: Senses | None = None, words: tuple[str, ...] = ()
) -> Signal:
    return Signal(
        id=f"{BOAT}/{key}",
        boat=BOAT,
        key=key,
        topic=f"{BOAT}/{key}",
        carries=carries,
        unit=unit,
        report_interval=30 * SECOND,
        senses=senses,
        words=words,
    )


SIGNALS = {
    signal.id: signal
    for signal in (
        *(_signal(piece.feedback.partition("/")[2], Carries.CONTACT) for piece in EQUIPMENT.values()),
        *(_signal(piece.count.partition("/")[2], Carries.NUMBER) for piece in EQUIPMENT.values()),
        _signal("generator-volts", Carries.NUMBER, "V"),
        _signal("fuel-level", Carries.NUMBER, "%"),
        _signal("selector", Carries.WORD, senses=Senses.SELECTOR, words=("LOCAL", "REMOTE")),
        _signal("lock-out", Carries.CONTACT, senses=Senses.LOCK_OUT),
        _signal("co-detector", Carries.CONTACT, senses=Senses.CO),
        _signal("smoke-detector", Carries.CONTACT, senses=Senses.FIRE),
        _signal("gas-detector", Carries.CONTACT, senses=Senses.GAS),
        _signal("presence", Carries.CONTACT, senses=Senses.LINK),
    )
}
ALL_WELL = {
    "generator-running": "off",
    "refrigeration-running": "on",
    "deck-lights-running": "off",
    "gas-valve-open": "on",
    "cabin-heater-running": "off",
    "inverter-running": "off",
    "generator-count": "7",
    "refrigeration-count": "8",
    "deck-lights-count": "9",
    "gas-valve-count": "10",
    "cabin-heater-count": "11",
    "inverter-count": "12",
    "generator-volts": "0",
    "fuel-level": "64",
    "selector": "REMOTE",
    "lock-out": "off",
    "co-detector": "off",
    "smoke-detector": "off",
    "gas-detector": "off",
}


@dataclass(slots=True)
class FakeWorld:
    """What the stages may ask. Everything is set by the test."""

    now: Ms = NOON
    values: dict[str, Latest] = field(default_factory=dict)
    somebody: Occupied | None = None
    alarms: dict[Concerns, int] = field(default_factory=dict)
    silent: Ms | None = None
    link: bool = True
    clock_off: Ms = 0
    doubtful: bool = False
    left_out: set[str] = field(default_factory=set)

    def wall(self, at: Ms) -> Ms:
        return at + self.clock_off

    def clock_doubtful(self) -> bool:
        return self.doubtful

    def boat(self, key: str) -> Boat:
        return Boat(key=key, name="Grey Wagtail", short_name="GREY WAGTAIL", zone=ZONE, broker="boats", carrier="one")

    def judge(self, boat: str, condition: Condition) -> Judged:
        if isinstance(condition, IsContact | IsNumber | IsWord):
            return judge_strictly(condition, boat, self.values, SIGNALS, self.now)
        return Judged(verdict=Verdict.UNKNOWN)

    def latest(self, signal: str) -> Latest | None:
        return self.values.get(signal)

    def signal(self, signal: str) -> Signal:
        return SIGNALS[signal]

    def sensing(self, boat: str, senses: Senses) -> tuple[Signal, ...]:
        return tuple(
            s for s in SIGNALS.values() if s.senses is senses and s.boat == boat and s.key not in self.left_out
        )

    def occupied(self, boat: str) -> Occupied | None:
        assert boat == BOAT
        return self.somebody

    def alarm_active(self, boat: str, concerns: Concerns) -> int | None:
        assert boat == BOAT
        return self.alarms.get(concerns)

    def silent_since(self, boat: str) -> Ms | None:
        assert boat == BOAT
        return self.silent

    def link_up(self, boat: str) -> bool:
        assert boat == BOAT
        return self.link

    def minute_of_day(self, boat: str, at: Ms) -> int:
        assert boat == BOAT
        return (at % DAY) // MINUTE

    def next_clock_time(self, boat: str, minute: int) -> Ms:
        assert boat == BOAT
        today = self.now - self.now % DAY + minute * MINUTE
        return today if today > self.now else today + DAY


def all_proved() -> Requests:
    """A state in which every number has been proved."""
    state = Requests()
    state.numbers.proved |= dict.fromkeys(PEOPLE, MIDNIGHT)
    return state


@dataclass(slots=True)
class Room:
    """The room as the desk would run it: facts are applied as they are decided, through their written form."""

    world: FakeWorld = field(default_factory=FakeWorld)
    state: Requests = field(default_factory=all_proved)
    equipment: dict[str, Equipment] = field(default_factory=lambda: dict(EQUIPMENT))
    people: dict[str, Person] = field(default_factory=lambda: dict(PEOPLE))
    lists: dict[str, PaperList] = field(default_factory=dict)
    facts: list[Fact] = field(default_factory=list)
    chains: list[str] = field(default_factory=list)
    orders: list[PublishCommand] = field(default_factory=list)
    told: list[Answer] = field(default_factory=list)
    draw: int = 0
    erase: bool = False

    def draws(self) -> Draws:
        self.draw += 1
        return Draws(self.draw.to_bytes(32, "big"))

    def take(self, decision: Decision) -> tuple[Answer, ...]:
        """What the desk does with a decision; gives its answers."""
        kinds = {kind.kind: kind for kind in REQUEST_FACTS}
        for note in decision.notes:
            cls = kinds[note.fact.kind]
            read = fact_of(cls, cls.version, body_of(note.fact))
            assert read == note.fact
            parts = [None if self.erase else SealedPart(salt="00", content=part) for part in note.sealed]
            self.state.apply(read, self.world.now, parts)
            self.facts.append(note.fact)
            self.chains.append(note.chain)
        self.orders.extend(decision.orders)
        self.told.extend(decision.answers)
        return decision.answers

    def report(self, **values: str) -> tuple[Answer, ...]:
        """Values arrive now, as if live, and what is due is done. Names with underscores for hyphens."""
        return self.hear({key.replace("_", "-"): value for key, value in values.items()})

    def hear(self, values: Mapping[str, str]) -> tuple[Answer, ...]:
        """The same by the signals' keys."""
        for key, value in values.items():
            self.set(key, value)
        return self.take_readings(*values) + self.due()

    def take_readings(self, *keys: str) -> tuple[Answer, ...]:
        """The room is told that these signals have new values, whatever they are."""
        signals = frozenset(f"{BOAT}/{key}" for key in keys)
        return self.take(readings_changed(self.state, signals, self.equipment, self.world))

    def set(self, key: str, value: str, *, retained: bool = False, late: bool = False) -> None:
        """A value arrives, and nobody is told."""
        signal = SIGNALS[f"{BOAT}/{key}"]
        grade = {Carries.NUMBER: Grade.NUMBER, Carries.CONTACT: Grade.CONTACT, Carries.WORD: Grade.WORD}[signal.carries]
        reading = Reading(signal=signal.id, grade=grade, text=value, retained=retained, late=late)
        self.world.values[signal.id] = Latest(reading, self.world.now, self.world.now)

    def all_well(self, **but: str) -> None:
        """Every signal reports now, all is well but these."""
        self.hear(ALL_WELL | {key.replace("_", "-"): value for key, value in but.items()})

    def freshen(self) -> None:
        """Every signal reports again what it said last."""
        self.hear({key.partition("/")[2]: known.reading.text for key, known in self.world.values.items()})

    def ask(
        self,
        equipment: Equipment,
        action: str,
        minutes: int | None = None,
        until: int | None = None,
        who: Person = INES,
        age: Ms | None = 0,
    ) -> Answer:
        switch = Switch(equipment=equipment.key, action=action, minutes=minutes, until=until)
        piece = self.equipment[equipment.id]
        answers = self.take(
            ask(self.state, piece, who, switch, age, self.world, self.draws(), WORDS, self.people, self.lists)
        )
        return answers[-1]

    def go(
        self,
        words: Sequence[str],
        who: Person = INES,
        age: Ms | None = 0,
        line: PaperLine | None = None,
        *,
        patient: bool = True,
    ) -> tuple[Answer, ...]:
        """Words come back. patient: from somebody who lets the wait after wrong words pass first."""
        self.wait_out(who, patient)
        first, second = words
        return self.take(
            confirm(
                self.state,
                who,
                Confirm(words=(first, second), line=line),
                age,
                self.equipment,
                self.people,
                self.lists,
                self.world,
                self.draws(),
                WORDS,
            )
        )

    def wait_out(self, who: Person, patient: bool) -> None:
        """Let pass what must be waited after wrong words."""
        waits = waits_until(self.state, who.id) - self.world.now
        if patient and waits > 0 and not self.state.locked(who.id, self.world.now):
            self.wait(waits)

    def prove(
        self, words: Sequence[str], who: Person = INES, age: Ms | None = 0, *, patient: bool = True
    ) -> tuple[Answer, ...]:
        self.wait_out(who, patient)
        first, second = words
        return self.take(prove(self.state, who, (first, second), age, self.people, self.world))

    def drop(self, words: Sequence[str], who: Person = INES, age: Ms | None = 0) -> tuple[Answer, ...]:
        first, second = words
        return self.take(withdraw(self.state, who, (first, second), age, self.world))

    def broker(self, *, taken: bool = True, order: str | None = None) -> tuple[Answer, ...]:
        last = self.orders[-1].id if order is None else order
        return self.take(published(self.state, last, taken, self.equipment, self.world))

    def due(self) -> tuple[Answer, ...]:
        return self.take(fall_due(self.state, self.equipment, self.people, self.world, self.draws()))

    def restart(self) -> tuple[Answer, ...]:
        return self.take(restarted(self.state, self.equipment, self.world))

    def wait(self, span: Ms, *, fresh: bool = True) -> tuple[Answer, ...]:
        """Time passes; what falls due meanwhile is done at its instant. fresh: all signals go on reporting."""
        end = self.world.now + span
        start = len(self.told)
        while True:
            due = next_due(self.state)
            if due is None or due > end:
                break
            self.world.now = max(self.world.now, due)
            if fresh:
                self._still_fresh()
            self.due()
            later = next_due(self.state)
            assert later is None or later > self.world.now, "what is due must move on"
        self.world.now = end
        if fresh:
            self._still_fresh()
        return tuple(self.told[start:])

    def _still_fresh(self) -> None:
        for key, known in self.world.values.items():
            self.world.values[key] = replace(known, measured=self.world.now, arrived=self.world.now)


def room(now: Ms = NOON) -> Room:
    """A room in which everything has been well for an hour."""
    made = Room(world=FakeWorld(now=now - HOUR))
    made.all_well()
    made.world.now = now
    made.freshen()
    return made


def drop_selector_of(one: Room, piece: Equipment) -> None:
    """The boat has no selector, and nobody excepted this piece."""
    one.world.left_out.add("selector")
    one.equipment[piece.id] = replace(piece, selector=None)
