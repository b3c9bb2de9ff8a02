"""Makes the logbook of a release, to be kept and folded for ever.

Run it once, when the release's number stands in pyproject.toml: ``python -m tests.golden.make``. It plays the demo,
packs its store into one small file, and writes beside it the state that it folds to and the fields of every kind of
entry. It never writes over a release that is there.
"""

import json
import re
import shutil
import sqlite3
import sys
import tempfile
import tomllib
from dataclasses import fields
from pathlib import Path
from typing import get_type_hints

from gateway.demo.performance import perform
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.kinds import BY_KIND
from gateway.desk.snapshots import state_bytes
from gateway.doors.store import open_reader, open_store
from gateway.vocabulary.facts import Fact
from tests.desk.small_boat import starter_bundle

HERE = Path(__file__).parent
TOP = HERE.parents[1]
LARGEST = 300_000  # bytes; a release a few times a year must not weigh the checkout down (our choice)


def folded(store: Path) -> Desk:
    """The desk folded from everything that a store holds. Settings play no part in a fold: any will do."""
    with open_reader(store) as reader:
        rows = ((row.happening, row.now, row.reading) for row in reader.readings())
        return rebuilt(starter_bundle(), None, reader.written(), rows)


def kinds() -> dict[str, dict[str, dict[str, str]]]:
    """By kind and version: the fields and their types."""
    return {kind: {str(fact.version): _fields(fact)} for kind, fact in sorted(BY_KIND.items())}


def _fields(fact: type[Fact]) -> dict[str, str]:
    hints = get_type_hints(fact)
    return {field.name: _plainly(hints[field.name]) for field in fields(fact)}


def _plainly(hint: object) -> str:
    """A type's name, without the module that it happens to live in."""
    return hint.__name__ if isinstance(hint, type) else re.sub(r"(\w+\.)+(?=\w)", "", str(hint))


def make(target: Path) -> None:
    """Make the golden logbook in a new folder."""
    target.mkdir()
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "demo"
        if not perform(lambda _: None, folder):
            raise SystemExit("the demo did not end well")
        small(folder / "store")
        shutil.copyfile(folder / "store", target / "store")
    size = (target / "store").stat().st_size
    if size > LARGEST:
        raise SystemExit(f"{size} bytes are too many: shorten what is kept")
    state = json.loads(state_bytes(folded(target / "store").state))
    (target / "state.json").write_text(json.dumps(state, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    (target / "kinds.json").write_text(json.dumps(kinds(), indent=1, sort_keys=True) + "\n", encoding="utf-8")


def small(path: Path) -> None:
    """Pack every hour, leave the snapshots out, and let go of free pages."""
    store = open_store(path)
    for held in store.survey():
        while (group := store.next_group(held)) is not None:
            store.put_packed(group)
    store.close()
    file = sqlite3.connect(path)
    file.execute("DELETE FROM snapshots")
    file.commit()
    file.execute("PRAGMA journal_mode = DELETE").fetchall()
    file.execute("VACUUM")
    file.close()


def main() -> None:
    """Make the one of the release that stands in pyproject.toml."""
    version = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    target = HERE / version
    if target.exists():
        raise SystemExit(f"{target} is there already: a release is kept as it was")
    make(target)
    sys.stdout.write(f"{target}: {sum(file.stat().st_size for file in target.iterdir())} bytes\n")


if __name__ == "__main__":
    main()
