"""What a sum may look at: fresh values and the kept past of its signals; `Missing` says what there is not."""

from dataclasses import dataclass, field
from decimal import Decimal

from gateway.boat.latest import Latest, is_stale
from gateway.boat.settings import Signal
from gateway.conditions.past import Keeps, Need, Past
from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.reckoning.answers import Answer, NotReckoned, Reckoned
from gateway.reckoning.limit_ahead import counted_from_now
from gateway.reckoning.lines import Sample
from gateway.reckoning.own_sums import OwnSum
from gateway.vocabulary.moments import Ms

_FIGURES = {"pump_l_per_h": "its pump's flow", "tank_l": "the tank's size", "burn_l_per_h": "what the set burns"}
"""How a figure is called in a text."""


class Missing(Exception):
    """Why there is no sum, in words that go into a text."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a sum says. says: short words by what they are; at: an instant (ms UTC) that belongs to it."""

    says: dict[str, str] = field(default_factory=dict)
    at: Ms | None = None


def need(own: OwnSum, bundle: Bundle, role: str, keeps: Keeps, amount: int) -> Need:
    """What is to be kept of one of the sum's signals."""
    signal = bundle.signals[own.signals[role]]
    return Need(signal.id, keeps, amount, signal.stale_after)


@dataclass(frozen=True, slots=True, kw_only=True)
class At:
    """A sum at an instant."""

    state: State
    bundle: Bundle
    own: OwnSum
    now: Ms

    def signal(self, role: str) -> Signal:
        """The signal."""
        return self.bundle.signals[self.own.signals[role]]

    def fresh(self, role: str) -> Latest:
        """Its newest value. Raises Missing when it is old, late, of unknown age or unreadable."""
        signal = self.signal(role)
        latest = self.state.seen.latest.get(signal.id)
        if latest is None or not latest.sure or is_stale(latest, signal, self.now):
            raise Missing(f"no fresh {signal.key.replace('-', ' ')}")
        return latest

    def number(self, role: str) -> float:
        """A fresh number."""
        value = self.fresh(role).value
        if not isinstance(value, Decimal):
            raise Missing(f"no fresh {self.signal(role).key.replace('-', ' ')}")
        return float(value)

    def from_now(self, left: Answer, role: str) -> Answer:
        """Hours left that were reckoned from the role's fresh value, counted from now."""
        age = self.now - self.fresh(role).measured
        return counted_from_now(left, age=age, report_interval=self.signal(role).report_interval)

    def figure(self, name: str) -> float:
        """A figure that the sum needs. Raises Missing where the installer has not written it."""
        if name not in self.own.figures:
            raise Missing(f"{_FIGURES.get(name, name)} is not given")
        return self.own.figures[name]

    def past(self, role: str, keeps: Keeps, amount: int) -> tuple[Need, Past]:
        """What is kept, under the longest window that anybody asks for."""
        wanted = need(self.own, self.bundle, role, keeps, amount)
        kept = next((one for one in self.state.pasts.of_signal(wanted.signal) if one.key == wanted.key), wanted)
        return kept, self.state.pasts.past.get(wanted.key, Past())

    def samples(self, role: str, window: Ms) -> tuple[Sample, ...]:
        """Kept values of the window, oldest first."""
        past = self.past(role, Keeps.SAMPLES, window)[1]
        return tuple(Sample(one.at, float(one.text)) for one in past.values if self.now - window < one.at <= self.now)


def said(answer: object) -> str:
    """A reckoned number in words. Raises Missing with the reason where there is none."""
    if isinstance(answer, Reckoned):
        return answer.said
    raise Missing(answer.because if isinstance(answer, NotReckoned) else "no number")
