"""All interlocks of one action, asked at once: at the question and again at the confirmation (handbook G6)."""

from dataclasses import dataclass

from gateway.requests.answers import Objection
from gateway.requests.asked import Asked
from gateway.requests.boat_interlocks import boat_findings
from gateway.requests.equipment_interlocks import equipment_findings
from gateway.requests.state import Requests
from gateway.requests.world import World


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """values: every interlock with its value, one line each, met or not (handbook G9). objections: those not met."""

    values: tuple[str, ...]
    objections: tuple[Objection, ...]


def check(asked: Asked, state: Requests, world: World) -> Checked:
    """Ask every interlock that binds the action at this moment. Nobody is spared the rest by the first that fails."""
    findings = [*boat_findings(asked, state, world), *equipment_findings(asked, state, world)]
    return Checked(
        values=tuple(finding.line for finding in findings),
        objections=tuple(finding.objection for finding in findings if finding.objection is not None),
    )
