"""Kinds of condition that the newest values decide, each beside a plain model of it, with the values at its edges."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

Values = Mapping[str, str]
Verdict = Callable[[Values], bool]


@dataclass(frozen=True)
class Kind:
    """when: the sentence without its delay. met, gone: what the model says of one set of values. shown: what each
    signal may show, its limits and both ends of its deadband among them."""

    when: str
    met: Verdict
    gone: Verdict
    shown: Mapping[str, Sequence[str]]


def number(key: str, test: Callable[[Decimal], bool]) -> Verdict:
    return lambda values: test(Decimal(values[key]))


def around(*edges: str) -> list[str]:
    """Each edge, and the nearest values on both its sides that a sensor with hundredths can show."""
    near = (Decimal("-0.01"), Decimal(0), Decimal("0.01"))
    return [str(value) for value in sorted({Decimal(edge) + by for edge in edges for by in near})]


LOW = around("12.0", "12.2")
HIGH = around("8", "7.9")
BAND = around("11.5", "11.7", "14.8", "15.0")

KINDS = {
    "contact": Kind(
        "shore off",
        lambda v: v["shore"] == "off",
        lambda v: v["shore"] == "on",
        {"shore": ["on", "off"]},
    ),
    "word": Kind(
        "selector is REMOTE",
        lambda v: v["selector"] == "REMOTE",
        lambda v: v["selector"] != "REMOTE",
        {"selector": ["REMOTE", "LOCAL", "OFF"]},
    ),
    "not believable": Kind(
        "cabin not believable",
        number("cabin", lambda v: v < -30 or v > 70),
        number("cabin", lambda v: -30 <= v <= 70),
        {"cabin": around("-30", "70")},
    ),
    "below": Kind(
        "volts below 12.0 V with deadband 0.2 V",
        number("volts", lambda v: v < 12),
        number("volts", lambda v: v > Decimal("12.2")),
        {"volts": LOW},
    ),
    "at most": Kind(
        "volts at most 12.0 V with deadband 0.2 V",
        number("volts", lambda v: v <= 12),
        number("volts", lambda v: v > Decimal("12.2")),
        {"volts": LOW},
    ),
    "above": Kind(
        "cabin above 8 C with deadband 0.1 C",
        number("cabin", lambda v: v > 8),
        number("cabin", lambda v: v < Decimal("7.9")),
        {"cabin": HIGH},
    ),
    "at least": Kind(
        "cabin at least 8 C with deadband 0.1 C",
        number("cabin", lambda v: v >= 8),
        number("cabin", lambda v: v < Decimal("7.9")),
        {"cabin": HIGH},
    ),
    "outside": Kind(
        "volts outside 11.5 and 15.0 V with deadband 0.2 V",
        number("volts", lambda v: v < Decimal("11.5") or v > 15),
        number("volts", lambda v: Decimal("11.7") < v < Decimal("14.8")),
        {"volts": BAND},
    ),
    "between": Kind(
        "volts between 11.7 and 14.8 V with deadband 0.2 V",
        number("volts", lambda v: Decimal("11.7") <= v <= Decimal("14.8")),
        number("volts", lambda v: v < Decimal("11.5") or v > 15),
        {"volts": BAND},
    ),
    "compared": Kind(
        "start-volts below volts by 0.5 V with deadband 0.2 V",
        lambda v: Decimal(v["start-volts"]) < Decimal(v["volts"]) - Decimal("0.5"),
        lambda v: Decimal(v["start-volts"]) > Decimal(v["volts"]) - Decimal("0.3"),
        {"start-volts": around("12.0", "12.2"), "volts": ["12.5", "12.6"]},
    ),
    "compared the other way": Kind(
        "start-volts at least volts by 0.5 V with deadband 0.2 V",
        lambda v: Decimal(v["start-volts"]) >= Decimal(v["volts"]) + Decimal("0.5"),
        lambda v: Decimal(v["start-volts"]) < Decimal(v["volts"]) + Decimal("0.3"),
        {"start-volts": around("13.0", "12.8"), "volts": ["12.5", "12.4"]},
    ),
    "and": Kind(
        "shore off and volts below 12.0 V with deadband 0.2 V",
        lambda v: v["shore"] == "off" and Decimal(v["volts"]) < 12,
        lambda v: v["shore"] == "on" or Decimal(v["volts"]) > Decimal("12.2"),
        {"shore": ["off", "on"], "volts": LOW},
    ),
    "or": Kind(
        "cabin above 8 C with deadband 0.1 C or volts below 12.0 V with deadband 0.2 V",
        lambda v: Decimal(v["cabin"]) > 8 or Decimal(v["volts"]) < 12,
        lambda v: Decimal(v["cabin"]) < Decimal("7.9") and Decimal(v["volts"]) > Decimal("12.2"),
        {"cabin": HIGH, "volts": LOW},
    ),
    "while": Kind(
        "cabin above 8 C with deadband 0.1 C while shore on",
        lambda v: Decimal(v["cabin"]) > 8 and v["shore"] == "on",
        lambda v: Decimal(v["cabin"]) < Decimal("7.9") or v["shore"] == "off",
        {"shore": ["on", "off"], "cabin": HIGH},
    ),
    "not": Kind(
        "not (volts above 12.0 V with deadband 0.2 V)",
        number("volts", lambda v: v <= 12),
        number("volts", lambda v: v > Decimal("12.2")),
        {"volts": LOW},
    ),
    "not below": Kind(
        "not (cabin below 8 C with deadband 0.1 C)",
        number("cabin", lambda v: v >= 8),
        number("cabin", lambda v: v < Decimal("7.9")),
        {"cabin": HIGH},
    ),
}
