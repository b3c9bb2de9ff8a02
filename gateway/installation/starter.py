"""Where the starter lies: a complete installation to copy, to show and to test with.

It carries three boats: one whole, built on the firm's standard, and two that differ from it in a few tables each.
"""

import re
from collections.abc import Collection
from pathlib import Path


def starter() -> Path:
    """The starter's folder: inside the installed package, else ``config`` at the top of the checkout."""
    packed = Path(__file__).parent / "starter"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "config"


class FolderTaken(Exception):
    """The starter is not laid down over files that are there already. The text says what to do."""


WHOLE_BOAT = "grey-wagtail"
"""The boat that `new` builds on a whole standard."""

_PLACE = """# Differences from the standard, key by key.

[signal.position]
set_position = [50.0010, -5.0005]   # where she belongs, degrees WGS84: replace it by her berth (handbook 4.9)
"""

_BANK = """
[bank]                              # house bank of 400 Ah, the example of handbook 4.3: put in the maker's figures
capacity = 400                      # Ah at rated_hours
rated_hours = 20
peukert = {peukert}
limit = {limit}
charge = "house-charge"
amps = "house-amps"

[supply]                            # what feeds the link ashore; currents to be measured aboard (here our choice)
router = {{ fed_by = "house bank", amps = 0.6 }}
modem = {{ fed_by = "house bank", amps = 0.3 }}
broker = {{ fed_by = "house bank", amps = 0.3 }}
gateway = {{ fed_by = "ashore", amps = 0 }}
"""

_PEUKERT = {
    "agm": "1.15                      # maker's exponent; AGM 1.05 to 1.15 (handbook 4.2): the cautious end",
    "gel": "1.25                      # maker's exponent; gel 1.1 to 1.25 (handbook 4.2): the cautious end",
    "flooded": "1.4                       # maker's exponent; flooded 1.2 to 1.6 (handbook 4.2): the middle is ours",
    "lifepo4": "1.05                      # maker's exponent; the handbook has none for LiFePO4: our choice",
}
"""The exponent for each battery that `new` knows, with its origin beside it."""

_LIMIT = "50                          # per cent that texts count down to (handbook 4.3)"
_LIMIT_OF_LITHIUM = "30                          # per cent that texts count down to: as house-low (handbook 3, P07b)"


def whole_standard(volts: str, battery: str) -> str:
    """The standard with every alarm point for that voltage ("12" or "24") and battery ("agm", "flooded" ...)."""
    return f"yacht-{volts}v-{battery}"


def lay_down(folder: Path, boats: Collection[str] | None = None, *, built_on: str | None = None) -> tuple[str, ...]:
    """Copy the starter into an empty or missing folder; the files' names below it. Raises FolderTaken, OSError.

    boats: keys of the starter's boats to keep, None for all. The others' folders are not laid down, they are taken
    off everybody's list in people.toml, and whoever had no other boat is left out. With one boat a text need not name
    it: so the demo, and every test that tells of one boat, has it.
    built_on: a whole standard for GREY WAGTAIL instead of the small one that the demo plays.
    """
    if folder.exists() and any(folder.iterdir()):
        raise FolderTaken(f"{folder}: there are files in it already. Name an empty or a new folder.")
    source = starter()
    there = frozenset(path.name for path in (source / "boats").iterdir())
    dropped = there - frozenset(there if boats is None else boats)
    laid = []
    for file in sorted(path for path in source.rglob("*") if path.is_file()):
        name = file.relative_to(source)
        if name.parts[0] == "boats" and name.parts[1] in dropped:
            continue
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if name.name == "people.toml" and dropped:
            target.write_text(without_boats(file.read_text(encoding="utf-8"), dropped), encoding="utf-8")
        else:
            target.write_bytes(file.read_bytes())
        laid.append(name.as_posix())
    if built_on is not None:
        boat = folder / "boats" / WHOLE_BOAT
        file = boat / "boat.toml"
        text = re.sub(
            r'^built_on = "[^"]*".*$', f'built_on = "{built_on}"', file.read_text("utf-8"), flags=re.MULTILINE
        )
        battery = built_on.split("-")[2]
        limit = _LIMIT_OF_LITHIUM if battery == "lifepo4" else _LIMIT
        file.write_text(text + _BANK.format(peukert=_PEUKERT[battery], limit=limit), encoding="utf-8")
        (boat / "signals.toml").write_text(_PLACE, encoding="utf-8")
        laid.append(f"boats/{WHOLE_BOAT}/signals.toml")
    return tuple(laid)


_BOATS = re.compile(r"^boats = \[(?P<keys>[^]]*)\]", re.MULTILINE)


def without_boats(people: str, dropped: Collection[str]) -> str:
    """The starter's people.toml without some boats; persons of no other boat go with their whole table.

    people: its text, each table begun by a heading at the beginning of a line, `boats` on one line.
    """
    before, *tables = re.split(r"^(?=\[person\.)", people, flags=re.MULTILINE)
    kept = [before]
    for table in tables:
        found = _BOATS.search(table)
        keys = re.findall(r'"([^"]+)"', found["keys"]) if found else []
        left = [f'"{key}"' for key in keys if key not in dropped]
        if found and left:
            kept.append(f"{table[: found.start('keys')]}{', '.join(left)}{table[found.end('keys') :]}")
    return "".join(kept)
