"""A boat's own sums: ``[sum.KEY]`` in sums.toml or in her standard. Every mistake is named, none is guessed at.

A standard names signals and cannot know a boat's figures: a figure that is missing is a warning, and a text says so.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from gateway.boat.settings import Carries, Signal
from gateway.installation.findings import Findings
from gateway.installation.names import check_keys
from gateway.installation.nearest import did_you_mean
from gateway.installation.sentences import Known
from gateway.installation.slips import Slip
from gateway.installation.standards import Laid
from gateway.reckoning.asking import range_of
from gateway.reckoning.own_sums import FORMS, HOUSE_BANK, Feed, Form, OwnSum, Reckons


def build_sums(boat: str, tables: Laid, known: Known, findings: Findings) -> dict[str, OwnSum | None]:
    """Sums by key; None for one whose table is at fault."""
    written: Mapping[str, Any] = tables.values["sum"]
    check_keys(written, tables, ("sum",), findings)
    return {key: _sum(boat, key, values, tables, known, findings) for key, values in written.items()}


def check_asked(
    reckon: str | None, sums: Mapping[str, OwnSum | None], tables: Laid, path: tuple[str, str], findings: Findings
) -> None:
    """What an alarm's text is to reckon must be the house bank or one of the boat's sums."""
    if reckon is None or reckon == HOUSE_BANK or reckon in sums:
        return
    remedy = did_you_mean(reckon, (HOUSE_BANK, *sums))
    findings.mistake(tables, (*path, "reckon"), f'no sum is called "{reckon}"', remedy)


def _sum(
    boat: str, key: str, values: Mapping[str, Any], tables: Laid, known: Known, findings: Findings
) -> OwnSum | None:
    path = ("sum", key)
    before = len(findings.mistakes)
    reckons = values.get("reckons")
    if not isinstance(reckons, str) or reckons not in tuple(Reckons):
        problem = "is missing" if reckons is None else f'is "{reckons}", which is none of its values'
        remedy = "write one of " + ", ".join(f'"{each}"' for each in Reckons)
        findings.mistake(tables, (*path, "reckons"), problem, remedy)
        return None
    kind = Reckons(reckons)
    form = FORMS[kind]
    for name in values:
        if name not in ("reckons", *form.keys):
            remedy = did_you_mean(name, ("reckons", *form.keys))
            findings.mistake(tables, (*path, name), f"is no key of a {kind.value} sum", remedy)
    signals, figures, words = {}, {}, {}
    for name in form.keys:
        try:
            if name in form.signals:
                signals[name] = _signal(name, form.signals[name], values, known)
            elif name in form.figures:
                figures[name] = _figure(name, form, values)
                if figures[name] is None and form.figures[name][1]:
                    said = f"{name} is missing ({form.figures[name][0].words}): its texts will say so instead of a sum"
                    findings.warn(tables, path, said)
            else:
                words[name] = _word(name, form, values)
        except Slip as slip:
            findings.slip(tables, (*path, name), slip)
    if len(findings.mistakes) > before:
        return None
    return OwnSum(
        id=f"{boat}/{key}",
        boat=boat,
        key=key,
        reckons=kind,
        signals={name: signal.id for name, signal in signals.items() if signal is not None},
        figures={name: figure for name, figure in figures.items() if figure is not None},
        words=words,
    )


def _signal(name: str, feed: Feed, values: Mapping[str, Any], known: Known) -> Signal | None:
    named = values.get(name)
    if named is None:
        if feed.needed:
            raise Slip("is missing", f'name the signal that it is reckoned from: {name} = "..."')
        return None
    if not isinstance(named, str):
        raise Slip("is no text", "write the signal's name in quotation marks")
    signal = known.signal(named)
    if signal is None:
        return None
    if signal.carries is not feed.carries:
        raise Slip(f'"{named}" is a {signal.carries.value}', f"name a signal that is a {feed.carries.value}")
    if feed.units and signal.unit not in feed.units:
        unit = f"is in {signal.unit}" if signal.unit else "has no unit"
        raise Slip(f'"{named}" {unit}', f"name a signal in {' or '.join(feed.units)}")
    if signal.carries is Carries.POSITION and signal.set_position is None:
        raise Slip(f'"{named}" has no place to reckon from', "write set_position on that signal")
    return signal


def _figure(name: str, form: Form, values: Mapping[str, Any]) -> float | None:
    quantity = form.figures[name][0]
    written = values.get(name)
    example = f"{quantity.words}, {range_of(quantity)}"
    if written is None:
        return None
    if isinstance(written, bool) or not isinstance(written, int | Decimal):
        raise Slip("is no number", f"write {example}, without quotation marks")
    if not quantity.holds(float(written)):
        raise Slip(f"is {written}, which is out of range", f"write {example}")
    return float(written)


def _word(name: str, form: Form, values: Mapping[str, Any]) -> str:
    choice = form.words[name]
    written = values.get(name)
    options = ", ".join(f'"{option}"' for option in choice.options)
    if not isinstance(written, str) or written not in choice.options:
        raise Slip("is missing" if written is None else f'is "{written}"', f"write one of {options}")
    return written
