"""The numbers of every kind of sum that the whole boat has, reckoned once more from the readings of the record.

Nothing of the gateway's sums is used: lines come from the standard library's regression, distances from GeographicLib's
ellipsoid, the rest is written out here from the handbook (4.1 to 4.10).
"""

import re
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime
from math import log
from statistics import linear_regression

import pytest
from geographiclib.geodesic import Geodesic

from gateway.desk.bundle import Bundle
from gateway.reckoning.own_sums import OwnSum, Reckons
from tests.stories.reckoned_again import HOUR, Again, Row, hours_said, two_figures

MINUTE = 60_000
HOURS = r"(?:about (?:\d+ h(?: \d+ min)?|\d+ min)|less than 15 min|more than 240 h)"
BANK = re.compile(rf"[Hh]ouse bank (\d+)% \(shunt\)(?:, (\d+)% in ({HOURS})|, nothing is drawn)?")
BANK_ALONE = re.compile(rf"(?:\. |, )(\d+)% in ({HOURS})")
OWN_RATE = re.compile(
    r"(frost coming|fuel falls|fresh water leaks)[a-z, ]* since [\w :]+, (falling|rising) ([\d.]+) [%C]/h"
)
OWN_DISTANCE = re.compile(r"adrift since [\w :]+, (\d+) m off")
RATES = {"frost coming": "cabin", "fuel falls": "fuel-level", "fresh water leaks": "water-level"}
"""Alarms whose own value is a rate, and of which signal."""
EN_50291 = ((50, 90), (100, 40), (300, 3))
"""ppm, and the minutes after which a detector must have alarmed (handbook 4.8)."""


def about(hours: float) -> set[str]:
    """How so many hours are said, by another way of adding up the same."""
    return {hours_said(hours * hair) for hair in (1 - 1e-9, 1, 1 + 1e-9)}


