"""One alarm as it is told, in whatever notice."""

from dataclasses import dataclass

from gateway.alarms.life import AlarmState
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """One alarm as it is told. since: since when the condition has held. gone: since when it no longer does.
    offers: phrases that really work for this person now. received: instant of arrival when it came late, else None.
    until: when the way it is put aside ends (instant). worse: a warning that nobody took, told as an alarm now."""

    number: int
    point: str
    state: AlarmState
    since: Ms
    measured: str
    gone: Ms | None = None
    times: int = 1
    received: Ms | None = None
    found: bool = False
    until: Ms | None = None
    worse: bool = False
    offers: tuple[str, ...] = ()
