"""Texts of chance, in numbered blocks that come out the same every time, and the orders that are read among them.

``python -m tests.grammar.hostile`` reads the first LISTED blocks and writes ORDERS anew: every text that is no example
of ours and is still read as something to do. The list is there to be read by eye. With a number (200 make a million
texts) it reads so many blocks and prints what the list does not hold. What is mutated stands in SOURCES and not in the
tables of examples, so that a new phrase does not deal all texts anew; put one of each new phrase there when the list is
written again.
"""

import random
import re
import string
import sys
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import NamedTuple

from grammar.cleaning import cleaned
from grammar.examples import EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_NAMES, EXAMPLE_PEOPLE, EXAMPLE_SUBJECTS
from grammar.meanings import Confirm, Note, NotUnderstood, ProveNumber, Question, Understood, Withdraw
from grammar.phrases import say
from grammar.texts import TextReader

ORDERS = Path(__file__).with_name("orders_by_chance.txt")
SOURCES = Path(__file__).with_name("texts_to_mutate.txt")
LISTED, TEXTS_A_BLOCK = 8, 5_000
READER = TextReader(EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_SUBJECTS, people=EXAMPLE_PEOPLE)
GOOD, BAD = (part.strip().splitlines() for part in SOURCES.read_text(encoding="utf-8").split("== refused\n"))
"""Texts that are read, and texts that are refused."""

WORDS = sorted({word for text in (*GOOD, *BAD) for word in text.split()})
SLIP_LETTERS = string.ascii_lowercase + string.digits + " .,?!'"
LOOK_ALIKES = {
    "a": "\u0430",
    "e": "\u0435",
    "o": "\u043e",
    "p": "\u0440",
    "c": "\u0441",
    "1": "l",
    "0": "o",
    " ": "\u00a0",
}
_NO_ORDERS = (Question, Note, Confirm, Withdraw, ProveNumber)
"""What changes nothing by itself, and those that do nothing without the words of a code that was sent."""


class Found(NamedTuple):
    """One text that is read as an order: the block it was first met in, how it came about, the text as it is read
    after cleaning, the printed phrase of what it means."""

    block: int
    how: str
    text: str
    phrase: str


def block(number: int) -> Iterator[tuple[str, str, str]]:
    """The texts of one block: (how it came about, the example it was made of or "", the text)."""
    rng = random.Random(f"block {number}")
    for _ in range(TEXTS_A_BLOCK):
        kind = rng.randrange(10)
        if kind == 0:
            yield "signs", "", "".join(chr(rng.randrange(0x20, 0x2FFF)) for _ in range(rng.randrange(60)))
        elif kind <= 2:
            yield "words", "", " ".join(rng.choices(WORDS, k=rng.randrange(1, 8)))
        elif kind == 3:
            yield "repeated", "", rng.choice(WORDS) * rng.randrange(1, 300)
        else:
            source = rng.choice(GOOD if kind <= 7 else BAD)
            text = source
            for _ in range(rng.choice([1, 1, 2])):
                text = mutated(text, rng)
            yield "slips", source, text


def mutated(text: str, rng: random.Random) -> str:
    """`text` with one slip: of a finger, of a keyboard that guesses, of dictation, or of a hand that means harm."""
    words = text.split()
    if not words:
        return rng.choice(WORDS)
    match rng.randrange(9):
        case 0 | 1 | 2:
            return slipped(text, rng)
        case 3:
            words.insert(rng.randrange(len(words) + 1), rng.choice(WORDS))
        case 4:
            del words[rng.randrange(len(words))]
        case 5:
            words.insert(rng.randrange(len(words)), rng.choice(words))
        case 6:
            words[rng.randrange(len(words))] = rng.choice(WORDS)
        case 7:
            one, other = rng.randrange(len(words)), rng.randrange(len(words))
            words[one], words[other] = words[other], words[one]
        case _:
            at = rng.randrange(len(text))
            instead = LOOK_ALIKES.get(text[at], f"\u200b{text[at]}")
            return text[:at] + instead + text[at + 1 :]
    return " ".join(words)


def slipped(text: str, rng: random.Random) -> str:
    """`text` with one letter left out, put in, put in the place of another, or two swapped."""
    at, letter = rng.randrange(len(text)), rng.choice(SLIP_LETTERS)
    after = text[at + 1 :]
    swapped = text[:at] + after[:1] + text[at] + after[1:]
    return rng.choice([text[:at] + after, text[:at] + letter + text[at:], text[:at] + letter + after, swapped])


def found_in(blocks: Iterable[int]) -> list[Found]:
    """The orders in these blocks; texts that differ in a digit alone count as one, and none that counts as one with a
    text of GOOD. Raises what the reader raises, which must be nothing."""
    seen = {shape(cleaned(text).text) for text in GOOD}
    found = []
    for number in blocks:
        for kind, source, text in block(number):
            meant = READER.read(text)
            if not isinstance(meant, Understood):
                assert isinstance(meant, NotUnderstood), text
                continue
            read = cleaned(text).text
            if isinstance(meant.request, _NO_ORDERS) or shape(read) in seen:
                continue
            seen.add(shape(read))
            found.append(Found(number, _how(kind, source, meant), read, printed(meant)))
    return found


def _how(kind: str, source: str, meant: Understood) -> str:
    if kind != "slips":
        return kind
    before = READER.read(source)
    if isinstance(before, NotUnderstood):
        return f"refused: {cleaned(source).text}"
    return "the same" if before == meant else f"read as: {printed(before)}"


def printed(meant: Understood) -> str:
    """The printed phrase, with its boat in front where one was named."""
    boats = {key: phrase.lower() for phrase, key in EXAMPLE_BOATS.items()}
    return (
        f"{boats[meant.boat]} {say(meant.request, EXAMPLE_NAMES)}" if meant.boat else say(meant.request, EXAMPLE_NAMES)
    )


def shape(text: str) -> str:
    """`text` with every digit alike, but for noughts in front."""
    return re.sub(r"(?<!\d)(0*)(\d*)", lambda run: run.group(1) + "9" * len(run.group(2)), text)


def line(found: Found) -> str:
    return f"{found.block} | {found.how} | {found.text} => {found.phrase}"


HEAD = """Every text among the first 40,000 texts of chance that is read as something to do, and is no example of ours.
Written by python -m tests.grammar.hostile; read by eye. Texts that differ in a digit alone are listed once. In front
stand the block of texts in which it was met first, and how it came about: words of chance, a slip in a text with the
same meaning, in one with another meaning, or in one that is refused.
"""


def main(blocks: int) -> None:
    """Read so many blocks, two at a time on each processor."""
    with ProcessPoolExecutor() as pool:
        parts = list(pool.map(found_in, (range(at, min(at + 2, blocks)) for at in range(0, blocks, 2))))
    met: dict[str, Found] = {}
    for found in (found for part in parts for found in part):
        met.setdefault(shape(found.text), found)
    if blocks == LISTED:
        ORDERS.write_text("\n".join([HEAD, *map(line, met.values()), ""]), encoding="utf-8")
    else:
        listed = ORDERS.read_text(encoding="utf-8")
        print("\n".join(text for text in map(line, met.values()) if text not in listed))
    print(f"{blocks * TEXTS_A_BLOCK} texts, {len(met)} orders among them")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else LISTED)
