"""What must hold after every fault, looked at from outside and from the record; each breach is a sentence.

Kills, cuts and single faults are all judged by this. Outside: what the carrier has taken for phones, what reached the
boat, what the broker took of it. Record: what a verification and a fold of the store say, and what the model works out.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.demo.carrier_stand_in import SentText
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.state import STATE_VERSION, State
from gateway.doors.faces import ReadingRow
from gateway.doors.store import StoreReader, open_reader
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import HOUR, MINUTE
from tests.faults.model import LET_GO, Said, worked_out

TAKEN = frozenset({AlarmState.ACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED})


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What the world saw. sent: texts that the carrier took. commands: ids that reached the boat, how often each.
    raised: signals whose "on" the broker took. told: texts that told of each of them to its one person; empty: not
    looked at. texted: the carrier's ids of texts to us. installer: the random id of whoever is told of blind time.
    rang: the carrier's ids of the calls that it placed."""

    sent: Sequence[SentText]
    commands: Counter[str]
    raised: Sequence[str]
    told: Counter[str]
    texted: Sequence[str]
    installer: str
    rang: Sequence[str] = ()


@dataclass(slots=True)
class Record:
    """What stands in a store."""

    written: list[Written]
    readings: list[ReadingRow]
    folded: State
    entries: int = 0
    trouble: list[str] = field(default_factory=list)

    def of(self, kind: str) -> Iterator[Written]:
        """All entries of one kind."""
        return (one for one in self.written if one.entry.kind == kind)


def fold(reader: StoreReader, bundle: Bundle, version: str) -> State:
    """The state as a start at this moment would have it; version "": from the first entry on."""
    loaded = reader.load(version)
    rows = ((row.happening, row.now, row.reading) for row in loaded.readings)
    data = loaded.snapshot.data if loaded.snapshot is not None else None
    return rebuilt(bundle, data, loaded.entries, rows).state


def recorded(store: Path, bundle: Bundle) -> Record | str:
    """Everything in a store, verified and folded from the first entry and from its snapshot; or why not."""
    with open_reader(store) as reader:
        report = verify(reader)
        if not report.ok:
            return f"the logbook does not verify: {report}"
        found = Record(list(reader.written()), list(reader.readings()), fold(reader, bundle, ""))
        if fold(reader, bundle, STATE_VERSION) != found.folded:
            found.trouble.append("folded from its snapshot the state is another than from the first entry on")
    found.entries = report.entries
    return found


def judged(store: Path, bundle: Bundle, seen: Seen) -> list[str]:
    """Every breach of the rules, in words; empty when all of them held."""
    record = recorded(store, bundle)
    return [record] if isinstance(record, str) else breaches_of(record, seen)


def breaches_of(record: Record, seen: Seen) -> list[str]:
    """The same of a record that verifies."""
    return [
        *record.trouble,
        *_told(record, seen),
        *_texts(record, seen),
        *_commands(record, seen),
        *_blind(record, seen),
        *_model(record, seen),
    ]


def _told(record: Record, seen: Seen) -> Iterator[str]:
    for signal in seen.raised if seen.told else ():
        if not seen.told[signal]:
            yield f"an alarm was not told: {signal}"
        elif seen.told[signal] > 1:
            yield f"an alarm was told {seen.told[signal]} times: {signal}"
    kept = {str(one.entry.body["message"]) for one in record.of("text-received")}
    for message in seen.texted:
        if message not in kept:
            yield f"a text to us was never taken in: {message}"


def _texts(record: Record, seen: Seen) -> Iterator[str]:
    """Each text that the carrier took belongs to one order, and each order that has it to one text."""
    answers = [one.entry.body for one in record.of("text-answered")]
    claimed = Counter(str(body["message"]) for body in answers if body["accepted"])
    for text in seen.sent:
        if claimed[text.message] != 1:
            yield f"{claimed[text.message]} orders account for a text (none: it went twice): {text.number} {text.body}"
    for call in seen.rang:
        if claimed[call] != 1:
            yield f"{claimed[call]} orders account for a call (none: it rang twice): {call}"
    for message in claimed.keys() - {text.message for text in seen.sent} - set(seen.rang):
        yield f"an order is said to have gone out and has not: {message}"


def _commands(record: Record, seen: Seen) -> Iterator[str]:
    sent = [one.entry.body for one in record.of("request-step") if one.entry.body["event"] == "send"]
    meant = {str(body["order"]) for body in sent}
    meant |= {str(one.entry.body["order"]) for one in record.of("stop-sent")}
    for order, count in seen.commands.items():
        if count > 1:
            yield f"a command came {count} times: {order}"
        if order not in meant:
            yield f"a command came that nobody confirmed: {order}"
    for request, count in Counter(str(body["request"]) for body in sent).items():
        if count > 1:
            yield f"request {request} was carried out {count} times"


