"""The numbers that sums put into texts, reckoned once more from the readings of the record by formulas of our own here:
nothing of the gateway's sums is used."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from math import floor, log10

from gateway.desk.bundle import Bundle
from gateway.reckoning.own_sums import OwnSum
from gateway.vocabulary.readings import Reading

HOUR = 3_600_000
Row = tuple[int, int, Reading]


def two_figures(value: float) -> float:
    step = 10.0 ** (floor(log10(abs(value))) - 1)
    return round(value / step) * step


def hours_said(hours: float) -> str:
    """Whole hours from 6 h on, quarters below, never more than there are."""
    if hours < 0.25:
        return "less than 15 min"
    minutes = int(hours) * 60 if hours >= 6 else int(hours * 4) * 15
    parts = [f"{minutes // 60} h"] if minutes >= 60 else []
    return "about " + " ".join(parts + ([f"{minutes % 60} min"] if minutes % 60 else []))


@dataclass(frozen=True)
class Again:
    """All rows up to a text, and the instant of the text (ms UTC)."""

    bundle: Bundle
    rows: Iterable[Row]
    now: int

    def of(self, own: OwnSum, role: str) -> list[tuple[int, str]]:
        """Instants and texts of one signal of a sum, up to now."""
        signal = own.signals[role]
        return [(now, one.text) for _, now, one in self.rows if one.signal == signal and now <= self.now]

    def inflow(self, own: OwnSum) -> float:
        """L/h: the pump's flow by the part of the time that it ran, over whole cycles of the last hour."""
        changes = [(0, "")]
        for at, text in self.of(own, "pump"):
            if text != changes[-1][1]:
                changes.append((at, text))
        starts = [at for at, text in changes if text == "on"]
        starts = [at for at in starts if at > self.now - HOUR] or starts
        ran, since = 0, None
        for at, text in changes:
            if text == "on" and starts[0] <= at < starts[-1]:
                since = at
            elif text == "off" and since is not None:
                ran, since = ran + at - since, None
        return own.figures["pump_l_per_h"] * ran / (starts[-1] - starts[0])

    def bilge(self, own: OwnSum, said: str) -> None:
        inflow = self.inflow(own)
        flow = re.search(r"about (\d+) L/h", said)
        assert flow is not None, said
        assert float(flow[1]) == two_figures(inflow), (said, inflow)
        if times := re.search(r"moves ([\d.]+) times", said):
            assert float(times[1]) == floor(own.figures["pump_l_per_h"] / inflow * 10 + 1e-6) / 10, said
        if high := re.search(r"high water in (.*)", said):
            assert high[1] == hours_said(own.figures["high_water_l"] / inflow), said

    def flooded(self, own: OwnSum, said: str) -> None:
        """Since when live news has said nothing but "on"; what was retained is of unknown age."""
        since = 0
        signal = own.signals["pump"]
        for _, now, one in self.rows:
            if one.signal == signal and now <= self.now:
                since = (since or now) if one.text == "on" and not one.retained else 0
        assert f": {(self.now - since) // 60_000} min" in said, (said, since)

    def fuel(self, own: OwnSum, said: str) -> None:
        level = float(self.of(own, "level")[-1][1])
        left = own.figures["tank_l"] * (level - own.figures["reserve_percent"]) / 100 / own.figures["burn_l_per_h"]
        assert said.startswith(hours_said(left)), (said, left)
        assert f"down to {own.figures['reserve_percent']:g}%" in said

    def cold(self, own: OwnSum, said: str) -> None:
        """The refrigerator's two hours: within the three minutes that lie between two kept values, never later."""
        warm = 0
        for at, text in self.of(own, "temperature"):
            warm = (warm or at) if float(text) > 4.4 else 0
        clock = re.search(r"2 h above 4\.4 C (?:about|past since) (?:\w{3} )?(\d\d:\d\d)", said)
        assert clock, said
        limit = warm + 2 * HOUR
        told = [f"{datetime.fromtimestamp((limit - back * 60_000) / 1000, UTC):%H:%M}" for back in range(4)]
        assert clock[1] in told, (said, told)


FRAGMENTS: tuple[tuple[re.Pattern[str], str, Callable[[Again, OwnSum, str], None]], ...] = (
    (re.compile(r"about \d+ L/h come in[^.(]*(?:\.\d[^.(]*)?"), "bilge", Again.bilge),
    (re.compile(r"no longer keeps up: \d+ min without a pause"), "bilge", Again.flooded),
    (re.compile(r"about [\w ]+ of running(?: down to \d+%)?"), "generator-fuel", Again.fuel),
    (re.compile(r"2 h above 4\.4 C (?:about|past since) (?:\w{3} )?\d\d:\d\d"), "fridge", Again.cold),
)


def reckoned_again(body: str, again: Again) -> tuple[str, int]:
    """The text without what its sums say, after every number of theirs was reckoned again; and how many those were."""
    count = 0
    for pattern, key, check in FRAGMENTS:
        own = next(one for one in again.bundle.sums.values() if one.key == key)
        for found in pattern.finditer(body):
            check(again, own, found[0])
            count += 1
        body = pattern.sub("", body)
    return body, count
