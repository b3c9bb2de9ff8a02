"""Condition sentences, read and held against the boat's signals."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gateway.boat.settings import Carries, Signal
from gateway.installation.findings import Findings, Placed
from gateway.installation.lengths import spelt
from gateway.installation.nearest import did_you_mean
from gateway.installation.slips import Slip, continued
from grammar.meanings import Condition, IsContact, IsNumber, IsWord, NoNews
from grammar.sentences import SentenceRefused, read_condition


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
    try:
        condition = read_condition(text)
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


def _held_against(condition: Condition, known: Known) -> None:
    """Raises Slip when the sentence does not fit the boat's signals."""
    if isinstance(condition, NoNews) and condition.signal is None:
        _silence(condition.lasting, [signal for signal in known.signals.values() if signal])
        return
    signal = known.signal(condition.signal or "")
    if signal is None:
        return
    match condition:
        case IsContact():
            if signal.carries is not Carries.CONTACT:
                raise Slip(f'"{signal.key}" is no contact', _how_to_say(signal))
        case IsNumber():
            if signal.carries is not Carries.NUMBER:
                raise Slip(f'"{signal.key}" is no number', _how_to_say(signal))
            _unit(condition, signal)
        case IsWord():
            if signal.carries is not Carries.WORD:
                raise Slip(f'"{signal.key}" carries no words', _how_to_say(signal))
            if condition.word not in signal.words:
                raise Slip(f'"{signal.key}" never is "{condition.word}"', did_you_mean(condition.word, signal.words))
        case NoNews():
            _silence(condition.lasting, [signal])


def _how_to_say(signal: Signal) -> str:
    match signal.carries:
        case Carries.CONTACT:
            return f'write "{signal.key} on" or "{signal.key} off"'
        case Carries.NUMBER:
            return f'write "{signal.key} above" or "below" and a limit in {signal.unit or "plain numbers"}'
        case Carries.WORD:
            return f'write "{signal.key} is" and one of: {", ".join(signal.words)}'


def _unit(condition: IsNumber, signal: Signal) -> None:
    if condition.unit == signal.unit:
        return
    limit = f"{condition.limit:f} {signal.unit}".rstrip()
    if not condition.unit:
        raise Slip(f'the limit has no unit, and "{signal.key}" is in {signal.unit}', f'write "{limit}"')
    has = f"is in {signal.unit}" if signal.unit else "has no unit"
    raise Slip(
        f'the limit is in {condition.unit}, and "{signal.key}" {has}',
        f"write the limit in {signal.unit}" if signal.unit else f'write "{limit}"',
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
