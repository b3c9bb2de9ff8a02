"""A boat's signals."""

from collections.abc import Mapping

from gateway.boat.settings import Carries, Senses, Signal
from gateway.installation.boat_files import SignalTable
from gateway.installation.findings import Findings
from gateway.installation.names import check_keys
from gateway.installation.shape import shaped
from gateway.installation.slips import Slip
from gateway.installation.standards import Laid

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
    elif table.carries is not Carries.CONTACT:
        return [("senses", Slip(f"what senses {table.senses.value} is a contact", 'write carries = "contact"'))]
    return []
