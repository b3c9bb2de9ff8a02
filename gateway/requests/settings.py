"""What the installer says of a piece of equipment that may be switched from afar."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from grammar.meanings import Condition


class Sort(StrEnum):
    """What sort of thing it is; decides which general interlocks bind it (handbook 5.1)."""

    ENGINE = "engine"
    HEAT = "heat"
    INVERTER = "inverter"
    REFRIGERATION = "refrigeration"
    LIGHTS = "lights"
    PUMP = "pump"
    GAS_VALVE = "gas valve"
    OTHER = "other"


GRAVE = frozenset({Sort.ENGINE, Sort.HEAT, Sort.INVERTER})
"""The sorts that need the boat's own selector in REMOTE and nobody aboard (handbook G0, G2)."""


REST_ONLY = frozenset({Sort.GAS_VALVE})
"""The sorts that a text only ever brings to rest: opening a gas valve is for somebody at the boat (handbook 5.3)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interlock:
    """One condition that must hold before an action is carried out. Unknown, late or stale counts as no.

    says: what to tell when it does not hold ("fuel under 20%"). actions: which actions it binds.
    """

    key: str
    needs: Condition
    says: str
    actions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PermittedHours:
    """When an action may be carried out, boat time, minutes after midnight, start inside, end outside.
    by, reason: who wrote it down and why (handbook 5.2: name and reason)."""

    start: int
    end: int
    by: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment:
    """One piece of equipment.

    id: ``boat/key``. pair: the two actions, the one that brings it to life first ("start", "stop"). topic: where its
    relay node takes commands. feedback: id of the contact signal that is on while it runs. proof: id of a number signal
    quoted as the measured result ("231 V"), or None. runs_when, rests_when: what that number must say for it to count
    as brought to life ("at least 207 V") and as at rest ("under 50 V"); None asks nothing of it, but that at rest it
    says no longer what it says alive. count: id of the number signal with the node's message count (`seen`).
    prove_within: ms to the measured result. run_limit: longest timed run; default_run: run when no time is given; both
    None for equipment that is not timed. permitted: hours for the first of the pair. attempts: starts in a row that
    were not proved, after which only a run at the boat opens it again, None for no such count. second_persons: action
    -> keys of those of whom one, not the person who asked, must confirm it as well. paper_line: whether bringing it to
    life needs a line of the person's paper list as well. cooling_off: ms after a start that was not proved. cool_down:
    ms that it goes on by itself after a stop. exception: why a selector or sounder may be missing, with a name; "" when
    there is none. names_in: language -> names by which its persons call it, the printed one first; a language that is
    missing uses name and spoken_names.
    """

    id: str
    boat: str
    key: str
    name: str
    spoken_names: tuple[str, ...]
    sort: Sort
    pair: tuple[str, str]
    topic: str
    feedback: str
    count: str
    proof: str | None = None
    runs_when: Condition | None = None
    rests_when: Condition | None = None
    selector: str | None = None
    caution: str = ""
    stop_caution: str = ""
    interlocks: tuple[Interlock, ...] = ()
    prove_within: Ms = 90 * SECOND
    run_limit: Ms | None = None
    default_run: Ms | None = None
    minimum_off: Ms = 0
    minimum_on: Ms = 0
    attempts: int | None = None
    cooling_off: Ms = 0
    cool_down: Ms = 0
    command_valid: Ms = MINUTE
    permitted: PermittedHours | None = None
    second_persons: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    paper_line: bool = False
    exception: str = ""
    names_in: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def actions(self) -> tuple[str, ...]:
        """Those of the pair that a text may ask for: of a gas valve closing alone (handbook 5.2, 5.3)."""
        return self.pair[1:] if self.sort in REST_ONLY else self.pair

    def called(self, language: str) -> str:
        """The name that is printed for a person of this language ("de")."""
        return self.names_in.get(language, (self.name,))[0]
