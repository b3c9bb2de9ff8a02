"""When a tank is empty, or full, at the rate it shows (handbook 4.6)."""

from gateway.reckoning.answers import Answer, NoEnd, NotReckoned, Reckoned, hours
from gateway.reckoning.asking import Quantity, Result, Several, Sum, out_of_range
from gateway.reckoning.lines import FEWEST_SAMPLES, STEADY, Sample, rate_in_words, rate_per_hour
from gateway.reckoning.rounding import figures
from gateway.reckoning.units import MS_PER_HOUR

LEVEL_PERCENT = Quantity(key="level_percent", unit="%", words="the level", lowest=0, highest=100)
UNTIL_PERCENT = Quantity(key="until_percent", unit="%", words="the level asked about", lowest=0, highest=100)
PERCENT_PER_H = Quantity(
    key="percent_per_h", unit="%/h", words="the rate (minus when falling)", lowest=-6_000, highest=6_000
)
TANK_L = Quantity(key="tank_l", unit="L", words="the tank's volume", lowest=1, highest=1_000_000, needed=False)
NOISE_PERCENT = Quantity(
    key="noise_percent", unit="%", words="how far the sender wanders by itself", lowest=0, highest=50, usual=1
)
HOUR = Quantity(key="hour", unit="h", words="the hour of a sample", lowest=0, highest=10_000)
SAMPLES = Several(key="samples", words="hour and level, as 0.5,61.8", parts=(HOUR, LEVEL_PERCENT), least=FEWEST_SAMPLES)


def time_to_level_h(*, level_percent: float, until_percent: float, percent_per_h: float) -> Answer:
    """Hours until a level is reached: distance / rate. Levels 0 to 100 % of the tank; rate in %/h, minus when falling.

    No end when it is steady or moves away. Refused when it is there already. Source: handbook 4.6, our rule.
    """
    if wrong := out_of_range(
        (LEVEL_PERCENT, level_percent), (UNTIL_PERCENT, until_percent), (PERCENT_PER_H, percent_per_h)
    ):
        return wrong
    distance = until_percent - level_percent
    if distance == 0:
        return NotReckoned("it stands at that level already")
    if percent_per_h == 0:
        return NoEnd(STEADY)
    if (distance > 0) != (percent_per_h > 0):
        return NoEnd(f"it is {'falling' if percent_per_h < 0 else 'rising'}, away from that level")
    return hours(distance / percent_per_h)


def litres_per_h(*, percent_per_h: float, tank_l: float) -> Answer:
    """A rate in %/h as L/h of a tank of that volume (L); minus when falling. For tanks of equal section all the way."""
    if wrong := out_of_range((PERCENT_PER_H, percent_per_h), (TANK_L, tank_l)):
        return wrong
    flow = percent_per_h / 100 * tank_l
    return Reckoned(value=flow, shown=figures(flow, 2), unit="L/h")


def _time_at_the_bench(
    level_percent: float, until_percent: float, percent_per_h: float, tank_l: float | None
) -> tuple[Result, ...]:
    until = time_to_level_h(level_percent=level_percent, until_percent=until_percent, percent_per_h=percent_per_h)
    results = (Result("Until that level", until),)
    if tank_l is None:
        return results
    return (*results, Result("Rate", litres_per_h(percent_per_h=percent_per_h, tank_l=tank_l)))


def _rate_at_the_bench(samples: tuple[tuple[float, float], ...], noise_percent: float) -> tuple[Result, ...]:
    in_order = sorted(Sample(round(hour * MS_PER_HOUR), level) for hour, level in samples)
    rate = rate_per_hour(in_order, noise=noise_percent, unit="%")
    if not isinstance(rate, Reckoned):
        return (Result("Rate", rate),)
    end = 0 if rate.value < 0 else 100
    until = time_to_level_h(level_percent=in_order[-1].value, until_percent=end, percent_per_h=rate.value)
    return (Result(f"Rate ({rate_in_words(rate)})", rate), Result(f"From the last sample until {end}%", until))


_CAUTION = "Heel, slosh and a tank that is not a box falsify it. A sender shows level, not what is usable."

TANK_TIME = Sum(
    name="tank-time",
    asks="When does a tank reach a level at a known rate?",
    takes=(LEVEL_PERCENT, UNTIL_PERCENT, PERCENT_PER_H, TANK_L),
    reckon=_time_at_the_bench,
    formula="t = (level asked about - level) / rate",
    source="handbook 4.6, our rule",
    caution=_CAUTION,
)

TANK_RATE = Sum(
    name="tank-rate",
    asks="How fast does a tank's level move, by readings?",
    takes=(SAMPLES, NOISE_PERCENT),
    reckon=_rate_at_the_bench,
    formula="slope of least squares: sum (t - mean t)(y - mean y) / sum (t - mean t)^2; below the noise: steady",
    source="handbook 4.6, our rule: at least 10 samples over at least 30 min; least squares after Gauss",
    caution=_CAUTION,
)
