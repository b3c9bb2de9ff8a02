"""Air: what a level of carbon monoxide means (handbook 4.8), the dew point, and how soon it freezes (4.10)."""

from gateway.conditions.looking_back import STEP_IN_A_LINE
from gateway.conditions.past import Keeps, Need
from gateway.desk.ahead_data import At, Found, Missing, need, said
from gateway.desk.bundle import Bundle
from gateway.reckoning.answers import NoEnd, Reckoned
from gateway.reckoning.dew import Surface, dew_point_c, surface_in
from gateway.reckoning.limit_ahead import hours_to_value
from gateway.reckoning.lines import Sample, rate_in_words, rate_per_hour
from gateway.reckoning.monoxide import WARNING_PPM, Detector, Standard, detector_by_now
from gateway.reckoning.own_sums import OwnSum
from gateway.vocabulary.moments import HOUR, MINUTE, Ms

CO_OVER: Ms = 4 * HOUR
"""The longest time of any point of the standards (handbook 4.8: 70 ppm, 240 min)."""
COLD_OVER: Ms = HOUR
"""As the sentence of point P25: over an hour."""
FREEZES_C = 0.0


def level_of_four_hours(own: OwnSum, bundle: Bundle) -> tuple[Need, ...]:
    """The level's samples."""
    return (need(own, bundle, "level", Keeps.SAMPLES, CO_OVER),)


def warmth_of_an_hour(own: OwnSum, bundle: Bundle) -> tuple[Need, ...]:
    """The temperature's samples."""
    return (need(own, bundle, "temperature", Keeps.SAMPLES, COLD_OVER),)


def monoxide(at: At) -> Found:
    """What a listed detector has done by now at what was measured; its own contact counts whatever is said here."""
    ppm = at.number("level")
    samples = [*at.samples("level", CO_OVER), Sample(at.now, ppm)]
    standard = Standard(at.own.words["standard"])
    lowest, by_now = ppm, Detector.MAY
    for sample in reversed(
        samples
    ):  # whether any stretch up to now was as bad, for as long, as a point of the standard
        lowest = min(lowest, sample.value)
        if detector_by_now(co_ppm=lowest, held=at.now - sample.at, standard=standard) is Detector.MUST:
            by_now = Detector.MUST
    held = at.now - _since(samples, ppm)
    if ppm < WARNING_PPM and by_now is not Detector.MUST:
        return Found({"level": f"{ppm:g} ppm", "low": f"{WARNING_PPM:g} ppm"})
    says = {"level": f"{ppm:g} ppm", "held": f"{held // MINUTE} min" if held >= MINUTE else "less than 1 min"}
    return Found(says | {"must" if by_now is Detector.MUST else "quiet": standard.value})


def _since(samples: list[Sample], ppm: float) -> Ms:
    """Since when it has been at least as high as now (instant)."""
    since = samples[-1].at
    for sample in reversed(samples):
        if sample.value < ppm:
            break
        since = sample.at
    return since


def dew(at: At) -> Found:
    """The dew point, and whether a surface is wet."""
    point = dew_point_c(air_c=at.number("air"), humidity_percent=at.number("humidity"))
    says = {"point": said(point)}
    if "surface" in at.own.signals and isinstance(point, Reckoned):
        surface = at.number("surface")
        says |= {"surface": f"{surface:g} C", _SURFACES[surface_in(surface, point)]: "yes"}
    return Found(says)


_SURFACES = {Surface.WET: "wet", Surface.MAY_BE_WET: "near", Surface.DRY: "dry"}


def frost(at: At) -> Found:
    """How fast it cools, and how soon it freezes."""
    celsius = at.number("temperature")
    if celsius <= FREEZES_C:
        return Found({"frozen": f"{celsius:g} C"})
    noise = STEP_IN_A_LINE * float(at.signal("temperature").step)
    rate = rate_per_hour(at.samples("temperature", COLD_OVER), noise=noise, unit="C")
    if isinstance(rate, NoEnd):
        return Found({"steady": rate.because})
    if not isinstance(rate, Reckoned):
        raise Missing("too few fresh values for a rate")
    says = {"rate": rate_in_words(rate)}
    left = at.from_now(hours_to_value(value=celsius, limit=FREEZES_C, per_hour=rate.value), "temperature")
    if isinstance(left, Reckoned):
        says["left"] = left.said
    return Found(says)
