"""A boat's signals."""

from collections.abc import Mapping
from decimal import Decimal

from gateway.boat.settings import Carries, Senses, Signal, TimeCounts
from gateway.installation.boat_files import SignalTable
from gateway.installation.findings import Findings
from gateway.installation.names import check_keys
from gateway.installation.shape import shaped
from gateway.installation.slips import Slip
from gateway.installation.standards import Laid
from gateway.installation.starting_values import BATTERIES
from gateway.requests.boat_interlocks import NOT_SET

REMOTE, LOCAL = "REMOTE", "LOCAL"
"""The words of the boat's own selector (handbook 5.1, G0)."""


def build_signals(boat: str, tables: Laid, findings: Findings) -> dict[str, Signal | None]:
    """Signals by key; None for one whose table is at fault."""
    signals: dict[str, Signal | None] = {}
    known: Mapping[str, object] = tables.values["signal"]
    check_keys(known, tables, ("signal",), findings)
    places: dict[tuple[str, str], str] = {}
    for key, values in known.items():
        path = ("signal", key)
        table = shaped(SignalTable, values, tables, path, findings)
        signals[key] = None
        if table is None:
            continue
        _check(table, tables, path, findings)
        other = places.setdefault((table.topic, table.pointer), key)
        if other != key:
            findings.mistake(
                tables,
                (*path, "topic"),
                f'topic and pointer are also those of "{other}"',
                "one of them is copied: correct it",
            )
        signals[key] = Signal(
            id=f"{boat}/{key}",
            boat=boat,
            key=key,
            topic=table.topic,
            pointer=table.pointer,
            carries=table.carries,
            unit=table.unit,
            scale=table.scale,
            on_words=tuple(table.on_words),
            off_words=tuple(table.off_words),
            words=tuple(table.words),
            time_pointer=table.time_pointer,
            report_interval=table.report_interval,
            senses=table.senses,
            latitude=table.latitude,
            longitude=table.longitude,
            set_position=_position(table),
            measures=table.measures,
            lowest=table.lowest,
            highest=table.highest,
            step=table.step,
            raw=table.raw,
            not_available=tuple(table.not_available),
            decimal_comma=table.decimal_comma,
            word_for=tuple(table.word_for.items()),
            time_counts=table.time_counts or TimeCounts.SECONDS,
            spoken_names=tuple(dict.fromkeys((key.replace("-", " "), *table.spoken_names))),
        )
    return signals


