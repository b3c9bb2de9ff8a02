"""What the installer says of a boat and of its signals."""

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from zoneinfo import ZoneInfo

from gateway.vocabulary.moments import MINUTE, Ms

MISSED_INTERVALS = 3
"""A signal is stale after this many report intervals without news (handbook section 3: "no data since", our rule)."""


class Carries(StrEnum):
    """What a signal's values are."""

    NUMBER = "number"
    CONTACT = "contact"
    WORD = "word"
    POSITION = "position"


class Measures(StrEnum):
    """What kind of quantity a number is, where the starting values for delay and deadband depend on it (handbook
    2.5)."""

    FLOW = "flow"
    LEVEL = "level"
    PRESSURE = "pressure"
    TEMPERATURE = "temperature"
    BATTERY_12_V = "12 V battery"
    BATTERY_24_V = "24 V battery"


class Shared(StrEnum):
    """What several boats have in common, so that one fault there shows on all of them."""

    LINK = "link"  # the mast or line that carries their news ashore
    SUPPLY = "supply"  # the shore supply that feeds them
    BERTH = "berth"  # the pontoon, basin or trot they lie at


class Senses(StrEnum):
    """What a signal tells about safety, where the interlocks must know it. The installer marks such signals."""

    CO = "carbon monoxide"
    FIRE = "fire"
    GAS = "gas"
    PERSON = "somebody aboard"  # hatch, motion, panel use: `on` is a sign of a person
    SELECTOR = "selector"  # the boat's own LOCAL/REMOTE switch
    LOCK_OUT = "maintenance lock-out"  # `on` blocks remote switching
    PANEL_VISIT_OVER = "visit over at the panel"  # `on` ends a visit
    LINK = "the boat's link"  # what the boat's node, or her broker by its last will, says of her link; `off` is no link


class Raw(StrEnum):
    """How a number stands on the bus of the boat, where its topmost or lowest patterns mean "not available", "error"
    or "out of range" and no quantity. The scale is then still to be applied."""

    UNSIGNED_8 = "unsigned 8 bit"
    UNSIGNED_16 = "unsigned 16 bit"
    UNSIGNED_32 = "unsigned 32 bit"
    SIGNED_8 = "signed 8 bit"
    SIGNED_16 = "signed 16 bit"
    SIGNED_32 = "signed 32 bit"
    J1939_8 = "J1939 8 bit"
    J1939_16 = "J1939 16 bit"
    J1939_32 = "J1939 32 bit"


_RESERVED = 3
"""Topmost patterns that carry no quantity on NMEA 2000: not available, out of range, reserved (from memory). A Modbus
register that nothing fills reads as the topmost, too (common practice, no source)."""

_J1939_TOP = 0xFA
"""Highest first byte of a quantity by SAE J1939-71 (from memory): above lie indicators, error and not available."""


def _whole(bits: int, *, signed: bool) -> tuple[int, int]:
    """Both ends that carry a quantity. The lowest signed pattern is what registers without a sensor hold by the open
    SunSpec information model (from memory), and it is none either."""
    return (-(1 << bits - 1) + 1, (1 << bits - 1) - 1 - _RESERVED) if signed else (0, (1 << bits) - 1 - _RESERVED)


RAW_RANGE = {
    Raw.UNSIGNED_8: _whole(8, signed=False),
    Raw.UNSIGNED_16: _whole(16, signed=False),
    Raw.UNSIGNED_32: _whole(32, signed=False),
    Raw.SIGNED_8: _whole(8, signed=True),
    Raw.SIGNED_16: _whole(16, signed=True),
    Raw.SIGNED_32: _whole(32, signed=True),
    Raw.J1939_8: (0, _J1939_TOP),
    Raw.J1939_16: (0, (_J1939_TOP << 8) + 0xFF),
    Raw.J1939_32: (0, (_J1939_TOP << 24) + 0xFFFFFF),
}
"""Lowest and highest whole number that is a quantity."""


