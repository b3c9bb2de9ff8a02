"""A boat's equipment that may be switched from afar."""

from collections.abc import Mapping, Sequence

from gateway.boat.settings import Carries, Senses, Signal
from gateway.installation.boat_files import EquipmentTable, InterlockTable
from gateway.installation.equipment_rules import attempts_of, check_equipment, cooling_off_of
from gateway.installation.findings import Findings
from gateway.installation.moment_sentences import proof_sentences, read_of_the_moment
from gateway.installation.names import check_keys, check_once
from gateway.installation.nearest import did_you_mean
from gateway.installation.sentences import Known
from gateway.installation.shape import shaped
from gateway.installation.slips import Slip
from gateway.installation.standards import Laid
from gateway.requests.settings import GRAVE, Equipment, Interlock, PermittedHours, Sort
from grammar.language import ENGLISH
from grammar.languages import LANGUAGES

PAIRS = (("start", "stop"), ("on", "off"), ("open", "close"))
"""The pairs of actions that a text can name, the one that brings it to life first."""


def build_equipment(
    boat: str, tables: Laid, known: Known, at_berth: bool, findings: Findings
) -> dict[str, Equipment | None]:
    """Equipment by key; None for a piece whose table is at fault. at_berth: the boat lies at a named berth."""
    built: dict[str, Equipment | None] = {}
    pieces: Mapping[str, object] = tables.values["equipment"]
    check_keys(pieces, tables, ("equipment",), findings)
    spoken: list[tuple[str, Sequence[str | int]]] = []
    topics: dict[str, str] = {}
    for key, values in pieces.items():
        path = ("equipment", key)
        built[key] = None
        table = shaped(EquipmentTable, values, tables, path, findings)
        if table is None:
            continue
        for language in table.names:
            if language not in LANGUAGES or language == ENGLISH.key:
                those = ", ".join(key for key in LANGUAGES if key != ENGLISH.key)
                findings.mistake(
                    tables,
                    (*path, "names", language),
                    "is no language here",
                    f"use one of {those}; English names stand in spoken_names",
                )
        spoken += [(name, (*path, "spoken_names", number)) for number, name in enumerate(table.spoken_names)]
        if table.name not in table.spoken_names:
            spoken.append((table.name, (*path, "name")))
        other = topics.setdefault(table.topic, key)
        if other != key:
            findings.mistake(
                tables, (*path, "topic"), f'is also the command topic of "{other}"', "give each node a topic of its own"
            )
        mistakes = len(findings.mistakes)
        check_equipment(table, tables, path, at_berth, findings)
        piece = _built(boat, key, table, tables, known, findings)
        built[key] = piece if len(findings.mistakes) == mistakes else None
    check_once(spoken, tables, "the name", findings)
    return built


def _built(
    boat: str, key: str, table: EquipmentTable, tables: Laid, known: Known, findings: Findings
) -> Equipment | None:
    path = ("equipment", key)
    pair = _pair(table, tables, path, findings)
    _signal(table.feedback, Carries.CONTACT, known, tables, (*path, "feedback"), findings)
    _signal(table.count, Carries.NUMBER, known, tables, (*path, "count"), findings)
    if table.proof is not None:
        _signal(table.proof, Carries.NUMBER, known, tables, (*path, "proof"), findings)
    runs_when, rests_when = proof_sentences(table, known, tables, path, findings)
    selector = _selector(table, known, tables, path, findings)
    interlocks = [
        read
        for name, lock in table.interlock.items()
        if name not in table.leave_out
        and (read := _interlock(name, lock, pair, known, tables, (*path, "interlock", name), findings))
    ]
    for number, name in enumerate(table.leave_out):
        if name not in table.interlock:
            findings.mistake(
                tables,
                (*path, "leave_out", number),
                f'no interlock is called "{name}"',
                did_you_mean(name, table.interlock),
            )
        else:
            findings.warn(
                tables, (*path, "leave_out", number), f'the interlock "{name}" of the standard does not bind here'
            )
    if table.sort is Sort.ENGINE and not interlocks:
        findings.warn(tables, path, "nothing is asked of fuel or start battery before it starts (handbook 5.2)")
    hours = table.permitted
    return Equipment(
        id=f"{boat}/{key}",
        boat=boat,
        key=key,
        name=table.name,
        spoken_names=tuple(dict.fromkeys((table.name, *table.spoken_names))),
        sort=table.sort,
        pair=pair,
        topic=table.topic,
        feedback=f"{boat}/{table.feedback}",
        count=f"{boat}/{table.count}",
        proof=None if table.proof is None else f"{boat}/{table.proof}",
        runs_when=runs_when,
        rests_when=rests_when,
        selector=None if selector is None else f"{boat}/{selector}",
        caution=table.caution,
        stop_caution=table.stop_caution,
        interlocks=tuple(interlocks),
        prove_within=table.prove_within,
        run_limit=table.run_limit,
        default_run=table.default_run,
        minimum_off=table.minimum_off,
        minimum_on=table.minimum_on,
        attempts=attempts_of(table),
        cooling_off=cooling_off_of(table),
        cool_down=table.cool_down,
        command_valid=table.command_valid,
        permitted=None
        if hours is None
        else PermittedHours(start=hours.start, end=hours.end, by=hours.by, reason=hours.reason),
        second_persons={action: tuple(keys) for action, keys in table.second_persons.items()},
        paper_line=table.paper_line,
        exception=table.exception,
        names_in={language: tuple(names) for language, names in table.names.items() if names},
    )


