"""paper.toml: the lists on paper, hashed. Written by `heavingline paper-list` alone, and readable by its owner alone.

It stands beside the other files, so that a new list comes into use and into the record as any change of them does; it
holds no word, only slow salted hashes.
"""

import stat
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Annotated

from pydantic import Field

from gateway.installation.findings import Findings
from gateway.installation.mistakes import Mistake
from gateway.installation.nearest import did_you_mean
from gateway.installation.shape import Strict
from gateway.installation.standards import Whole
from gateway.people.settings import Person
from gateway.requests.paper_lists import PaperList

PAPER_FILE = "paper.toml"
Hex32 = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
Hex64 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class PaperListTable(Strict):
    """[list.PERSON]. made: UTC. id, salt: hex. lines: the hash of each line."""

    made: datetime
    id: Hex32
    salt: Hex32
    lines: list[Hex64] = Field(min_length=1)


class PaperFile(Strict):
    """All of paper.toml."""

    list: dict[str, PaperListTable] = Field(default={})


def paper_lists(
    file: PaperFile, whole: Whole, folder: Path, people: Mapping[str, Person], findings: Findings
) -> Mapping[str, PaperList]:
    """The lists by the random ids of their persons. people: by key. Of somebody who is gone it is left alone, with a
    word. One list under two persons is a mistake: what one of them uses up or loses would be the other's."""
    if (folder / PAPER_FILE).stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        findings.mistakes.append(Mistake(PAPER_FILE, None, "", "can be read by others", f"run: chmod 600 {PAPER_FILE}"))
    found, ids = {}, dict[str, str]()
    for key, table in file.list.items():
        if (other := ids.setdefault(table.id, key)) != key:
            remedy = f"take this table out, then run: heavingline paper-list FOLDER {key}"
            findings.mistake(whole, ("list", key, "id"), f'is the list of "{other}" as well', remedy)
        if key not in people:
            findings.warn(whole, ("list", key), f'nobody has the key "{key}"; {did_you_mean(key, tuple(people))}')
            continue
        found[people[key].id] = PaperList(id=table.id, salt=table.salt, lines=tuple(table.lines))
    return found


def written(lists: Mapping[str, tuple[datetime, PaperList]]) -> str:
    """The whole file. lists: by person's key, each with the time (UTC) at which it was drawn."""
    text = "# Written by: heavingline paper-list. Hashes of the lists on paper, no words. Do not edit.\n"
    for key, (made, paper) in sorted(lists.items()):
        lines = "".join(f'  "{line}",\n' for line in paper.lines)
        text += (
            f'\n[list.{key}]\nmade = {made:%Y-%m-%dT%H:%M:%SZ}\nid = "{paper.id}"\nsalt = "{paper.salt}"\n'
            f"lines = [\n{lines}]\n"
        )
    return text
