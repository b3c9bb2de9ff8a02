"""One more boat for an installation, built on a standard of the firm: a folder with nothing in it but what differs."""

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from gateway.installation.documents import Document
from gateway.installation.findings import Findings
from gateway.installation.folder import Folder, read_folder
from gateway.installation.names import plain
from gateway.installation.nearest import did_you_mean
from gateway.installation.standard_chain import chain_of, names_of
from gateway.installation.standards import laid


class NotAdded(Exception):
    """No boat was made. The text says why, and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBoat:
    """What is asked for; None where the installation itself may show it.

    name: as it begins every text. built_on: name of a file in standard/, without ".toml". zone: IANA name.
    """

    name: str
    built_on: str
    berth: str | None = None
    zone: str | None = None
    short_name: str | None = None
    broker: str | None = None
    carrier: str | None = None


def add_boat(folder: Path, wanted: NewBoat) -> tuple[str, ...]:
    """Make boats/KEY with its files; their names below the folder. Raises NotAdded, and then nothing was made."""
    read = read_folder(folder, Findings())
    key = key_of(wanted.name)
    files = boat_files(key, wanted, read)
    place = folder / "boats" / key
    try:
        place.mkdir(parents=True)
    except FileExistsError:
        raise NotAdded(f"boats/{key} is there already. Name the boat otherwise, or change the files in it.") from None
    except OSError as trouble:
        raise NotAdded(f"boats/{key} cannot be made ({trouble.strerror}). Mend the right to write there.") from None
    try:
        for name, text in files.items():
            (place / name).write_text(text, encoding="utf-8")
    except OSError as trouble:
        for name in files:
            (place / name).unlink(missing_ok=True)
        place.rmdir()
        raise NotAdded(f"boats/{key} cannot be written ({trouble.strerror}). Nothing was made.") from None
    return tuple(f"boats/{key}/{name}" for name in files)


def key_of(name: str) -> str:
    """The folder's name of a boat: "SALT HARRIER" is "salt-harrier", accents left out. Raises NotAdded."""
    bare = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    key = "-".join(re.findall(r"[a-z0-9]+", bare))
    if not key or not key[0].isalpha():
        raise NotAdded(
            f'no folder can be named after "{name}". Begin with a letter from a to z; how the name is shown in texts '
            "can be changed in boat.toml afterwards."
        )
    return key


def boat_files(key: str, wanted: NewBoat, read: Folder) -> Mapping[str, str]:
    """The new boat's files by name, as text. read: the installation it joins. Raises NotAdded."""
    for said in (wanted.name, wanted.berth, wanted.short_name):
        if said is not None and not (said.isprintable() and said.strip() == said):
            raise NotAdded(f"{said!r} is no name: write it on one line, without blanks round it.")
    links = read.get("gateway.toml")
    if links is None:
        raise NotAdded("gateway.toml is missing or cannot be read. Name the installation's folder, or mend the file.")
    standard = chain_of(wanted.built_on, read, Findings())
    if standard is None:
        raise NotAdded(
            f"there is no standard/{wanted.built_on}.toml that can be read; {_known(wanted.built_on, names_of(read))}"
        )
    others = {boat: read.get(f"boats/{boat}/boat.toml") for boat in read.boats}
    taken = _taken(others)
    name = wanted.name if wanted.name != wanted.name.lower() else wanted.name.replace("-", " ").upper()
    for called in (name, key):
        if plain(called) in taken:
            raise NotAdded(f'the name "{name}" is taken by {taken[plain(called)]}. Give each boat its own names.')
    lines = {
        "name": name,
        "short_name": _short_name(wanted.short_name, name, taken),
        "berth": wanted.berth or "",
        "zone": _zone(wanted.zone, others.values()),
        "broker": _link("broker", wanted.broker, links),
        "carrier": _link("carrier", wanted.carrier, links),
        "built_on": wanted.built_on,
    }
    return {
        "boat.toml": _boat_toml(lines),
        "signals.toml": _differences("signal", wanted.built_on, standard),
        "alarms.toml": _differences("alarm", wanted.built_on, standard),
        "equipment.toml": _differences("equipment", wanted.built_on, standard),
    }


def _known(name: str, names: Iterable[str]) -> str:
    said = did_you_mean(name, names)
    return said if said.endswith("?") else f"{said}."


