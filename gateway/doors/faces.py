"""What the doors look like from inside: plain values, protocols and the one family of errors.

A door that talks to a real library and its in-memory twin in `pretend` pass the same tests.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Protocol, TypeAlias

from gateway.history.repacking import Repacked
from gateway.history.retention import HourHeld
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.orders import PublishCommand, SendMail, SendText
from gateway.vocabulary.readings import Reading

# ---------------------------------------------------------------- errors


class DoorTrouble(Exception):
    """Base of all that a door raises on purpose: where, what is wrong, what to do."""

    def __init__(self, *, where: str, problem: str, remedy: str) -> None:
        super().__init__(f"{where}: {problem}. {remedy}.")
        self.where, self.problem, self.remedy = where, problem, remedy


class StoreTrouble(DoorTrouble):
    """The store cannot commit (disk full, read-only, damaged). Nothing of the batch is on disk."""


class StoreUnreadable(DoorTrouble):
    """The store's file is no store of ours, or is damaged."""


class StoreOfOthers(StoreUnreadable):
    """The file is sound, but no store of ours, or of a later release: nothing for us to put aside."""


class StoreTaken(DoorTrouble):
    """Another service holds the store."""


# ---------------------------------------------------------------- bus


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokerSettings:
    """One MQTT broker. client_id must be the gateway's own; version 5 or 3 (3.1.1). Times in whole seconds.

    password is the secret itself, already fetched from where the installation says it lies; never printed.
    """

    name: str
    host: str
    port: int
    client_id: str
    version: int = 5
    user: str | None = None
    password: str | None = field(default=None, repr=False)
    ca_file: str | None = None
    keepalive: int = 25  # 20 to 30 s finds a half-open link within one to two keepalives (measured)
    session_expiry: int = 7 * 24 * 3600  # days, not minutes: an outage over a weekend must not lose the queue


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """One MQTT message, as it came. generation: number of the connection; a stale acknowledgement is dropped by it.

    topic is None when its bytes are no UTF-8. qos 0 messages need no acknowledgement.
    """

    generation: int
    mid: int
    qos: int
    topic: str | None
    payload: bytes
    retained: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BusChange:
    """The link to the broker came or went. memory_kept: the broker still knew our session. rival: it went because
    another client uses our client id, as far as can be seen."""

    up: bool
    memory_kept: bool = True
    detail: str = ""
    rival: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Overheard:
    """One message that somebody who only listens was given. topic: None when its bytes are no UTF-8. at: ms of a clock
    that only goes forward."""

    topic: str | None
    payload: bytes
    retained: bool
    at: Ms


class BrokerUnheard(DoorTrouble):
    """The broker could not be listened to."""


class Bus(Protocol):
    """One broker's link. All methods are called on the asyncio loop's own thread."""

    async def open(self, topics: Sequence[str]) -> None:
        """Begin to connect, and keep connecting for ever. Returns at once; a broker away is waited for."""
        ...

    def take(self) -> tuple[list[Arrived], list[BusChange]]:
        """All that has come since the last call, in order of arrival. `woken` is called when there is something."""
        ...

    def acknowledge(self, messages: Iterable[Arrived]) -> None:
        """Tell the broker that these are on disk, in order of arrival. Those of an older connection are dropped."""
        ...

    async def publish(self, topic: str, payload: str, *, retain: bool, expires_after: int | None) -> bool:
        """Publish at QoS 1; True when the broker took it within 10 s. expires_after in whole seconds (MQTT 5).

        Returns False at once while there is no connection: nothing is queued for later (a command never fires late).
        """
        ...

    async def close(self) -> None:
        """Disconnect cleanly; the session stays with the broker."""
        ...


# ---------------------------------------------------------------- carrier


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierSettings:
    """One text carrier's account. sender: our number, E.164. base_url: None for the carrier's own address.
    reports_to: where the carrier shall post what becomes of each text, None: nowhere.

    token is the secret itself; never printed.
    """

    name: str
    account: str
    sender: str
    token: str = field(repr=False)
    base_url: str | None = None
    reports_to: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """The carrier has the text. message: its id there. status: its first word on it."""

    message: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The carrier will not take the text. code: its error code as text, or the HTTP status; what follows from it stands
    in `gateway.telling.outcomes`. again_after: ms that the carrier itself asks to wait before another try, None: it
    said nothing."""

    code: str
    detail: str
    again_after: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NoAnswer:
    """Nobody knows whether the carrier acted: silence, a cut, an error page. It must be looked up before repeating."""

    detail: str


SendResult: TypeAlias = Accepted | Refused | NoAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class Inbound:
    """One text to us. message: the carrier's id. age: ms by the carrier's own clock (Date header), None unknown.
    sent_at: the text's own time (ms UTC), None when absent."""

    message: str
    number: str
    body: str
    age: Ms | None
    sent_at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Polled:
    """What a poll brought: oldest first; the carrier's clock (ms UTC) from the Date header, None when missing."""

    texts: tuple[Inbound, ...]
    carrier_now: Ms | None


