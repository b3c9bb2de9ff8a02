"""What a boat must have aboard for what it is allowed to switch, and what its alarms leave out."""

from collections.abc import Mapping

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Senses, Signal
from gateway.installation.boat_files import BoatFile
from gateway.installation.findings import Findings
from gateway.installation.standards import Laid
from gateway.requests.settings import Equipment, Sort
from grammar.meanings import Condition, IsContact, IsUnreadable, NoNews, leaves_of

_DETECTORS = {Senses.CO: Concerns.CO, Senses.FIRE: Concerns.FIRE, Senses.GAS: Concerns.GAS}
_BURNS = frozenset({Sort.ENGINE, Sort.HEAT})


def check_detectors(
    file: BoatFile,
    signals: Mapping[str, Signal | None],
    points: Mapping[str, Point],
    equipment: Mapping[str, Equipment | None],
    tables: Laid,
    findings: Findings,
) -> None:
    """An engine or heater needs detectors of carbon monoxide, of fire and of gas, each with an alarm of its own
    (handbook 5.1 G3 and 5.2). Gas is not asked for where the installer says with a name that none is aboard."""
    if any(signal is None for signal in signals.values()):
        return  # one of the faulty tables may be the detector
    sensed = {signal.senses for signal in signals.values() if signal}
    told = {point.concerns for point in points.values()}
    for key, piece in equipment.items():
        if piece is None or piece.sort not in _BURNS:
            continue
        for senses, concerns in _DETECTORS.items():
            if senses is Senses.GAS and file.no_gas_aboard:
                continue
            if senses not in sensed:
                excuse = ', or write no_gas_aboard = "name: reason" in her boat.toml' if senses is Senses.GAS else ""
                findings.mistake(
                    tables,
                    ("equipment", key),
                    f"may not be started from afar on {file.name}: no signal senses {senses.value}",
                    f'fit a detector and mark its signal with senses = "{senses.value}"{excuse}',
                )
            elif concerns not in told:
                findings.mistake(
                    tables,
                    ("equipment", key),
                    f"may not be started from afar on {file.name}: no alarm concerns {concerns.value}",
                    f'write an alarm on the detector with concerns = "{concerns.value}"',
                )
        if Senses.PERSON not in sensed:
            findings.warn(
                tables,
                ("equipment", key),
                "nothing senses somebody aboard; only texts will tell that a visit has begun",
            )


def _raised_by(when: Condition) -> tuple[str, ...]:
    """Keys of the signals of which a value raises the alarm; of a joined sentence those that must be on."""
    leaves = leaves_of(when)
    if len(leaves) == 1:
        return () if isinstance(when, NoNews | IsUnreadable) or when.signal is None else (when.signal,)
    return tuple(leaf.signal for leaf in leaves if isinstance(leaf, IsContact) and leaf.wanted)


def check_alarms_fit(
    signals: Mapping[str, Signal | None], points: Mapping[str, Point], tables: Laid, findings: Findings
) -> None:
    """An alarm on a detector must say what it concerns, or the interlocks would not know of it. An alarm on the
    detector's silence concerns no fire, gas or carbon monoxide."""
    for key, point in points.items():
        sensed = [signal.senses for key in _raised_by(point.when) if (signal := signals.get(key)) and signal.senses]
        for concerns in [_DETECTORS[senses] for senses in sensed if senses in _DETECTORS]:
            if point.concerns is concerns:
                continue
            findings.mistake(
                tables,
                ("alarm", key, "concerns"),
                f"is missing or wrong for a detector of {concerns.value}",
                f'write concerns = "{concerns.value}"',
            )