def _taken(others: Mapping[str, Document | None]) -> Mapping[str, str]:
    """Every name by which a boat is known, as it is compared, and whose it is."""
    taken = {plain(boat): f"boats/{boat}" for boat in others}
    for boat, document in others.items():
        values = document.values if document else {}
        spoken = values.get("spoken_names", [])
        for name in (values.get("name"), values.get("short_name"), *(spoken if isinstance(spoken, list) else [])):
            if isinstance(name, str):
                taken.setdefault(plain(name), f"boats/{boat}")
    return taken


def _short_name(wanted: str | None, name: str, taken: Mapping[str, str]) -> str:
    """As the boat is texted: the one asked for, else the last word of its name, else the whole name."""
    if wanted is not None:
        if plain(wanted) in taken:
            raise NotAdded(f'the short name "{wanted}" is taken by {taken[plain(wanted)]}. Write another --short-name.')
        return wanted
    last = plain(name).split()[-1]
    return plain(name) if last in taken else last


def _zone(wanted: str | None, others: Iterable[Document | None]) -> str:
    """The one asked for, else the one that all other boats have."""
    if wanted is None:
        zones = {str(each.values.get("zone")) for each in others if each is not None}
        if len(zones) != 1:
            raise NotAdded("the other boats show no time zone to go by. Write --zone, such as --zone Europe/London.")
        return zones.pop()
    try:
        ZoneInfo(wanted)
    except (KeyError, ValueError, OSError):
        raise NotAdded(f'"{wanted}" is no time zone. Write its name, such as --zone Europe/London.') from None
    return wanted


def _link(kind: str, wanted: str | None, links: Document) -> str:
    """The broker or carrier asked for, else the only one there is."""
    tables = links.values.get(kind)
    names = list(tables) if isinstance(tables, dict) else []
    if wanted is not None:
        if wanted not in names:
            raise NotAdded(f'no {kind} in gateway.toml is called "{wanted}"; {_known(wanted, names)}')
        return wanted
    if not names:
        raise NotAdded(f"gateway.toml names no {kind}. Write a table [{kind}.NAME] there first.")
    if len(names) > 1:
        raise NotAdded(f"gateway.toml names {len(names)} {kind}s: {', '.join(names)}. Write --{kind} and one of them.")
    return str(names[0])


_REMARKS = {
    "name": "as it begins every text",
    "short_name": "as it is texted",
    "berth": "as it is said in a text",
    "zone": "boat time",
    "built_on": "only the differences from this standard stand in this folder",
}


def _boat_toml(values: Mapping[str, str]) -> str:
    lines = []
    for key, value in values.items():
        if key == "berth" and not value:
            lines.append('# berth = "C14"                     # as it is said in a text; left out on a mooring')
            continue
        line = f"{key} = {toml_text(value)}"
        lines.append(f"{line:<35} # {_REMARKS[key]}" if key in _REMARKS else line)
    lines.append('emergency_number = "112"            # what a person aboard should call there')
    return "\n".join(lines) + "\n"


def toml_text(value: str) -> str:
    """A printable text as a basic string of TOML 1.0, on one line."""
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


_EXAMPLES = {
    "signal": ['report_interval = "60 s"'],
    "alarm": ['do = "..."'],
    "equipment": ['caution = "..."'],
}


def _differences(kind: str, standard: str, chain: Sequence[Document]) -> str:
    """A file that says nothing yet, and how a difference is written."""
    names: Sequence[str] = list(laid(kind, "", "", chain, None, Findings()).values[kind])
    lines = [
        f"# Differences from standard/{standard}.toml, key by key; a list is taken whole. Nothing differs yet.",
        "# What the standard has and this boat has not:   leave_out = [...]   at the top of this file.",
    ]
    if names:
        lines += [f"# {part}" for part in _wrapped("The standard has: " + ", ".join(names) + ".", 116)]
        lines += ["#", f"# [{kind}.{names[0]}]", *(f"# {line}" for line in _EXAMPLES[kind])]
    return "\n".join(lines) + "\n"


def _wrapped(text: str, width: int) -> list[str]:
    lines = [""]
    for word in text.split():
        if lines[-1] and len(lines[-1]) + 1 + len(word) > width:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines
