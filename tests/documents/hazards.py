"""What can go wrong with each thing that may be switched, and what stands against it: the hazard table.

Causes and harms are those of handbook 5.2 and 5.3; the wired barriers are those that 5.1 and 5.2 ask of the boat. The
software barriers stand behind them and carry no safety-integrity claim. Nothing here is permission: a licensed or
qualified marine electrician, the makers' instructions and local codes decide.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

TOP = Path(__file__).parents[2]
STANDARD = TOP / "config" / "standard"
EVERYTHING = "everything"
"""Hazards of every command, whatever it switches."""

INTERLOCKS = "tests/requests/test_interlocks.py"
GRAVE_SORTS = "tests/requests/test_grave_sorts.py"
VALUES = "tests/outside/test_code_and_interlock_values.py"
RUNS = "tests/requests/test_timed_runs.py"
ATTEMPTS = "tests/requests/test_attempts.py"
NODE = "tests/demo/test_relay_node.py"
PROOF = "tests/requests/test_proof.py"
SENTENCES = "tests/installation/test_catalogue_sentences.py"
EACH_SENTENCE = "test_each_sentence_of_the_catalogue_refuses_by_itself"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """One way to harm. equipment: keys of the starter, or EVERYTHING. locks: keys of its interlocks in the starter.
    test: the check of the software barrier, in this file."""

    equipment: tuple[str, ...]
    cause: str
    harm: str
    wired: str
    software: str
    file: str
    test: str
    locks: tuple[str, ...] = ()


def _h(
    equipment: str, cause: str, harm: str, wired: str, software: str, file: str, test: str, locks: str = ""
) -> Hazard:
    return Hazard(
        equipment=tuple(equipment.split()),
        cause=cause,
        harm=harm,
        wired=wired,
        software=software,
        file=file,
        test=test,
        locks=tuple(locks.split()),
    )


_TRIPPED = "test_each_refuses_the_start_at_the_question_and_again_at_the_code"
_AGAIN = "test_each_interlock_is_asked_again_at_the_confirmation"
_FRESH = "everything asked of it must be fresh, at the question and at the confirmation"

HAZARDS: tuple[Hazard, ...] = (
    _h(
        EVERYTHING,
        "somebody works on it",
        "shock, crushing",
        "isolator with the worker's own lock",
        "maintenance lock-out refuses everybody, also a stop, and lets gas be closed alone",
        VALUES,
        "test_chk_37_a_maintenance_lock_refuses_everybody",
    ),
    _h(
        EVERYTHING,
        "gas or fire aboard",
        "explosion by the spark of a contact",
        "gas shut off by its own detector; ignition-protected relays",
        "no switching at all while the alarm stands",
        VALUES,
        "test_chk_47_under_a_gas_alarm_a_running_set_is_left_to_its_wired_stop",
    ),
    _h(
        EVERYTHING,
        "command comes late, twice or out of a queue",
        "it starts when nobody expects it",
        "selector in LOCAL while anybody is aboard",
        "the node looks at `seen` and at each id once; nothing is retained",
        NODE,
        "test_whatever_comes_in_any_order_no_id_acts_twice_and_none_out_of_sight",
    ),
    _h(
        EVERYTHING,
        "data are old or were never heard",
        "switched blind",
        "protections of the thing itself",
        _FRESH,
        INTERLOCKS,
        _AGAIN,
    ),
    _h(
        EVERYTHING,
        "gateway dies between command and result",
        "switched again, or believed done",
        "the node's own timer",
        "unproven after a restart, told, never sent again",
        PROOF,
        "test_after_a_restart_a_command_under_way_is_unproven_and_never_sent_again",
    ),
    _h(
        "generator cabin-heater",
        "exhaust near people aboard, alongside or swimming",
        "carbon monoxide poisoning",
        "carbon monoxide contact stops it by wire; sounder with a cancel button; selector",
        "detectors fitted, live and clear; nobody aboard by name; selector seen in REMOTE",
        GRAVE_SORTS,
        _TRIPPED,
    ),
    _h(
        "generator cabin-heater",
        "tried again and again without catching",
        "flooded exhaust, fuel in the burner, flat battery",
        "the controller's own lock-out",
        "10 min of rest after a failure, after three a person at the boat",
        ATTEMPTS,
        "test_chk_35_after_three_only_a_run_at_the_boat_opens_it_again_however_long_one_waits",
        "lock-out",
    ),
    _h(
        "generator cabin-heater",
        "stopped hot",
        "damage, fire",
        "the controller's own cool-down",
        "it is stopped by its controller, and proof waits for the cool-down",
        ATTEMPTS,
        "test_chk_42_a_stop_by_text_is_unproven_only_after_the_cool_down",
    ),
    _h(
        "generator",
        "it turns and delivers nothing, or goes on after its contact has dropped",
        "believed running while the bank empties, believed stopped while it burns",
        "the set's own shut-down for voltage",
        "proof asks the volts too: at least 207 V for a start, below 50 V for a stop",
        PROOF,
        "test_a_contact_that_comes_with_a_number_of_a_dead_set_proves_no_start",
    ),
    _h(
        "generator",
        "set feeds the shore lead or another source",
        "back-feed, shock to people ashore",
        "break-before-make transfer switch",
        "transfer switch seen safe",
        SENTENCES,
        EACH_SENTENCE,
        "transfer",
    ),
    _h(
        "generator",
        "no cooling water, oil or coolant; out of the water",
        "seizure, burnt exhaust hose",
        "the controller's own stops for heat and oil",
        "sea cock, oil and coolant, afloat",
        SENTENCES,
        EACH_SENTENCE,
        "seacock healthy afloat",
    ),
    _h(
        "generator",
        "swimmers at the ladder",
        "carbon monoxide poisoning, burns",
        "sounder with a cancel button",
        "swim ladder seen up; permitted hours",
        SENTENCES,
        EACH_SENTENCE,
        "ladder",
    ),
    _h(
        "generator",
        "runs dry or drains its battery",
        "air in the fuel line, no start in need",
        "fuel and voltage cut-outs of the set",
        "fuel and start battery",
        SENTENCES,
        EACH_SENTENCE,
        "fuel start-battery",
    ),
    _h(
        "generator cabin-heater water-heater frost-heater deck-lights cabin-lights bilge-pump-2",
        "nobody switches it off",
        "fire, flat battery, dry pump",
        "the node's own timer",
        "run limit, and our own end is due also after a restart",
        RUNS,
        "test_a_stop_that_is_due_survives_a_restart",
    ),
    _h(
        "refrigeration freezer air-conditioning dehumidifier",
        "short cycling",
        "damaged compressor",
        "the compressor's own delay",
        "minimum off and on",
        VALUES,
        "test_chk_31_minimum_off_of_five_minutes",
    ),
    _h(
        "refrigeration freezer inverter",
        "bank too low",
        "pumps and alarms without power",
        "low-voltage cut-out",
        "bank above its limit",
        SENTENCES,
        EACH_SENTENCE,
        "house-bank",
    ),
    _h(
        "battery-charger",
        "charged too cold or too hot",
        "damaged or burning bank",
        "the bank's own guard, temperature sensor of the charger",
        "bank temperature; shore power there",
        SENTENCES,
        EACH_SENTENCE,
        "bank-temperature shore",
    ),
    _h(
        "inverter",
        "sockets become live under somebody's hands",
        "shock",
        "earth-leakage breaker; isolator with a lock",
        "nobody aboard by name; selector; lock-out",
        GRAVE_SORTS,
        _TRIPPED,
    ),
    _h(
        "inverter",
        "second source on the same bus",
        "back-feed, destroyed inverter",
        "break-before-make transfer switch",
        "transfer seen safe, or no other source",
        SENTENCES,
        EACH_SENTENCE,
        "transfer",
    ),
    _h(
        "cabin-heater",
        "no fuel or voltage for its whole cycle",
        "no cool-down, fire",
        "the heater's own overheat cut-out",
        "fuel and voltage",
        SENTENCES,
        EACH_SENTENCE,
        "fuel house-bank",
    ),
    _h(
        "water-heater",
        "element dry, shore lead overloaded",
        "fire",
        "thermal cut-out, breaker of the lead",
        "water, shore current",
        SENTENCES,
        EACH_SENTENCE,
        "water shore-margin shore",
    ),
    _h(
        "bilge-pump-2",
        "oil or fuel in the bilge",
        "pollution",
        "none",
        "oil sensor; caution; high water comes first",
        SENTENCES,
        EACH_SENTENCE,
        "oil",
    ),
    _h(
        "bilge-pump-2",
        "runs dry, drains the bank",
        "pump lost when it is needed",
        "the float of the first pump stays in charge",
        "water seen; bank not critical; rest",
        SENTENCES,
        EACH_SENTENCE,
        "water house-bank",
    ),
    _h(
        "air-conditioning",
        "its pump ashore, shore lead weak",
        "dry pump, burnt lead",
        "flow switch, breaker",
        "afloat; shore voltage",
        SENTENCES,
        EACH_SENTENCE,
        "afloat shore",
    ),
    _h(
        "gas-valve",
        "opened from afar",
        "gas flows where nobody looks, explosion",
        "a valve that rests closed and is opened by hand at the boat",
        "no text means opening; closing is allowed under a gas alarm too",
        "tests/installation/test_gas_valve.py",
        "test_no_text_of_anybody_opens_it",
    ),
    _h(
        "frost-heater",
        "something lies on it, shore lead overloaded",
        "fire",
        "fixed in its place, tip switch, thermal cut-out, breaker of the lead",
        "shore power and its current; nobody aboard by name",
        SENTENCES,
        EACH_SENTENCE,
        "shore shore-margin",
    ),
    _h(
        "non-essentials",
        "a pump, a detector or the gateway hangs behind it",
        "water or fire that nobody is told of",
        "those on a fuse of their own, ahead of the relay",
        "a boat that falls silent is told, at once while an emergency stands",
        "tests/desk/test_silence_with_others.py",
        "test_silence_while_an_emergency_stands_is_an_alarm_at_once",
    ),
    _h(
        "horn",
        "sounds on beside somebody, or at night",
        "damaged hearing, neighbours",
        "the node lets go after 5 s by itself",
        "hours of the day",
        VALUES,
        "test_chk_48_permitted_hours_at_a_berth",
    ),
    _h(
        "dehumidifier",
        "no shore power",
        "bank drained",
        "fed by shore power only",
        "shore power there",
        SENTENCES,
        EACH_SENTENCE,
        "shore",
    ),
    _h(
        "deck-lights cabin-lights",
        "taken for navigation or anchor lights",
        "collision",
        "navigation lights on no relay of a node",
        "never-list when the installation is read",
        "tests/installation/test_never_by_text.py",
        "test_these_are_refused_with_a_reason",
    ),
)


def catalogue() -> dict[str, frozenset[str]]:
    """Every key of equipment in the standards of the starter, with the keys of its interlocks."""
    found: dict[str, set[str]] = {}
    for path in sorted(STANDARD.glob("*.toml")):
        for key, table in _equipment(tomllib.loads(path.read_text(encoding="utf-8"))):
            found.setdefault(key, set()).update(table.get("interlock", {}))
    return {key: frozenset(locks) for key, locks in found.items()}


def _equipment(values: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    yield from values.get("equipment", {}).items()


def rows() -> list[tuple[str, ...]]:
    """The table's rows; interlocks of the starter stand by their keys."""
    return [
        (
            ", ".join(one.equipment),
            one.cause,
            one.harm,
            one.wired,
            one.software + (f" (interlocks {', '.join(one.locks)})" if one.locks else ""),
            f"[`{one.test}`]({one.file})",
        )
        for one in HAZARDS
    ]
