"""The files of an installation's folder: which there are, which must be there, and their fingerprint."""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, tzinfo
from pathlib import Path

from gateway.boat.latest import CLOCK_SET
from gateway.installation.documents import Document, read_document
from gateway.installation.findings import Findings
from gateway.installation.mistakes import Mistake
from gateway.installation.nearest import did_you_mean
from gateway.vocabulary.moments import Ms, as_utc

TOP_FILES = ("gateway.toml", "people.toml", "callout.toml")
OPTIONAL_FILES = ("wording.toml", "paper.toml")
"""Read when they are there."""

BOAT_FILES = ("boat.toml", "signals.toml", "alarms.toml", "equipment.toml", "sums.toml")


@dataclass(frozen=True, slots=True, kw_only=True)
class Folder:
    """documents: all that could be read, by name below the folder. boats: keys, in order. broken: names of files that
    are there and cannot be read, about which the mistake is noted. now: when they are read (ms UTC), None where no
    clock is at hand."""

    documents: Mapping[str, Document]
    boats: tuple[str, ...]
    broken: frozenset[str]
    now: Ms | None = None

    def get(self, name: str) -> Document | None:
        """The document, or None when it is missing or broken."""
        return self.documents.get(name)

    def day_read(self, name: str, zone: tzinfo) -> date | None:
        """The day at a boat on which a file is read, and never before that of its last change, because a clock may lag
        behind after a night without current. None where no clock is at hand, or it was never set."""
        document = self.get(name)
        if self.now is None or document is None or max(self.now, document.written) < CLOCK_SET:
            return None
        try:
            return as_utc(max(self.now, document.written)).astimezone(zone).date()
        except OverflowError:  # a file of a year that no calendar has
            return None


def read_folder(folder: Path, findings: Findings, now: Ms | None = None) -> Folder:
    """Every settings file of the folder. Files of other kinds are left alone; a settings file with a name that is
    none of ours is a mistake, because what stands in it would not be read. now: the instant (ms UTC), None where no
    clock is at hand."""
    if not folder.is_dir():
        findings.mistakes.append(
            Mistake(str(folder.name), None, "", "there is no such folder", "name the folder that holds gateway.toml")
        )
        return Folder(documents={}, boats=(), broken=frozenset(), now=now)
    boats = tuple(sorted(path.name for path in (folder / "boats").glob("*") if path.is_dir()))
    if not boats:
        findings.mistakes.append(
            Mistake("boats", None, "", "there is no boat", "make a folder boats/NAME with a boat.toml in it")
        )
    names = [*TOP_FILES, *(name for name in OPTIONAL_FILES if (folder / name).exists())]
    names += [f"standard/{path.name}" for path in sorted((folder / "standard").glob("*.toml"))]
    for boat in boats:
        names.append(f"boats/{boat}/boat.toml")
        names += [f"boats/{boat}/{name}" for name in BOAT_FILES[1:] if (folder / "boats" / boat / name).exists()]
        _strangers(folder / "boats" / boat, f"boats/{boat}/", BOAT_FILES, findings)
    _strangers(folder, "", (*TOP_FILES, *OPTIONAL_FILES), findings)
    documents, broken = {}, set()
    for name in names:
        found = read_document(folder, name)
        if isinstance(found, Document):
            documents[name] = found
        else:
            findings.mistakes.append(found)
            broken.add(name)
    return Folder(documents=documents, boats=boats, broken=frozenset(broken), now=now)


def _strangers(folder: Path, prefix: str, known: Iterable[str], findings: Findings) -> None:
    for path in sorted(folder.glob("*.toml")):
        if path.name not in known:
            findings.mistakes.append(
                Mistake(
                    f"{prefix}{path.name}", None, "", "no file of this name is read", did_you_mean(path.name, known)
                )
            )


def fingerprint(documents: Iterable[Document]) -> str:
    """SHA-256 (hex) over names and bytes of all files, by name. Lengths are written before each, so that no two
    different sets of files give the same bytes."""
    digest = hashlib.sha256()
    for document in sorted(documents, key=lambda each: each.name):
        for part in (document.name.encode(), document.content):
            digest.update(len(part).to_bytes(8, "big"))
            digest.update(part)
    return digest.hexdigest()