def _pair(table: EquipmentTable, tables: Laid, path: tuple[str, str], findings: Findings) -> tuple[str, str]:
    for pair in PAIRS:
        if tuple(table.pair) == pair:
            return pair
    shown = ", ".join(f'["{first}", "{second}"]' for first, second in PAIRS)
    findings.mistake(tables, (*path, "pair"), "is no pair that a text can name", f"write one of {shown}")
    return PAIRS[1]


def _signal(
    key: str, carries: Carries, known: Known, tables: Laid, path: Sequence[str | int], findings: Findings
) -> Signal | None:
    """A signal that the equipment rests on, which must be there and of its kind."""
    try:
        signal = known.signal(key)
    except Slip as slip:
        findings.slip(tables, path, slip)
        return None
    if signal is not None and signal.carries is not carries:
        findings.mistake(
            tables, path, f'"{key}" is a {signal.carries.value}', f"name a signal that is a {carries.value}"
        )
    return signal


def _selector(
    table: EquipmentTable, known: Known, tables: Laid, path: tuple[str, str], findings: Findings
) -> str | None:
    """The key of the boat's own LOCAL/REMOTE selector: the one named, else the boat's only one (handbook 5.1, G0)."""
    if table.selector is not None:
        signal = _signal(table.selector, Carries.WORD, known, tables, (*path, "selector"), findings)
        if signal is not None and signal.senses is not Senses.SELECTOR:
            findings.mistake(
                tables,
                (*path, "selector"),
                f'"{table.selector}" is not marked as the selector',
                'write senses = "selector" there',
            )
        return table.selector
    if table.sort not in GRAVE:
        return None
    found = [key for key, signal in known.signals.items() if signal and signal.senses is Senses.SELECTOR]
    if len(found) == 1:
        return found[0]
    at_fault = any(signal is None for signal in known.signals.values())
    if len(found) > 1:
        findings.mistake(
            tables, (*path, "selector"), "is missing, and the boat has several", f"name one: {', '.join(found)}"
        )
    elif not table.exception and not at_fault:
        findings.mistake(
            tables,
            (*path, "selector"),
            "is missing: nothing on this boat is marked as its LOCAL/REMOTE selector",
            'fit one and mark its signal with senses = "selector", or write exception = "name: reason"',
        )
    return None


def _interlock(
    name: str,
    lock: InterlockTable,
    pair: tuple[str, str],
    known: Known,
    tables: Laid,
    path: tuple[str | int, ...],
    findings: Findings,
) -> Interlock | None:
    for number, action in enumerate(lock.actions):
        if action not in pair:
            findings.mistake(
                tables, (*path, "actions", number), f'"{action}" is none of its actions', did_you_mean(action, pair)
            )
    needs = read_of_the_moment(lock.needs, known, tables, (*path, "needs"), findings)
    return (
        None if needs is None else Interlock(key=name, needs=needs, says=lock.says, actions=tuple(lock.actions) or pair)
    )