def _blind(record: Record, seen: Seen) -> Iterator[str]:
    """Each start but the first says since when nobody watched, and tells it when it was long or an alarm stood."""
    if not any(True for _ in record.of("service-started")):
        yield "no start stands in the record"
    moments = sorted(
        [row.now for row in record.readings] + [one.entry.now for one in record.written if one.entry.kind not in BEGINS]
    )
    raised = _standing_at(record)
    place, last_told = 0, -HOUR
    for one in record.of("service-started"):
        now, since = one.entry.now, one.entry.body["stopped_at"]
        while moments[place] < now:
            place += 1
        before = moments[place - 1] if place else None
        first = one.entry.happening
        told = [
            text.entry.body["person"]
            for text in record.of("text-queued")
            if text.entry.happening == first and text.entry.body["about"] == "blind time"
        ]
        if since is None:
            if one.entry.n > MOST_BEFORE_FIRST:
                yield f"entry {one.entry.n}: a start that knows nothing of the run before it"
            continue
        if before != since:
            yield f"entry {one.entry.n}: blind since {since}, and the last that was recorded is of {before}"
        long, lately = now - int(str(since)) > 10 * MINUTE, now - last_told < HOUR
        if (long or (raised(one.entry.n) and not lately)) and seen.installer not in told:
            yield f"entry {one.entry.n}: blind time with an alarm standing, or long, was not told to the installer"
        if seen.installer in told:
            last_told = now  # a gateway that stops again and again is told once an hour


BEGINS = frozenset(
    {"installation-used", "past-kept", "store-replaced", "store-restored", "alarm-given-up", "reference"}
)
"""What a start may have to say before it says that it is one."""

MOST_BEFORE_FIRST = 10
"""Entries that may stand before the first start of all: the installation in use, what is kept of the past."""


def _standing_at(record: Record) -> "Standing":
    return Standing([(one.entry.n, one.entry.body) for one in record.of("alarm-step")])


class Standing:
    """Whether any alarm stood at an entry, by the steps recorded before it. Asked in order."""

    def __init__(self, steps: Iterable[tuple[int, object]]) -> None:
        self._steps = list(steps)
        self._stands: set[object] = set()

    def __call__(self, n: int) -> bool:
        while self._steps and self._steps[0][0] < n:
            _, body = self._steps.pop(0)
            assert isinstance(body, dict)
            (self._stands.discard if body["after"] == AlarmState.NORMAL else self._stands.add)(body["point"])
        return bool(self._stands)


def _model(record: Record, seen: Seen) -> Iterator[str]:
    """The fold's alarms, numbers and newest values are those that the model works out of what was taken in. The rest
    of the state has no model: it is the same from the snapshot as from the first entry on (`recorded`)."""
    steps = [one.entry.body for one in record.of("alarm-step")]
    numbers: dict[str, int] = {}
    for body in steps:
        if body["event"] == "raise":
            numbers.setdefault(str(body["point"]), int(str(body["number"])))
    given = list(dict.fromkeys(int(str(body["number"])) for body in steps if body["after"] != AlarmState.NORMAL))
    if given != [*range(1, len(given) + 1)]:
        yield f"alarm numbers were not given in turn: {given}"
    model = worked_out(said_of(record), seen.raised, numbers)
    for signal in seen.raised:
        if signal not in model.newest:
            yield f"what the broker had taken of {signal} is not in the record"
    standing = record.folded.standing.by_point
    stands = {
        point: (alarm.number, alarm.active, alarm.state in TAKEN)
        for point, alarm in standing.items()
        if point in seen.raised
    }
    wanted = model.stands()
    for point in stands.keys() | wanted.keys():
        if stands.get(point) != wanted.get(point):
            yield f"{point}: the state says {stands.get(point)}, the model {wanted.get(point)} (number, holds, taken)"
    rest = record.folded.standing.closed.keys() & {numbers[signal] for signal in seen.raised if signal in numbers}
    if rest != model.over:
        yield f"numbers that rest: the state says {sorted(rest)}, the model {sorted(model.over)}"
    if numbers and record.folded.standing.last_number < max(numbers.values()):
        yield f"the last number is {record.folded.standing.last_number}, and {max(numbers.values())} was given"
    newest = {signal: latest.reading.text for signal, latest in record.folded.seen.latest.items()}
    for signal, words in model.newest.items():
        if newest.get(signal) != words:
            yield f"{signal}: the newest value is {newest.get(signal)!r}, by the model {words!r}"


def said_of(record: Record) -> list[Said]:
    """What was taken in, in order, as the model wants it."""
    found = [
        Said(at=(row.happening, place), what=row.reading.signal, words=row.reading.text, text=False)
        for place, row in enumerate(record.readings)
    ]
    for one in record.of("text-received"):
        part = one.parts[0]
        content = part.content if part is not None else None
        assert isinstance(content, dict)
        found.append(
            Said(at=(one.entry.happening, 0), what=str(content["number"]), words=str(content["body"]), text=True)
        )
    for one in record.of("alarm-step"):
        if one.entry.body["event"] == AlarmEvent.RE_ALARM:  # it fell due, so it was before what else this turn took in
            point = str(one.entry.body["point"])
            found.append(Said(at=(one.entry.happening, -1), what=point, words=LET_GO, text=False))
    return found
