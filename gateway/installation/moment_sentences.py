"""Sentences about the moment of switching: what must hold then, and what the proof of it must say."""

from collections.abc import Sequence

from gateway.boat.settings import Carries
from gateway.installation.boat_files import EquipmentTable
from gateway.installation.findings import Findings
from gateway.installation.sentences import Known, read_sentence
from gateway.installation.standards import Laid
from grammar.meanings import (
    Condition,
    IsCompared,
    IsUnbelievable,
    NoNews,
    ValueCondition,
    leaves_of,
    say_condition,
    signals_of,
)


def read_of_the_moment(
    text: str, known: Known, tables: Laid, path: Sequence[str | int], findings: Findings
) -> Condition | None:
    """The sentence, or None after its mistake was noted: one that is about anything but this moment is one."""
    needs = read_sentence(text, known, tables, path, findings)
    if needs is None:
        return None
    if isinstance(needs, NoNews):
        findings.mistake(tables, path, "silence cannot be a condition for switching", "name what must be measured")
        return None
    passed = [one for one in leaves_of(needs) if not isinstance(one, ValueCondition | IsCompared | IsUnbelievable)]
    if passed:
        findings.mistake(
            tables,
            path,
            f'"{say_condition(passed[0])}" proves nothing about the moment of switching (handbook 5.1, G6)',
            "name what must be measured then",
        )
        return None
    if needs.lasting:
        findings.mistake(
            tables,
            path,
            "has a delay, and what counts is the moment of switching (handbook 5.1, G6)",
            f'write "{text.partition(" for ")[0]}"',
        )
    return needs


def proof_sentences(
    table: EquipmentTable, known: Known, tables: Laid, path: tuple[str, str], findings: Findings
) -> tuple[Condition | None, Condition | None]:
    """What the proof must say for the equipment to count as running, and as at rest. Whoever names a proof must say the
    first: a number of which nothing is asked would be told as a proof whatever it is, 0 V too (handbook 5.1, G6)."""
    proof = None if table.proof is None else known.signals.get(table.proof)
    if proof is not None and proof.carries is Carries.NUMBER and table.runs_when is None:
        findings.mistake(
            tables,
            (*path, "runs_when"),
            "is missing beside proof: any number would count as running, 0 too",
            f'write what it shows then, such as runs_when = "{table.proof} at least 207 V"',
        )
    runs, rests = (
        None if text is None else _of_the_proof(text, key, table, known, tables, path, findings)
        for key, text in (("runs_when", table.runs_when), ("rests_when", table.rests_when))
    )
    return runs, rests


def _of_the_proof(
    text: str,
    key: str,
    table: EquipmentTable,
    known: Known,
    tables: Laid,
    path: tuple[str, str],
    findings: Findings,
) -> Condition | None:
    if table.proof is None:
        findings.mistake(
            tables, (*path, key), "asks something of the proof, and there is none", f"name a proof, or leave out {key}"
        )
        return None
    said = read_of_the_moment(text, known, tables, (*path, key), findings)
    others = [] if said is None else [named for named in signals_of(said) if named != table.proof]
    if others:
        findings.mistake(
            tables,
            (*path, key),
            f'speaks of "{others[0]}", and the proof is "{table.proof}"',
            "ask of the proof alone; what else must hold is an interlock",
        )
        return None
    return said
