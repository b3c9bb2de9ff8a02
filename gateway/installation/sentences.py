"""Condition sentences, read and held against the boat's signals."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from gateway.boat.settings import Carries, Signal
from gateway.installation.findings import Findings, Placed
from gateway.installation.lengths import spelt
from gateway.installation.nearest import did_you_mean
from gateway.installation.slips import Slip, continued
from gateway.reckoning.lines import FEWEST_SAMPLES, SHORTEST_SPAN
from gateway.vocabulary.moments import HOUR, MINUTE, Ms
from grammar.meanings import (
    Condition,
    FixesAway,
    Gone,
    HasChanged,
    IsBand,
    IsCompared,
    IsContact,
    IsMoving,
    IsNumber,
    IsUnbelievable,
    IsWord,
    NoNews,
    RanLonger,
    StartedOften,
    StartsGrow,
    leaves_of,
)
from grammar.sentences import SentenceRefused, read_clearing, read_condition


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What sentences of one boat may speak of. signals: by key; None for one whose own table is at fault, so that
    nothing more is said of it. left_out: keys of signals that the boat's file drops from its standard."""

    signals: Mapping[str, Signal | None]
    left_out: frozenset[str] = frozenset()

    def signal(self, key: str) -> Signal | None:
        """The signal, or None when its own table is at fault. Raises Slip when there is no such signal."""
        if key in self.left_out and key not in self.signals:
            raise Slip(f'the signal "{key}" is left out on this boat', "change this table too, or leave it out as well")
        if key not in self.signals:
            raise Slip(f'no signal is called "{key}"', did_you_mean(key, self.signals))
        return self.signals[key]


def read_sentence(
    text: str, known: Known, placed: Placed, path: Sequence[str | int], findings: Findings
) -> Condition | None:
    """The condition, or None after its mistake was noted."""
    condition = _read(read_condition, text, known, placed, path, findings)
    return None if isinstance(condition, Gone) else condition


def read_end(
    text: str, known: Known, placed: Placed, path: Sequence[str | int], findings: Findings
) -> Condition | Gone | None:
    """The same for what stands after `clears`."""
    return _read(read_clearing, text, known, placed, path, findings)


def _read(
    read: Callable[[str], Condition | Gone],
    text: str,
    known: Known,
    placed: Placed,
    path: Sequence[str | int],
    findings: Findings,
) -> Condition | Gone | None:
    try:
        condition = read(text)
    except SentenceRefused as refused:
        problem = f"cannot be read at character {refused.column}: {refused.problem}"
        findings.mistake(placed, path, problem, continued(refused.remedy))
        return None
    try:
        _held_against(condition, known)
    except Slip as slip:
        findings.slip(placed, path, slip)
        return None
    return condition


def _held_against(condition: Condition | Gone, known: Known) -> None:
    """Raises Slip when the sentence does not fit the boat's signals."""
    if isinstance(condition, Gone):
        return
    for leaf in leaves_of(condition):
        _single(leaf, known)


def _single(leaf: Condition, known: Known) -> None:
    if isinstance(leaf, NoNews) and leaf.signal is None:
        _silence(leaf.lasting, [signal for signal in known.signals.values() if signal])
        return
    signal = known.signal(leaf.signal or "")
    if signal is None:
        return
    wanted = _CARRIED.get(type(leaf))
    if wanted is not None and signal.carries is not wanted:
        raise Slip(f'"{signal.key}" {_NOT[wanted]}', _how_to_say(signal))
    _units(leaf, signal, known)
    _rest(leaf, signal)


def _units(leaf: Condition, signal: Signal, known: Known) -> None:
    match leaf:
        case IsNumber(limit=limit, unit=unit):
            _unit(f"{limit:f}", unit, signal, "the limit")
        case IsBand(low=low, high=high, unit=unit):
            _unit(f"{low:f} and {high:f}", unit, signal, "the limit")
        case IsMoving(faster_than=speed, unit=unit):
            _unit(f"{speed:f}", unit, signal, "the rate")
            _samples(leaf, signal)
        case IsCompared():
            _compared(leaf, signal, known)


def _rest(leaf: Condition, signal: Signal) -> None:
    match leaf:
        case IsWord(word=word) if word not in signal.words:
            raise Slip(f'"{signal.key}" never is "{word}"', did_you_mean(word, signal.words))
        case IsUnbelievable() if signal.lowest is None and signal.highest is None:
            raise Slip(
                f'"{signal.key}" gives no range that could be believed',
                f"write lowest and highest in [signal.{signal.key}]",
            )
        case FixesAway(lat=None) if signal.set_position is None:
            raise Slip(
                f'"{signal.key}" gives no position where she belongs',
                f"write set_position = [50.0010, -5.0005] in [signal.{signal.key}], or the position in the sentence",
            )
        case RanLonger(window=window) | StartedOften(window=window) | HasChanged(window=window) if window:
            _window(window, signal)
        case StartsGrow():
            _window(HOUR, signal)
        case NoNews():
            _silence(leaf.lasting, [signal])


