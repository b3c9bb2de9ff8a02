"""One boat from its files and its standard."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from gateway.alarms.settings import Point
from gateway.boat.settings import Bank, Boat, Carries, Signal
from gateway.installation.alarms import build_points
from gateway.installation.boat_files import BoatFile
from gateway.installation.documents import Document
from gateway.installation.equipment import build_equipment
from gateway.installation.findings import Findings
from gateway.installation.fitted import check_alarms_fit, check_detectors
from gateway.installation.folder import Folder
from gateway.installation.mistakes import Mistake
from gateway.installation.names import check_keys
from gateway.installation.nearest import did_you_mean
from gateway.installation.sentences import Known
from gateway.installation.shape import shaped
from gateway.installation.sharing import shares_of
from gateway.installation.signals import build_signals
from gateway.installation.slips import Slip
from gateway.installation.spreading import spread
from gateway.installation.standard_chain import chain_of, names_of
from gateway.installation.standards import Laid, Whole, laid
from gateway.installation.sums import build_sums
from gateway.installation.supply_file import BankTable, SupplyTables
from gateway.reckoning.own_sums import OwnSum
from gateway.requests.settings import Equipment
from gateway.telling.settings import CallOutList


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """One boat and all that is aboard, by key. A signal, piece of equipment or sum is None when its table is at fault.

    file, alarms, equipment_tables, signal_tables: where each was written. standard: its name, None without one.
    """

    boat: Boat
    standard: str | None
    signals: Mapping[str, Signal | None]
    points: Mapping[str, Point]
    equipment: Mapping[str, Equipment | None]
    sums: Mapping[str, OwnSum | None]
    file: Whole
    signal_tables: Laid
    alarm_tables: Laid
    equipment_tables: Laid
    bank: BankTable | None
    supply: SupplyTables | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ashore:
    """What a boat's files may name that is written elsewhere; None where that file could not be read."""

    brokers: frozenset[str] | None
    carriers: frozenset[str] | None
    callouts: Mapping[str, CallOutList] | None


def build_boat(key: str, folder: Folder, ashore: Ashore, findings: Findings) -> Fitted | None:
    """The boat, or None when its boat.toml or its standard cannot be read."""
    document = folder.get(f"boats/{key}/boat.toml")
    if document is None:
        return None
    whole = Whole(document=document)
    check_keys([key], whole, (), findings)
    file = shaped(BoatFile, document.values, whole, (), findings)
    if file is None:
        return None
    _named(file, whole, ashore, findings)
    standard = _standard(file, whole, folder, findings)
    if standard is None:
        return None
    signal_tables = spread(_laid(key, "signal", "signals.toml", folder, standard, findings), findings)
    alarm_tables = _laid(key, "alarm", "alarms.toml", folder, standard, findings)
    equipment_tables = _laid(key, "equipment", "equipment.toml", folder, standard, findings)
    signals = build_signals(key, signal_tables, findings)
    known = Known(signals=signals, left_out=signal_tables.left_out)
    if f"boats/{key}/signals.toml" in folder.broken:
        return None
    sums = build_sums(key, _laid(key, "sum", "sums.toml", folder, standard, findings), known, findings)

    def day_read(name: str) -> date | None:
        return folder.day_read(name, file.zone)

    points = build_points(key, alarm_tables, known, ashore.callouts, findings, file.zone, sums, day_read)
    equipment = build_equipment(key, equipment_tables, known, bool(file.berth), findings)
    check_alarms_fit(signals, points, alarm_tables, findings)
    if f"boats/{key}/alarms.toml" not in folder.broken:
        check_detectors(file, signals, points, equipment, equipment_tables, findings)
    return Fitted(
        boat=Boat(
            key=key,
            name=file.name,
            short_name=file.short_name,
            zone=file.zone,
            broker=file.broker,
            carrier=file.carrier,
            berth=file.berth,
            emergency_number=file.emergency_number,
            spoken_names=tuple(file.spoken_names),
            shares=shares_of(file),
            bank=_bank(key, file.bank, whole, known, findings),
        ),
        standard=file.built_on,
        signals=signals,
        points=points,
        equipment=equipment,
        sums=sums,
        file=whole,
        signal_tables=signal_tables,
        alarm_tables=alarm_tables,
        equipment_tables=equipment_tables,
        bank=file.bank,
        supply=file.supply,
    )


def _bank(boat: str, table: BankTable | None, whole: Whole, known: Known, findings: Findings) -> Bank | None:
    """The bank for the desk; its signals must be there and be numbers."""
    if table is None:
        return None
    for key, unit in (("charge", "%"), ("amps", "A"), ("volts", "V")):
        named = getattr(table, key)
        try:
            signal = None if named is None else known.signal(named)
        except Slip as slip:
            findings.slip(whole, ("bank", key), slip)
            continue
        if signal is not None and signal.carries is not Carries.NUMBER:
            findings.mistake(
                whole, ("bank", key), f'"{named}" is a {signal.carries.value}', "name a signal that is a number"
            )
        elif signal is not None and signal.unit != unit:
            is_in = f"is in {signal.unit}" if signal.unit else "has no unit"
            findings.mistake(whole, ("bank", key), f'"{named}" {is_in}', f"name a signal in {unit}")
    if (table.volts is None) != (table.chemistry is None):
        missing = "chemistry" if table.chemistry is None else "volts"
        findings.mistake(
            whole,
            ("bank", missing),
            "is missing, and its charge by its volts at rest needs both volts and chemistry",
            "write both, or neither",
        )
    return Bank(
        capacity=table.capacity,
        rated_hours=table.rated_hours,
        peukert=table.peukert,
        limit=table.limit,
        charge=None if table.charge is None else f"{boat}/{table.charge}",
        amps=None if table.amps is None else f"{boat}/{table.amps}",
        volts=None if table.volts is None else f"{boat}/{table.volts}",
        chemistry=table.chemistry.value if table.chemistry else "",
        nominal=table.nominal,
    )


def _named(file: BoatFile, whole: Whole, ashore: Ashore, findings: Findings) -> None:
    for kind, name, known in (("broker", file.broker, ashore.brokers), ("carrier", file.carrier, ashore.carriers)):
        if known is not None and name not in known:
            findings.mistake(whole, (kind,), f'no {kind} in gateway.toml is called "{name}"', did_you_mean(name, known))


def _standard(file: BoatFile, whole: Whole, folder: Folder, findings: Findings) -> tuple[Document, ...] | None:
    """What she is built on, the lowest first; () when on nothing, None when it cannot be read."""
    if file.built_on is None:
        return ()
    name = f"standard/{file.built_on}.toml"
    if folder.get(name) is None and name not in folder.broken:
        findings.mistake(
            whole, ("built_on",), f"there is no file {name}", did_you_mean(file.built_on, names_of(folder))
        )
    return chain_of(file.built_on, folder, findings)


def _laid(boat: str, kind: str, name: str, folder: Folder, standard: tuple[Document, ...], findings: Findings) -> Laid:
    path = f"boats/{boat}/{name}"
    own = folder.get(path)
    if own is None and not standard and kind in ("signal", "alarm") and path not in folder.broken:
        findings.mistakes.append(
            Mistake(path, None, "", "the file is missing", f"make it, or write built_on in boats/{boat}/boat.toml")
        )
    return laid(kind, boat, path, standard, own, findings)