def _check(table: SignalTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    """What one signal says must fit together."""
    for key, slip in _slips(table):
        findings.slip(tables, (*path, key), slip)


def _slips(table: SignalTable) -> list[tuple[str, Slip]]:
    slips = []
    if table.carries is not Carries.NUMBER and table.unit:
        slips.append(("unit", Slip(f"a {table.carries.value} has no unit", "leave the unit out")))
    if table.scale == 0:
        slips.append(("scale", Slip("is 0, so that every value would be 0", "write what the number is multiplied by")))
    if table.carries is Carries.WORD and not table.words:
        slips.append(("words", Slip("is missing", 'write all words it may carry, such as words = ["LOCAL", "REMOTE"]')))
    if table.carries is not Carries.WORD and table.words:
        slips.append(
            ("words", Slip(f"a {table.carries.value} carries no words", 'write carries = "word", or leave it out'))
        )
    both = {word.casefold() for word in table.on_words} & {word.casefold() for word in table.off_words}
    if both:
        slips.append(("on_words", Slip(f'"{min(both)}" stands for on and for off', "take it out of one of the lists")))
    if not table.on_words or not table.off_words:
        slips.append(("off_words" if table.on_words else "on_words", Slip("is empty", "write at least one word")))
    slips += _sensing(table)
    slips += _positions(table)
    slips += _quantities(table)
    slips += _as_sent(table)
    return slips


def _as_sent(table: SignalTable) -> list[tuple[str, Slip]]:
    """How it is sent must fit what it carries."""
    slips = []
    if table.carries is not Carries.NUMBER:
        given = {"raw": table.raw, "not_available": table.not_available, "decimal_comma": table.decimal_comma}
        for key in (key for key, value in given.items() if value):
            slips.append((key, Slip(f"stands on a {table.carries.value}", "leave it out: only a number has it")))
    if table.word_for and table.carries is not Carries.WORD:
        remedy = "write them as on_words and off_words" if table.carries is Carries.CONTACT else "leave it out"
        slips.append(("word_for", Slip(f"stands on a {table.carries.value}", remedy)))
    strange = [word for word in table.word_for.values() if word not in table.words]
    if strange and table.carries is Carries.WORD:
        slips.append(("word_for", Slip(f'"{strange[0]}" is none of its words', "write it into words as well")))
    if table.time_counts is not None and table.time_pointer is None:
        slips.append(("time_counts", Slip("has no time to count", "write time_pointer as well, or leave it out")))
    if table.pointer == "" and table.time_pointer == "":
        slips.append(("time_pointer", Slip("leads to the value itself", "write where in the payload the time stands")))
    return slips


def _position(table: SignalTable) -> tuple[Decimal, Decimal] | None:
    written = table.set_position
    return (written[0], written[1]) if written is not None and len(written) == 2 else None


def _positions(table: SignalTable) -> list[tuple[str, Slip]]:
    """Where she belongs, on a signal that says where she is."""
    written = table.set_position
    if written is None:
        return []
    if table.carries is not Carries.POSITION:
        return [("set_position", Slip(f"a {table.carries.value} has no position", 'write carries = "position"'))]
    if len(written) != 2 or abs(written[0]) > 90 or abs(written[1]) > 180:
        remedy = "write latitude and longitude in degrees, such as [50.0010, -5.0005]"
        return [("set_position", Slip("is no position", remedy))]
    return []


def _quantities(table: SignalTable) -> list[tuple[str, Slip]]:
    """What is said of a number must stand on a number."""
    slips = []
    given = {"measures": table.measures, "lowest": table.lowest, "highest": table.highest, "step": table.step or None}
    if table.carries is not Carries.NUMBER:
        for key in (key for key, value in given.items() if value is not None):
            slips.append((key, Slip(f"stands on a {table.carries.value}", "leave it out: only a number has it")))
    if table.measures in BATTERIES and table.carries is Carries.NUMBER and table.unit != "V":
        slips.append(("measures", Slip(f'is a battery, whose unit is V, not "{table.unit}"', 'write unit = "V"')))
    if table.lowest is not None and table.highest is not None and table.lowest >= table.highest:
        slips.append(("lowest", Slip("is not below highest", "write the range that the sensor can show")))
    if table.step < 0:
        slips.append(("step", Slip("is below 0", "write how far the value wanders by itself")))
    return slips


def _sensing(table: SignalTable) -> list[tuple[str, Slip]]:
    """What the interlocks rest on must be of the kind that they read."""
    if table.senses is None:
        return []
    if table.senses is Senses.SELECTOR:
        if table.carries is not Carries.WORD or not {REMOTE, LOCAL} <= set(table.words):
            return [
                (
                    "senses",
                    Slip("a selector says LOCAL or REMOTE", 'write carries = "word" and words = ["LOCAL", "REMOTE"]'),
                )
            ]
    elif table.senses is Senses.LOCK_OUT and table.carries is Carries.WORD:
        if NOT_SET not in {word.casefold() for word in table.words}:
            what = 'write words = ["off", "Ruth Okell"]: off, and the name on each tag or key'
            return [("words", Slip("never say that no lock-out is set", what))]
    elif table.carries is not Carries.CONTACT:
        return [("senses", Slip(f"what senses {table.senses.value} is a contact", 'write carries = "contact"'))]
    return []
