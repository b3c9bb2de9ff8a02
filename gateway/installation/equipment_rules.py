"""What the handbook asks of each sort of equipment before it may be switched from afar (handbook 5.1 to 5.3)."""

import re

from gateway.installation.boat_files import EquipmentTable
from gateway.installation.findings import Findings
from gateway.installation.lengths import spelt
from gateway.installation.never_by_text import never_by_text
from gateway.installation.standards import Laid
from gateway.requests.settings import GRAVE, Sort
from gateway.vocabulary.moments import HOUR, MINUTE, Ms

_LONGEST_RUN: dict[Sort, Ms] = {
    Sort.HEAT: 3 * HOUR,  # handbook 5.2, diesel heater
    Sort.PUMP: 5 * MINUTE,  # handbook 5.2, bilge pump manual run
}
_NEEDS_RUN_LIMIT = frozenset({Sort.ENGINE, Sort.HEAT, Sort.PUMP, Sort.LIGHTS})  # handbook 5.2
_PUMP_REST = 5 * MINUTE  # handbook 5.2: run at most 5 min, then off 5 min
_COMPRESSOR_REST = 3 * MINUTE  # handbook 5.2: 3 to 5 min usual
_ATTEMPTS = 3  # handbook 5.2, generator: at most 3, then a person at the set; for a heater the same (our choice)
_BURNS = frozenset({Sort.ENGINE, Sort.HEAT})
_BURNER_RESTS = 10 * MINUTE  # handbook 5.2: at least 10 min between two series
_NOT_OF_A_GAS_VALVE = (
    "run_limit",
    "default_run",
    "minimum_on",
    "minimum_off",
    "permitted",
    "interlock",
    "second_persons",
    "paper_line",
)
"""Handbook 5.2: always allowed by the interlocks, code as usual; no timed run, which would open it again."""
_LETS_GAS_THROUGH = re.compile(r"\b(lp)?gas[ -]?(valve|tap|cock|solenoid|supply|ventil|hahn)|\b(propane|butane|lpg)\b")
"""By any of its names it would be opened by text, if its sort did not forbid it (handbook 5.3)."""
_COOLING_OFF = MINUTE  # handbook 5.1, G5 asks for one after a failure and gives no length: our choice


def attempts_of(table: EquipmentTable) -> int | None:
    """Starts in a row that may fail before a person must look; whatever burns has a limit, written or not."""
    return table.attempts if table.attempts is not None else _ATTEMPTS if table.sort in _BURNS else None


def cooling_off_of(table: EquipmentTable) -> Ms:
    """Rest (ms) after a start that was not proved; there is always one, written or not (handbook 5.1, G5)."""
    if table.cooling_off is not None:
        return table.cooling_off
    return _BURNER_RESTS if table.sort in _BURNS else _COOLING_OFF


def check_equipment(
    table: EquipmentTable, tables: Laid, path: tuple[str, str], at_berth: bool, findings: Findings
) -> None:
    """Every rule that one table can break by itself. Of what is never switched by text nothing more is said."""
    if _never(table, tables, path, findings):
        return
    _times(table, tables, path, findings)
    if table.sort in GRAVE and not table.caution:
        findings.mistake(
            tables, (*path, "caution"), "is missing", "write what the person must know before confirming (handbook 5.2)"
        )
    if table.attempts is not None and not 1 <= table.attempts <= _ATTEMPTS:
        findings.mistake(tables, (*path, "attempts"), f"is {table.attempts}", f"write 1 to {_ATTEMPTS} (handbook 5.2)")
    if table.sort in _BURNS and cooling_off_of(table) < _BURNER_RESTS:
        findings.mistake(
            tables,
            (*path, "cooling_off"),
            f"is {spelt(cooling_off_of(table))}",
            f"write at least {spelt(_BURNER_RESTS)} (handbook 5.2: between two series of attempts)",
        )
    if table.sort is Sort.ENGINE:
        _engine(table, tables, path, at_berth, findings)
    if table.sort is Sort.GAS_VALVE:
        _gas_valve(table, tables, path, findings)
    if table.sort is Sort.PUMP:
        _pump(table, tables, path, findings)
    if table.sort is Sort.REFRIGERATION and table.minimum_off < _COMPRESSOR_REST:
        findings.warn(
            tables, (*path, "minimum_off"), "a compressor usually needs 3 to 5 min of rest before it starts again"
        )


