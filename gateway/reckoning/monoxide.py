"""Carbon monoxide: when a listed detector must have alarmed, and our own points where only ppm is known (handbook 4.8).

Sources: UL 2034 alarm points as printed in a CO alarm maker's user manual; EN 50291 as summarised by a sensor maker
(2001; EN 50291-2 is for craft). The listed detector's own contact counts: a ppm reading never silences it.
"""

from enum import StrEnum
from typing import NamedTuple

from gateway.reckoning.answers import Found, NotReckoned
from gateway.reckoning.asking import Choice, Quantity, Result, Sum, out_of_range
from gateway.vocabulary.moments import DAY, MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority


class Standard(StrEnum):
    """Whose points. The text of each is its name."""

    UL_2034 = "UL-2034"
    EN_50291 = "EN-50291"


class AlarmPoint(NamedTuple):
    """At a steady ppm: not before `earliest` (ms), at the latest after `latest` (ms; None: no latest is printed)."""

    ppm: float
    earliest: Ms
    latest: Ms | None


POINTS: dict[Standard, tuple[AlarmPoint, ...]] = {
    Standard.UL_2034: (
        AlarmPoint(30, 30 * DAY, None),
        AlarmPoint(70, 60 * MINUTE, 240 * MINUTE),
        AlarmPoint(150, 10 * MINUTE, 50 * MINUTE),
        AlarmPoint(400, 4 * MINUTE, 15 * MINUTE),
    ),
    Standard.EN_50291: (
        AlarmPoint(30, 120 * MINUTE, None),
        AlarmPoint(50, 60 * MINUTE, 90 * MINUTE),
        AlarmPoint(100, 10 * MINUTE, 40 * MINUTE),
        AlarmPoint(300, 0, 3 * MINUTE),
    ),
}


class Detector(StrEnum):
    """What a listed detector does by now."""

    MUST = "must have alarmed"
    MAY = "may have alarmed"
    MUST_NOT = "need not and should not have alarmed yet"


WARNING_PPM, WARNING_AFTER = 30.0, 5 * MINUTE
EMERGENCY_PPM, EMERGENCY_AFTER = 70.0, 60 * SECOND
AT_ONCE_PPM = 150.0
"""Handbook 4.8, our rules; 30, 70 and 150 ppm are points of both standards' tables."""

PPM = Quantity(key="co_ppm", unit="ppm", words="the carbon monoxide", lowest=0, highest=10_000)
MINUTES = Quantity(key="minutes", unit="min", words="for how long", lowest=0, highest=100_000)


def detector_by_now(*, co_ppm: float, held: Ms, standard: Standard) -> Detector:
    """What a detector of that standard has done after `held` ms at a steady ppm.

    Between the printed points nothing is interpolated: it must have alarmed when a point at or below this ppm says so,
    and must not when one at or above does. Source: handbook 4.8, module docstring.
    """
    points = POINTS[standard]
    if any(point.latest is not None and co_ppm >= point.ppm and held >= point.latest for point in points):
        return Detector.MUST
    if any(co_ppm <= point.ppm and held < point.earliest for point in points):
        return Detector.MUST_NOT
    return Detector.MAY


def ppm_priority(*, co_ppm: float, held: Ms) -> Priority | None:
    """How bad it is that at least this ppm has stood for `held` ms. Source: handbook 4.8, our rules.

    An emergency from 150 ppm at once and from 70 ppm after 60 s, a warning from 30 ppm after 5 min.
    """
    if co_ppm >= AT_ONCE_PPM or (co_ppm >= EMERGENCY_PPM and held >= EMERGENCY_AFTER):
        return Priority.EMERGENCY
    return Priority.WARNING if co_ppm >= WARNING_PPM and held >= WARNING_AFTER else None


def _at_the_bench(co_ppm: float, minutes: float, standard: str) -> tuple[Result, ...]:
    wrong: NotReckoned | None = out_of_range((PPM, co_ppm), (MINUTES, minutes))
    if wrong:
        return (Result("Detector", wrong),)
    held = round(minutes * MINUTE)
    chosen = Standard(standard)
    priority = ppm_priority(co_ppm=co_ppm, held=held)
    said = "below our points: nothing is raised for it" if priority is None else priority.value
    return (
        Result(f"A {chosen.value} detector", Found(detector_by_now(co_ppm=co_ppm, held=held, standard=chosen).value)),
        Result("By our points, where only ppm is known", Found(said)),
    )


CO = Sum(
    name="co",
    asks="What must a carbon monoxide detector have done by now?",
    takes=(
        PPM,
        MINUTES,
        Choice(key="standard", words="the detector's standard", options=tuple(Standard), usual=Standard.UL_2034),
    ),
    reckon=_at_the_bench,
    formula="the standards' tables as steps; ours: 30 ppm 5 min warning, 70 ppm 60 s or 150 ppm at once emergency",
    source="handbook 4.8; UL 2034 as printed in a detector maker's manual; EN 50291 as summarised by a sensor maker",
    caution=(
        "CARBON MONOXIDE KILLS, also outside near exhausts. Do not go below: out, air, call for help. No reading "
        "overrules a listed detector that has alarmed, and below these points is no all-clear."
    ),
)
