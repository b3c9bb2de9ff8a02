"""What a trial found: one finding a step, and the sheet for the proof record."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from gateway.vocabulary.moments import Ms, rfc3339
from gateway.vocabulary.plain import Plain


class Verdict(StrEnum):
    """What became of one step."""

    KEPT = "kept"
    BROKEN = "BROKEN"
    REMARK = "remark"
    NOT_TRIED = "not tried"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One step. asked: what a node must do. seen: what was measured, with counts and times. sent: its payloads."""

    step: str
    asked: str
    verdict: Verdict
    seen: str
    sent: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A whole trial. began, ended: ms UTC. by: who stood at the bench."""

    boat: str
    equipment: str
    topic: str
    by: str
    began: Ms
    ended: Ms
    findings: tuple[Finding, ...]

    @property
    def conforms(self) -> bool:
        """Every step was tried and none was broken; a remark is no break."""
        return bool(self.findings) and all(f.verdict in {Verdict.KEPT, Verdict.REMARK} for f in self.findings)

    def lines(self) -> Iterator[str]:
        """The sheet as text, times in UTC."""
        yield f"Relay node of {self.equipment}, {self.boat}. Commands on {self.topic}."
        yield f"Tried by {self.by}, load isolated, {rfc3339(self.began)} to {rfc3339(self.ended)}."
        yield ""
        for finding in self.findings:
            yield from finding_lines(finding)
        yield ""
        yield self._verdict()

    def _verdict(self) -> str:
        if self.conforms:
            return "The node does what the gateway relies on. What is wired in series with it must be proved by itself."
        broken = _steps(self.findings, Verdict.BROKEN)
        if broken:
            return f"The node does NOT do what the gateway relies on: {broken}. Do not leave it in service."
        return f"Not proved: {_steps(self.findings, Verdict.NOT_TRIED) or 'nothing was tried'}."

    def plain(self) -> Plain:
        """For programs."""
        return {
            "boat": self.boat,
            "equipment": self.equipment,
            "topic": self.topic,
            "by": self.by,
            "began": rfc3339(self.began),
            "ended": rfc3339(self.ended),
            "conforms": self.conforms,
            "steps": [
                {"step": f.step, "asked": f.asked, "verdict": f.verdict.value, "seen": f.seen, "sent": list(f.sent)}
                for f in self.findings
            ],
        }


def finding_lines(finding: Finding) -> Iterator[str]:
    """One step as text."""
    yield f"  {finding.verdict.value:<9}  {finding.step}: {finding.asked}"
    yield f"             {finding.seen}"


def _steps(findings: Sequence[Finding], verdict: Verdict) -> str:
    return ", ".join(finding.step for finding in findings if finding.verdict is verdict)
