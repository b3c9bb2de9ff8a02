"""Nearly a thousand texts as people, phones and machines send them: what is read, and above all what is not."""

from pathlib import Path

import pytest

from grammar.examples import EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_NAMES, EXAMPLE_PEOPLE, EXAMPLE_SUBJECTS
from grammar.meanings import NotUnderstood, Understood, Why
from grammar.phrases import say
from grammar.texts import TextReader

TABLE = Path(__file__).with_name("texts_of_people.txt")
READER = TextReader(EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_SUBJECTS, people=EXAMPLE_PEOPLE)
BOAT_PHRASES = {key: phrase.lower() for phrase, key in EXAMPLE_BOATS.items()}


def sections() -> dict[str, list[tuple[str, str]]]:
    """Heading -> (text, what it is to be read as: a printed phrase, "nothing", "refused" or a reason)."""
    found: dict[str, list[tuple[str, str]]] = {}
    for line in TABLE.read_text(encoding="utf-8").splitlines():
        if line.startswith("== "):
            heading = line[3:]
            found[heading] = []
        elif found and line:
            text, _, wanted = line.partition(" => ") if heading.startswith("read:") else (line, "", "")
            text = text.encode("ascii", "backslashreplace").decode("unicode_escape") if "\\" in text else text
            found[heading].append((text, wanted or heading.partition(":")[0]))
    return found


SECTIONS = sections()


def reading(text: str) -> tuple[str, tuple[str, ...]]:
    """What the reader makes of `text`: the printed phrase or the reason, and the phrases offered."""
    meant = READER.read(text)
    if isinstance(meant, NotUnderstood):
        return meant.why, meant.nearest
    front = f"{BOAT_PHRASES[meant.boat]} " if meant.boat else ""
    return front + say(meant.request, EXAMPLE_NAMES), ()


def fits(text: str, wanted: str) -> bool:
    """Whether `text` is read as the table wants it."""
    found, offered = reading(text)
    understood = isinstance(READER.read(text), Understood)
    if wanted == "refused":
        return not understood
    if wanted == "nothing":
        return not understood and not offered
    return found == wanted and understood == (wanted not in set(Why))


def misread(rows: list[tuple[str, str]]) -> list[tuple[str, str, str]]:
    return [(text, wanted, str(reading(text))) for text, wanted in rows if not fits(text, wanted)]


def test_the_table_holds_at_least_500_texts_most_of_them_refused() -> None:
    rows = [row for section in SECTIONS.values() for row in section]
    refused = [wanted for _, wanted in rows if wanted in ("refused", "nothing", "reaction")]
    assert len(rows) == len({text for text, _ in rows}) >= 900
    assert 2 * len(refused) > len(rows)


@pytest.mark.parametrize("heading", SECTIONS)
def test_every_text_is_read_as_it_is_meant(heading: str) -> None:
    assert misread(SECTIONS[heading]) == []


def test_the_table_fails_for_a_reader_that_takes_what_it_should_not() -> None:
    assert misread([("generator start", "refused")]) != []
    assert misread([("generatr start", "nothing")]) != []
    assert misread([("generator stop", "generator start")]) != []
    assert misread([("ok", "generator start")]) != []