_CARRIED: Mapping[type, Carries] = {
    IsContact: Carries.CONTACT,
    RanLonger: Carries.CONTACT,
    StartedOften: Carries.CONTACT,
    StartsGrow: Carries.CONTACT,
    IsNumber: Carries.NUMBER,
    IsBand: Carries.NUMBER,
    IsCompared: Carries.NUMBER,
    IsMoving: Carries.NUMBER,
    IsUnbelievable: Carries.NUMBER,
    IsWord: Carries.WORD,
    FixesAway: Carries.POSITION,
}
"""What a signal must carry for a condition; any for those that are not here."""

_NOT = {
    Carries.CONTACT: "is no contact",
    Carries.NUMBER: "is no number",
    Carries.WORD: "carries no words",
    Carries.POSITION: "is no position",
}


def _compared(leaf: IsCompared, signal: Signal, known: Known) -> None:
    other = known.signal(leaf.other)
    if other is None:
        return
    if other.key == signal.key:
        raise Slip(f'"{signal.key}" is compared with itself', "name another signal")
    if other.carries is not Carries.NUMBER:
        raise Slip(f'"{other.key}" is no number', _how_to_say(other))
    if other.unit != signal.unit:
        units = f"{signal.unit or 'no unit'} and {other.unit or 'no unit'}"
        raise Slip(
            f'"{signal.key}" and "{other.key}" are in {units}', "compare signals of one unit; `scale` may make them so"
        )
    if leaf.by is not None:
        _unit(f"{leaf.by:f}", leaf.unit, signal, "the difference")
    elif leaf.deadband is not None:
        _unit(f"{leaf.deadband:f}", leaf.unit, signal, "the deadband")


def _samples(leaf: IsMoving, signal: Signal) -> None:
    """A rate needs ten samples, the first and the last of them half an hour apart (handbook 4.6). So the window is
    longer than that by one report, and by no less than a minute, because samples are thinned in a window."""
    least = FEWEST_SAMPLES * signal.report_interval
    if leaf.window < least:
        raise Slip(
            f'"{signal.key}" reports every {spelt(signal.report_interval)}, and a rate needs {FEWEST_SAMPLES} values',
            f'write "over {spelt(least)}" or longer',
        )
    least = SHORTEST_SPAN + max(signal.report_interval, MINUTE)
    if leaf.window < least:
        raise Slip(
            f"{spelt(leaf.window)} shows no rate: its first and last value must be {spelt(SHORTEST_SPAN)} apart",
            f'write "over {spelt(least)}" or longer',
        )


def _window(window: Ms, signal: Signal) -> None:
    """A window shorter than the time in which a signal goes stale holds hardly a value."""
    if window < signal.stale_after:
        raise Slip(
            f'{spelt(window)} is less than three report intervals of "{signal.key}"',
            f"write at least {spelt(signal.stale_after)}",
        )


def _how_to_say(signal: Signal) -> str:
    match signal.carries:
        case Carries.CONTACT:
            return f'write "{signal.key} on" or "{signal.key} off"'
        case Carries.NUMBER:
            return f'write "{signal.key} above" or "below" and a limit in {signal.unit or "plain numbers"}'
        case Carries.POSITION:
            return f'write "3 of 5 fixes of {signal.key} further than 25 m from its set position"'
        case Carries.WORD:
            return f'write "{signal.key} is" and one of: {", ".join(signal.words)}'


def _unit(figure: str, unit: str, signal: Signal, what: str) -> None:
    if unit == signal.unit:
        return
    right = f"{figure} {signal.unit}".rstrip()
    if not unit:
        raise Slip(f'{what} has no unit, and "{signal.key}" is in {signal.unit}', f'write "{right}"')
    has = f"is in {signal.unit}" if signal.unit else "has no unit"
    raise Slip(
        f'{what} is in {unit}, and "{signal.key}" {has}',
        f"write {what} in {signal.unit}" if signal.unit else f'write "{right}"',
    )


def _silence(lasting: int, signals: Sequence[Signal]) -> None:
    """A silence shorter than the time in which a signal goes stale would be raised by one lost message."""
    if not signals:
        return
    quickest = min(signals, key=lambda signal: signal.stale_after)
    if lasting < quickest.stale_after:
        raise Slip(
            f'{spelt(lasting)} is less than three report intervals of "{quickest.key}"',
            f"write at least {spelt(quickest.stale_after)}",
        )
