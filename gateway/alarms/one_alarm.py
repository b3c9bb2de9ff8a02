"""One alarm that is not at rest: all that is known of it."""

from dataclasses import dataclass

from gateway.alarms.holding import Whereabouts
from gateway.alarms.life import AlarmState
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority


@dataclass(frozen=True, slots=True, kw_only=True)
class Alarm:
    """One alarm that is not at rest.

    raised: instant of being raised the last time; since: since when the condition held then. gone: instant at which
    the condition went, None while it holds. times: how often it was raised under this number. measured: as said.
    priority: as it is told. worse: it was a warning that nobody took. taken: instant of the last word of the person
    (taken_by) who has it. shelved_until, out_until: instants at which these end. by, because: who or what put it aside,
    and why. reminded: of its being out of service. where: the holder is, by that person's last word. offered_until:
    the holder asked the others to take it; instant at which the list begins anew if nobody does.
    """

    number: int
    point: str
    boat: str
    state: AlarmState
    active: bool
    raised: Ms
    since: Ms
    gone: Ms | None = None
    times: int = 1
    measured: str = ""
    late: bool = False
    found: bool = False
    latch_pending: bool = False
    priority: Priority = Priority.ALARM
    worse: bool = False
    taken: Ms | None = None
    taken_by: str | None = None
    shelved_until: Ms | None = None
    out_until: Ms | None = None
    by: str | None = None
    because: str = ""
    reminded: bool = False
    where: Whereabouts | None = None
    offered_until: Ms | None = None

    @property
    def until(self) -> Ms | None:
        """When the way in which it is put aside now ends by itself (instant)."""
        if self.state is AlarmState.SHELVED:
            return self.shelved_until
        return self.out_until if self.state is AlarmState.OUT_OF_SERVICE else None