class TimeCounts(StrEnum):
    """What an own time counts that is a number since 1970-01-01T00:00:00Z."""

    SECONDS = "seconds"
    MILLISECONDS = "milliseconds"


@dataclass(frozen=True, slots=True, kw_only=True)
class Signal:
    """One value that a boat reports.

    id: ``boat/key``. topic: the MQTT topic without wildcards. pointer: RFC 6901 into a JSON payload, "" for the whole
    payload. on_words, off_words: how a contact is written, compared without case. words: the words of a word signal.
    unit: "" for contacts and words. scale: what the number is multiplied by. time_pointer: RFC 6901 to the time of
    measurement (RFC 3339 text, or seconds since the epoch), None when there is none.
    report_interval: ms between two reports when all is well.
    latitude, longitude: RFC 6901 from where `pointer` leads, for a position. set_position: where she belongs, degrees
    WGS84. measures: the kind of quantity, None when not said. lowest, highest: the range in which a value can be
    believed, in `unit`, None for no end. step: how far the sensor wanders by itself, in `unit`.
    raw: how the number stands on the bus, None for a plain one. not_available: what is sent instead of a number when
    there is none, as it is written. decimal_comma: a comma stands where others write a point ("12,6"). word_for: what
    is sent for a word, by what is sent. time_counts: of a time of measurement that is a number.
    spoken_names: what a person may call it who asks after it.
    """

    id: str
    boat: str
    key: str
    topic: str
    pointer: str = ""
    carries: Carries = Carries.NUMBER
    unit: str = ""
    scale: Decimal = Decimal(1)
    on_words: tuple[str, ...] = ("on", "true", "1", "closed")
    off_words: tuple[str, ...] = ("off", "false", "0", "open")
    words: tuple[str, ...] = ()
    time_pointer: str | None = None
    report_interval: Ms = MINUTE
    senses: Senses | None = None
    latitude: str = "/latitude"
    longitude: str = "/longitude"
    set_position: tuple[Decimal, Decimal] | None = None
    measures: Measures | None = None
    lowest: Decimal | None = None
    highest: Decimal | None = None
    step: Decimal = Decimal(0)
    raw: Raw | None = None
    not_available: tuple[str, ...] = ()
    decimal_comma: bool = False
    word_for: tuple[tuple[str, str], ...] = ()
    time_counts: TimeCounts = TimeCounts.SECONDS
    spoken_names: tuple[str, ...] = ()

    @property
    def stale_after(self) -> Ms:
        """How long without news (ms, by arrival) makes it stale."""
        return MISSED_INTERVALS * self.report_interval


@dataclass(frozen=True, slots=True, kw_only=True)
class Bank:
    """The house bank, for the sums of handbook 4.3. capacity: Ah at rated_hours (h). peukert: the maker's exponent.
    limit: per cent that is counted down to. charge, amps: ids of the shunt's signals, per cent and A (below zero is
    drawn); None when nothing counts them. volts: id of the bank's volts, chemistry: what it is made of, nominal: V; by
    them its charge is read when it has rested and no shunt counts it (handbook 4.1)."""

    capacity: Decimal
    rated_hours: Decimal
    peukert: Decimal
    limit: Decimal
    charge: str | None = None
    amps: str | None = None
    volts: str | None = None
    chemistry: str = ""
    nominal: int = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Boat:
    """One boat. key: its folder's name and chain's name. zone: boat time. broker, carrier: names in gateway.toml.

    berth: as it is said in a text ("C14"). emergency_number: what a person aboard should call there.
    bank: the house bank, None when nobody has said what it is.
    command_prefix: the topic under which its relay nodes listen, without trailing slash.
    shares: what it has in common with other boats, each with the name that they all say.
    """

    key: str
    name: str
    short_name: str
    zone: ZoneInfo
    broker: str
    carrier: str
    berth: str = ""
    emergency_number: str = "112"
    spoken_names: tuple[str, ...] = field(default=())
    shares: tuple[tuple[Shared, str], ...] = ()
    bank: Bank | None = None