class CarrierAway(DoorTrouble):
    """The carrier could not be asked (network, error page, refusal of the account)."""


class Carrier(Protocol):
    """One carrier. Every method blocks, at most about 10 s, and is called in a worker thread."""

    def send(self, order: SendText) -> SendResult:
        """Hand one text over. Never raises."""
        ...

    def look_up(self, order: SendText, since: Ms, known: frozenset[str]) -> str | None:
        """The id of a text of ours with this addressee and body, sent since then and not among `known`; else None.

        Raises CarrierAway.
        """
        ...

    def poll(self, now: Ms) -> Polled:
        """Texts to us of the last 26 h, whatever was seen before. Raises CarrierAway."""
        ...

    def status(self, message: str) -> tuple[str, str]:
        """The carrier's present word on a text of ours, and its error code or "". Raises CarrierAway."""
        ...


# ---------------------------------------------------------------- mail


@dataclass(frozen=True, slots=True, kw_only=True)
class MailSettings:
    """One mail server. sender: the address that mails come from. security: ``starttls`` (encrypted before anything is
    said, or not at all), ``tls`` (from the first byte), ``none`` (this machine's own loopback only).

    password is the secret itself; never printed.
    """

    host: str
    port: int
    sender: str
    security: str = "starttls"
    user: str | None = None
    password: str | None = field(default=None, repr=False)
    ca_file: str | None = None


class MailAway(DoorTrouble):
    """A mail was not taken, or nobody knows whether it was."""


class Mail(Protocol):
    """One mail server. Blocks, at most about a minute, and is called in a worker thread."""

    def send(self, order: SendMail) -> None:
        """Hand one mail over. Raises MailAway."""
        ...


# ---------------------------------------------------------------- inbox


HOOK_TEXTS, HOOK_REPORTS = "/texts", "/reports"
"""Our two paths below a web hook's public address: for texts to us, and for what becomes of texts of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HookSettings:
    """A web hook: where one carrier calls us. host, port: where it listens on this machine (port 0: any free one).
    public_url: the address that the carrier is given, without a slash at its end; signatures are held against it.
    account, sender: as in CarrierSettings; calls for another account or number are not taken."""

    name: str
    host: str
    port: int
    public_url: str
    account: str
    sender: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HookedText:
    """A text as a web hook brought it. The call tells no time, and what it says may have been said before. mark: the
    carrier's own reading of it as opt-out or opt-in ("STOP", "START", "HELP"), "" when there is none."""

    message: str
    number: str
    body: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryWord:
    """What became of a text of ours, as a web hook brought it. order: our order's id. code: "" when there is none."""

    order: str
    status: str
    code: str


class HookTaker(Protocol):
    """Whoever takes in what a web hook brings. Called on the loop's thread."""

    async def text(self, text: HookedText) -> bool:
        """A text. True when it is on disk, now or since long; False when it is not within 10 s."""
        ...

    async def word(self, word: DeliveryWord) -> bool:
        """A word on a text of ours. True when it is on disk."""
        ...

    def doubted(self, detail: str) -> None:
        """A call named our account and was not signed as it should be: an address or a token may be wrong."""
        ...


class Inbox(Protocol):
    """One carrier's web hook. Called on the loop's thread."""

    async def open(self, taker: HookTaker) -> None:
        """Listen. Raises DoorTrouble when that is not possible; then it may be tried again."""
        ...

    async def close(self) -> None:
        """Listen no more; at once, whoever is connected."""
        ...


# ---------------------------------------------------------------- clock


class Clock(Protocol):
    """Time as the service sees it. Called on the loop's thread."""

    def start(self, woken: Callable[[], None], not_before: Ms | None) -> None:
        """Begin to wake; `now` goes on from the later of the wall clock and this instant."""
        ...

    def now(self) -> Ms:
        """The instant, ms UTC; never goes back."""
        ...

    def wake_at(self, moment: Ms | None) -> None:
        """Call `woken` at this instant; replaces the one named before."""
        ...

    def step(self) -> Ms | None:
        """How far the wall clock has been moved since the last call, None when it was not."""
        ...

    async def sleep(self, length: Ms) -> None:
        """Wait for a length of time."""
        ...

    def close(self) -> None:
        """Wake no more."""
        ...


