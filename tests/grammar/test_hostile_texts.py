"""Texts of chance: nothing raises, opposites are never confused. The long run carries the marker of long runs."""

import os
import random
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

from grammar.examples import EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_PEOPLE, EXAMPLE_SUBJECTS, accepted, refused
from grammar.meanings import Meaning, NotUnderstood, Switch, Understood
from grammar.texts import TextReader

READER = TextReader(EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_SUBJECTS, people=EXAMPLE_PEOPLE)
GOOD = [text for text, _ in accepted()]
WORDS = sorted({word for text in (*GOOD, *(row[0] for row in refused())) for word in text.split()})


def hostile(rng: random.Random, count: int) -> Iterator[str]:
    """Random characters, random words, valid texts with slips, and repeated bodies."""
    for _ in range(count):
        kind = rng.randrange(4)
        if kind == 0:
            yield "".join(chr(rng.randrange(0x20, 0x2FFF)) for _ in range(rng.randrange(60)))
        elif kind == 1:
            yield " ".join(rng.choices(WORDS, k=rng.randrange(1, 8)))
        elif kind == 2:
            yield slipped(rng.choice(GOOD), rng)
        else:
            yield rng.choice(WORDS) * rng.randrange(1, 300)


def slipped(text: str, rng: random.Random) -> str:
    at, letter = rng.randrange(len(text)), rng.choice(string.ascii_lowercase + string.digits + " .,?!'")
    after = text[at + 1 :]
    return rng.choice([text[:at] + after, text[:at] + letter + text[at:], text[:at] + letter + after])


def orders(texts: Iterator[str]) -> list[tuple[str, Meaning]]:
    """The texts that are read as an order to switch, and what they mean; nothing else but a meaning comes back."""
    found = []
    for text in texts:
        meant = READER.read(text)
        assert isinstance(meant, Understood | NotUnderstood)
        if isinstance(meant, Understood) and isinstance(meant.request, Switch):
            found.append((text, meant))
    return found


def test_a_sample_of_hostile_texts_raises_nothing() -> None:
    assert orders(hostile(random.Random(1), 2_000))


@pytest.mark.struck
@pytest.mark.timeout(3_000)
def test_a_hundred_thousand_hostile_texts_raise_nothing_and_the_orders_among_them_are_listed(tmp_path: Path) -> None:
    """HEAVINGLINE_TEXTS=1000000 for the million; the list is for reading by eye."""
    count = int(os.environ.get("HEAVINGLINE_TEXTS", "100000"))
    listed = orders(hostile(random.Random(2), count))
    file = Path(os.environ.get("HEAVINGLINE_ORDERS", tmp_path / "orders.txt"))
    file.write_text("\n".join(f"{text!r} => {meant}" for text, meant in listed), encoding="utf-8")
    assert listed


@pytest.mark.parametrize("pair", [("start", "stop"), ("open", "close")])
def test_opposites_are_never_confused_under_two_slips(pair: tuple[str, str]) -> None:
    name = "gas valve" if "open" in pair else "generator"
    rng = random.Random(3)
    for _ in range(1_500):
        action = rng.choice(pair)
        for _, meant in orders(iter([slipped(slipped(f"{name} {action}", rng), rng)])):
            assert isinstance(meant, Understood)
            assert isinstance(meant.request, Switch)
            assert meant.request.action == action