class AgainWhole(Again):
    """All rows up to a text of the whole boat."""

    def numbers(self, signal: str, back: int) -> list[tuple[int, float]]:
        """Values of the last `back` ms with their instants."""
        return [
            (now, float(one.text))
            for _, now, one in self.rows
            if one.signal == f"grey-wagtail/{signal}" and self.now - back < now <= self.now
        ]

    def last(self, signal: str) -> float:
        return self.numbers(signal, HOUR)[-1][1]

    def age(self, signal: str) -> float:
        """Hours since its last value, where that is older than one report: they are not left any more."""
        age = self.now - self.numbers(signal, HOUR)[-1][0]
        return age / HOUR if age > self.bundle.signals[f"grey-wagtail/{signal}"].report_interval else 0.0

    def rate(self, signal: str) -> tuple[float, int]:
        """Units an hour by the line of the last hour, and its span (ms)."""
        found = self.numbers(signal, HOUR)
        slope = linear_regression([at / HOUR for at, _ in found], [value for _, value in found]).slope
        return slope, found[-1][0] - found[0][0]

    def bank(self, charge: str, limit: str, left: str) -> None:
        bank = self.bundle.boats["grey-wagtail"].bank
        assert bank is not None
        full = self.last("house-charge")
        assert charge in ("", str(int(full)))
        if not left:
            return
        assert limit == f"{bank.limit}"
        drawn = [(at, -amps) for at, amps in self.numbers("house-amps", 15 * MINUTE + 60_000)]
        idle = [at for at, amps in drawn if amps <= 0.5]
        begin = max(self.now - 15 * MINUTE, min(at for at, _ in drawn if not idle or at > idle[-1]))
        ends = [*(at for at, _ in drawn[1:]), self.now]
        parts = [(max(0, end - max(at, begin)), amps) for (at, amps), end in zip(drawn, ends, strict=True)]
        mean = sum(ms * amps for ms, amps in parts) / sum(ms for ms, _ in parts)
        capacity, rated, k = float(bank.capacity), float(bank.rated_hours), float(bank.peukert)
        felt = max(mean, mean * (mean * rated / capacity) ** (k - 1))
        hours = capacity * (full - float(bank.limit)) / 100 / felt - self.age("house-charge")
        assert left in about(hours), (left, hours, mean)

    def tank(self, own: OwnSum, said: str) -> None:
        signal = own.signals["level"].partition("/")[2]
        if self._steady(said, own, "level"):
            return
        slope, _ = self.rate(signal)
        end = own.figures.get("until_percent", 0.0 if slope < 0 else 100.0)
        self._moves(said, slope, r"%/h", f"{end:g}%", (end - self.last(signal)) / slope - self.age(signal))
        if flow := re.search(r"\(about ([\d.]+) L/h\)", said):
            assert float(flow[1]) == pytest.approx(two_figures(abs(slope) / 100 * own.figures["tank_l"])), said

    def frost(self, own: OwnSum, said: str) -> None:
        now = self.last("cabin")
        if frozen := re.fullmatch(r"it freezes, (-?[\d.]+) C", said):
            assert float(frozen[1]) == now <= 0
            return
        if self._steady(said, own, "temperature"):
            return
        slope, _ = self.rate("cabin")
        self._moves(said, slope, r"C/h", "0 C", -now / slope - self.age("cabin"))

    def _steady(self, said: str, own: OwnSum, role: str) -> bool:
        """Less than one and a half steps of the sensor over all samples is no movement (handbook 4.6)."""
        if said != "steady":
            return False
        signal = self.bundle.signals[own.signals[role]]
        slope, span = self.rate(signal.key)
        assert abs(slope) * span / HOUR <= 1.5 * float(signal.step) + 1e-9, (said, slope)
        return True

    def _moves(self, said: str, slope: float, unit: str, end: str, left: float) -> None:
        """ "falling 2 %/h (about 8 L/h), 0% in about 30 h", whole or in part."""
        found = re.fullmatch(
            rf"(?:(falling|rising) ([\d.]+) {unit})?(?: \(about [\d.]+ L/h\))?(?:, )?(?:({end}) in ({HOURS}))?", said
        )
        assert found, said
        assert found[1] or found[4], said
        if found[1]:
            assert found[1] == ("falling" if slope < 0 else "rising")
            assert float(found[2]) == pytest.approx(two_figures(abs(slope))), (said, slope)
        if found[4]:
            assert found[4] in about(left), (said, left)

    def fuel(self, own: OwnSum, said: str) -> None:
        super().fuel(own, said if " down to " in said else f"{said} down to {own.figures['reserve_percent']:g}%")

    def box(self, own: OwnSum, said: str) -> None:
        """The first of the box's own limit and of 2 h above 4.4 C; within the minutes between two readings."""
        limit_c, keeps = {"refrigerator": (4.4, 4), "freezer-half": (-18.0, 24), "freezer-full": (-18.0, 48)}[
            own.words["box"]
        ]
        supplied = {now: one.text for _, now, one in self.rows if one.signal == own.signals["supplied"]}
        since, warm, on = 0, 0, "on"
        for at, text in self.of(own, "temperature"):
            on = supplied.get(at, on)
            degrees = float(text)
            well = on == "on" and degrees <= limit_c
            since = 0 if well else since or at
            warm = (warm or at) if degrees > 4.4 else 0
        limits = [(since + keeps * HOUR, f"{keeps} h limit")] if since else []
        limits += [(warm + 2 * HOUR, "2 h above 4.4 C")] if warm else []
        if cooled := re.fullmatch(r"cooled, (-?[\d.]+) C", said):
            assert not limits
            assert float(cooled[1]) == self.last(own.signals["temperature"].partition("/")[2])
            return
        at, rule = min(limits)
        found = re.fullmatch(rf"{rule} (about|past since) (?:\w{{3}} )?(\d\d:\d\d)", said)
        assert found, (said, rule)
        assert found[1] == ("about" if at > self.now else "past since")
        told = [f"{datetime.fromtimestamp((at - back * MINUTE) / 1000, UTC):%H:%M}" for back in range(4)]
        assert found[2] in told, (said, told)

    def monoxide(self, own: OwnSum, said: str) -> None:
        """By the points of EN 50291 alone: this boat's detector is of that standard."""
        assert own.words["standard"] == "EN-50291"
        past = self.numbers("co-level", 4 * HOUR)
        ppm = past[-1][1]
        low = next((at for at, one in reversed(past) if one < ppm), 0)
        held = self.now - min(at for at, _ in past if at > low)
        stood = [
            (point, min(one for at, one in past if at >= self.now - minutes * MINUTE)) for point, minutes in EN_50291
        ]
        known = past[0][0]
        must = any(
            least >= point and known <= self.now - minutes * MINUTE
            for (point, least), (_, minutes) in zip(stood, EN_50291, strict=True)
        )
        if found := re.fullmatch(r"([\d.]+) ppm, (?:under 30 ppm, which is )?no all-clear", said):
            assert (float(found[1]), must) == (ppm, False)
            assert ppm < 30
            return
        found = re.fullmatch(r"([\d.]+) ppm(?: or more for (?:(\d+) min|less than 1 min))?: (.+)", said)
        assert found, said
        assert float(found[1]) == ppm
        if found[2]:
            assert abs(int(found[2]) - held // MINUTE) <= 2, (said, held)  # one value in two minutes is kept
        assert ("must" in found[3] or "overdue" in found[3]) == must, said

    def drift(self, own: OwnSum, said: str) -> None:
        lat, lon = self.bundle.signals[own.signals["position"]].set_position or (0, 0)
        fixes: list[tuple[int, float]] = []
        for at, text in self.of(own, "position"):
            there = [float(part) for part in text.split()]
            off = Geodesic.WGS84.Inverse(float(lat), float(lon), there[0], there[1])["s12"]
            fixes = [*fixes, (at, off)][-5:]
        found = re.fullmatch(
            r"(?:about (\d+) m from her place)?(?:, )?"
            r"(?:([\d.]+) m/min (further out|nearer)|not moving off|too few fixes for a rate)?",
            said,
        )
        assert found, said
        off = fixes[-1][1]
        assert not found[1] or abs(float(found[1]) - off) <= 0.05 * off + 0.5, (said, off)  # two figures
        if found[2]:
            slope = linear_regression([at / MINUTE for at, _ in fixes], [metres for _, metres in fixes]).slope
            assert found[3] == ("further out" if slope > 0 else "nearer")
            assert abs(float(found[2]) - abs(slope)) <= 0.05 * abs(slope) + 0.05, (said, slope)

    def dew(self, own: OwnSum, said: str) -> None:
        air, humidity = self.last("cabin"), self.last("cabin-humidity")
        g = log(humidity / 100) + 17.62 * air / (243.12 + air)
        point = 243.12 * g / (17.62 - g)
        found = re.fullmatch(r"dew point about (-?[\d.]+) C", said)
        assert found, said
        assert -1e-6 <= float(found[1]) - point < 0.5, (said, point)  # half degrees, rounded up
        assert "surface" not in own.signals

    def own_rate(self, alarm: str, way: str, figure: str) -> None:
        """The value of an alarm whose condition is a rate: its hour ends with the newest value."""
        newest = self.numbers(RATES[alarm], HOUR)[-1][0]
        slope, _ = AgainWhole(self.bundle, self.rows, newest).rate(RATES[alarm])
        assert way == ("falling" if slope < 0 else "rising")
        assert float(figure) == pytest.approx(two_figures(abs(slope))), (alarm, figure, slope)

    def inflow_or_flood(self, own: OwnSum, said: str) -> None:
        if said.startswith("its pump has not run"):
            return
        (self.flooded if "keeps up" in said else self.bilge)(own, said)


_KINDS: Mapping[Reckons, Callable[[AgainWhole, OwnSum, str], None]] = {
    Reckons.BILGE: AgainWhole.inflow_or_flood,
    Reckons.TANK: AgainWhole.tank,
    Reckons.FUEL: AgainWhole.fuel,
    Reckons.COLD: AgainWhole.box,
    Reckons.CO: AgainWhole.monoxide,
    Reckons.DRIFT: AgainWhole.drift,
    Reckons.DEW: AgainWhole.dew,
    Reckons.FROST: AgainWhole.frost,
}
"""A kind of sum without a row here fails the tests as soon as a text says it."""


def said_by(own: OwnSum) -> re.Pattern[str]:
    """Where a text says this sum: behind its name and a colon, up to the next sentence, sum or count of the rest."""
    name = own.key.replace("-", " ")
    return re.compile(
        rf"(?:(?<=\. )|(?<=, )|(?<=: ))(?i:{name}): (?!not reckoned)(.+?)(?=\. |, [a-z][a-z ]*: | and \d+ more|$)"
    )


def whole_again(body: str, bundle: Bundle, rows: Iterable[Row], now: int) -> tuple[str, list[str]]:
    """The text of that instant (ms UTC) without what its sums say, after every number of theirs was reckoned again; and
    which those were."""
    again = AgainWhole(bundle, rows, now)
    found = []
    for own_rate in OWN_RATE.finditer(body):
        again.own_rate(own_rate[1], own_rate[2], own_rate[3])
    body = OWN_RATE.sub("", body)
    for off in OWN_DISTANCE.finditer(body):
        again.drift(bundle.sums["grey-wagtail/place"], f"about {off[1]} m from her place")
    body = OWN_DISTANCE.sub("", body)
    for said in BANK.finditer(body):
        again.bank(said[1], said[2] or "", said[3] or "")
        found.append("house bank")
    body = BANK.sub("", body)
    for own in bundle.sums.values():
        pattern = said_by(own)
        for said in pattern.finditer(body):
            _KINDS[own.reckons](again, own, said[1])
            found.append(own.key)
        body = pattern.sub("", body)
    for said in BANK_ALONE.finditer(body):
        again.bank("", said[1], said[2])
        found.append("house bank")
    return BANK_ALONE.sub("", body), found