# ---------------------------------------------------------------- store


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """One reading as it was taken: number of the happening, instant of taking (ms UTC), the reading."""

    happening: int
    now: Ms
    reading: Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """An order that has come to its end. message: the carrier's id, "" when none. outcome: accepted, refused,
    published, not published, given up."""

    order: str
    outcome: str
    message: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """The desk's whole state after entry n and happening `happening`. A cache: thrown away when its version or its
    entry number is unknown. data: canonical JSON."""

    n: int
    happening: int
    state_version: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What one commit holds. All of it is on disk afterwards, or nothing."""

    readings: Sequence[ReadingRow] = ()
    written: Sequence[Written] = ()
    texts: Sequence[SendText] = ()
    commands: Sequence[PublishCommand] = ()
    mails: Sequence[SendMail] = ()
    settled: Sequence[Settled] = ()
    seen: Sequence[tuple[str, Ms]] = ()  # carrier's ids of inbound texts, and when they were taken in
    people: Sequence[tuple[str, str]] = ()  # (random id, key) of persons first met
    snapshot: Snapshot | None = None
    erased: Sequence[tuple[int, int]] = ()  # sealed parts to erase: (n of the entry, place among its parts)
    forgotten: Sequence[str] = ()  # random ids of persons whose keys and waiting texts leave the disk
    said: Sequence[str] = ()  # notes of the store about itself that stand in the record now: restored, replaced


@dataclass(frozen=True, slots=True, kw_only=True)
class RestoredMark:
    """The store was laid in place from a backup. backup_at: the last instant recorded in it, 0 when it was empty;
    backup_n: n of its last entry."""

    backup_at: Ms
    backup_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DamageMark:
    """The store takes the place of a damaged one. kept_as: that one's name now; problem: in words."""

    kept_as: str
    problem: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What the store notes about itself. restored, replaced: not said in the record yet, None otherwise.

    texts_after: texts sent before this instant (ms UTC) are never acted on. thinned_at: instant at which keeping was
    last looked after.
    """

    restored: RestoredMark | None = None
    replaced: DamageMark | None = None
    texts_after: Ms | None = None
    thinned_at: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenText:
    """A text whose order is on disk and whose end is not. queued_at: instant of the order."""

    order: SendText
    queued_at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What a start finds. entries and readings: all since the snapshot, by happening number, oldest first.

    open_texts: to be looked up and then sent. open_mails: to be sent again. open_commands: ids of commands whose end
    is unknown (never sent again). known_messages: carrier's ids of texts of ours that were accepted in the last 48 h.
    """

    snapshot: Snapshot | None
    entries: Iterable[Written]
    readings: Iterable[ReadingRow]
    open_texts: Sequence[OpenText]
    open_commands: Sequence[str]
    known_messages: frozenset[str]
    people: Sequence[tuple[str, str]]
    last_now: Ms | None
    marks: Marks = Marks()
    open_mails: Sequence[SendMail] = ()


class Store(Protocol):
    """The durable store. Used by one thread at a time."""

    def load(self, state_version: str) -> Loaded:
        """What the last run left. Raises StoreUnreadable."""
        ...

    def has_seen(self, messages: Sequence[str]) -> frozenset[str]:
        """Which of these inbound texts were taken in before, ever."""
        ...

    def commit(self, batch: Batch) -> None:
        """Put the batch on disk in one transaction, synced. Raises StoreTrouble, and then nothing of it is there."""
        ...

    def start_afresh(self, problem: str, now: Ms) -> None:
        """Put the damaged file aside and go on with an empty one, which bears the mark of it. Raises StoreTrouble."""
        ...

    def survey(self) -> list[HourHeld]:
        """What is held of readings, by hour. In any thread, beside everything else. Raises StoreTrouble."""
        ...

    def parts_before(self, before: Ms) -> tuple[int, int]:
        """(n of the last entry made before this instant, sealed parts up to it that are not erased). In any thread.
        Raises StoreTrouble."""
        ...

    def next_group(self, held: HourHeld) -> Repacked | None:
        """The next readings of an hour, packed; None when nothing is left. In any thread. Raises StoreTrouble."""
        ...

    def put_packed(self, packed: Repacked) -> bool:
        """Put packed readings in the place of the loose ones; False when those have changed. Raises StoreTrouble."""
        ...

    def drop_hour(self, before: Ms) -> bool:
        """Drop the oldest hour of readings taken before this instant; False when there is none. Raises
        StoreTrouble."""
        ...

    def erase_parts(self, after: int, upto: int) -> int | None:
        """Erase some sealed parts of entries after n `after`, up to n `upto`; where to go on, None at the end.
        Raises StoreTrouble."""
        ...

    def note_thinned(self, now: Ms) -> None:
        """Keeping was looked after. Raises StoreTrouble."""
        ...

    def close(self) -> None:
        """Close the file and let another service have it."""
        ...


Woken: TypeAlias = Callable[[], None]
"""Called by a door, on the loop's thread, when `take` has something."""