def _never(table: EquipmentTable, tables: Laid, path: tuple[str, str], findings: Findings) -> bool:
    if table.sort is not Sort.GAS_VALVE and (name := _gas_name(table, path[1])) is not None:
        findings.mistake(
            tables,
            (*path, "sort"),
            f'"{name}" lets gas through, and no text may open it',
            'write sort = "gas valve", by which it can be closed and nothing else',
        )
        return True
    found = never_by_text(_all_names(table, path[1]))
    if found is None:
        return False
    name, reason = found
    findings.mistake(tables, path, f'"{name}" is never switched by text: {reason}', "leave it out")
    return True


def _gas_name(table: EquipmentTable, key: str) -> str | None:
    """The first of its names that tells of a gas valve."""
    return next((name for name in _all_names(table, key) if _LETS_GAS_THROUGH.search(name.casefold())), None)


def _all_names(table: EquipmentTable, key: str) -> tuple[str, ...]:
    """By which it may be called in any language."""
    return key, table.name, *table.spoken_names, *(name for said in table.names.values() for name in said)


def _times(table: EquipmentTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    if table.run_limit is None and table.sort in _NEEDS_RUN_LIMIT:
        findings.mistake(tables, (*path, "run_limit"), "is missing", 'write the longest run, such as run_limit = "2 h"')
    if table.run_limit is None and table.default_run is not None:
        findings.mistake(tables, (*path, "run_limit"), "is missing beside default_run", "write both or neither")
    if table.run_limit is not None and table.default_run is None:
        findings.mistake(
            tables,
            (*path, "default_run"),
            "is missing beside run_limit",
            "write how long it runs when no time is asked for",
        )
    if table.run_limit and table.default_run and table.default_run > table.run_limit:
        findings.mistake(
            tables,
            (*path, "default_run"),
            f"is longer than run_limit ({spelt(table.run_limit)})",
            "write a shorter time",
        )
    longest = _LONGEST_RUN.get(table.sort)
    if longest and table.run_limit and table.run_limit > longest:
        findings.mistake(
            tables,
            (*path, "run_limit"),
            f"is {spelt(table.run_limit)}",
            f"write at most {spelt(longest)} (handbook 5.2)",
        )
    if table.permitted and table.permitted.start == table.permitted.end:
        findings.mistake(tables, (*path, "permitted", "end"), "is the same as start", "write when the hours end")


def _engine(table: EquipmentTable, tables: Laid, path: tuple[str, str], at_berth: bool, findings: Findings) -> None:
    if table.fuel is None:
        findings.mistake(
            tables, (*path, "fuel"), "is missing", 'write fuel = "diesel"; no other engine may be started by text'
        )
    elif table.fuel.casefold() != "diesel":
        findings.mistake(
            tables,
            (*path, "fuel"),
            f'is "{table.fuel}", and only a diesel may be started by text',
            "leave it out: the bilge must be blown and looked into before such an engine is started",
        )
    if table.sounder is None and not table.exception:
        findings.mistake(
            tables,
            (*path, "sounder"),
            "is missing: people aboard must hear a warning before the engine starts",
            'write how long it sounds, such as sounder = "45 s", or exception = "name: reason"',
        )
    if at_berth and table.permitted is None:
        findings.mistake(
            tables,
            (*path, "permitted"),
            "is missing, and the boat lies at a berth",
            f"write [equipment.{path[1]}.permitted] with start, end, by and reason in {tables.name} (handbook 5.2)",
        )


def _gas_valve(table: EquipmentTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    """Closing is always allowed, and nothing else can be asked for (handbook 5.2, 5.3)."""
    if table.pair != ["open", "close"]:
        findings.mistake(
            tables, (*path, "pair"), "of a gas valve is open and close", 'write ["open", "close"]; no text opens it'
        )
    if not table.stop_caution:
        findings.mistake(
            tables, (*path, "stop_caution"), "is missing", 'write "Re-open only at the boat." (handbook 5.2)'
        )
    for key in _NOT_OF_A_GAS_VALVE:
        if getattr(table, key):
            findings.mistake(
                tables, (*path, key), "is nothing of a gas valve, which a text may close at any time", "leave it out"
            )


def _pump(table: EquipmentTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    if table.minimum_off < _PUMP_REST:
        findings.mistake(
            tables, (*path, "minimum_off"), f"is {spelt(table.minimum_off)}", "write at least 5 min (handbook 5.2)"
        )
    if not table.caution:
        findings.mistake(
            tables,
            (*path, "caution"),
            "is missing",
            "write that nobody may pump when there may be oil or fuel in the water",
        )
    if not table.interlock:
        findings.mistake(
            tables, (*path, "interlock"), "is missing: a pump must not run dry", "write what shows that there is water"
        )
