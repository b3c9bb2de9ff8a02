"""What it costs to read a text with 200 names of three synonyms, and to be ready for 10,000 phrases.

``python -m tests.benchmarks.test_text_reading_cost`` prints the figures.
"""

import json
import sys
from time import process_time

from grammar.texts import TextReader

LETTERS = "bcdfghklmnprstvw"

PLAIN = 1.0e-6
"""Seconds of processor time in which a plain machine reads one small JSON object (our choice: about what a server
takes). The promised times are for such a one; one that is slower, or shared with others, has so much more."""


def names(count: int) -> list[str]:
    """Invented names of two words, all different."""
    return [
        f"{LETTERS[at % 16]}a{LETTERS[at // 16 % 16]}o {LETTERS[at // 256 % 16]}u{LETTERS[at % 16]}pump"
        for at in range(count)
    ]


def reader(things: int, synonyms: int) -> TextReader:
    called = names(things * synonyms)
    equipment = {name: (f"thing-{at // synonyms}", ("start", "stop")) for at, name in enumerate(called)}
    return TextReader({"grey wagtail": "grey-wagtail"}, equipment)  # type: ignore[arg-type]


def slowness() -> float:
    """How many times slower than the plain machine this one is at this moment, 1 for a faster one."""
    began, count = process_time(), 50_000
    for _ in range(count):
        json.loads('{"volts": 12.4}')
    return max(1.0, (process_time() - began) / count / PLAIN)


def costs(made: TextReader, texts: list[str]) -> list[float]:
    """Processor time for each text, in seconds, the dearest last: the least of three passes over all of them. Three
    tries of one text in a row would all fall into one slow moment of a machine that is shared."""
    least = [float("inf")] * len(texts)
    for _ in range(3):
        for place, text in enumerate(texts):
            began = process_time()
            made.read(text)
            least[place] = min(least[place], process_time() - began)
    return sorted(least)


def phrases() -> list[str]:
    """600 texts that are read: orders, some with courtesy, and questions."""
    texts = [f"{'please ' * (at % 2)}{name} start for {at % 9 + 1} h" for at, name in enumerate(names(600)[:300])]
    return texts + [f"is the {name} running?" for name in names(300)]


def slips() -> list[str]:
    """600 texts of which none is read: a slip in the action, in the name, in the boat's name, and talk."""
    every = names(600)
    texts = [f"{name} strat" for name in every[:150]] + [f"strat the {name}" for name in every[150:300]]
    texts += [f"grey wagtial {name} start for 2 hours please" for name in every[300:400]]
    texts += [f"{name[:-1]}o strat until 18:00" for name in every[400:500]]
    return texts + [f"i think the {name} made a noise last night" for name in every[500:]]


HOSTILE = (
    *("a" * 1_600, "\ufdfa" * 1_600, '"' * 1_600, "(" * 1_600, "9" * 1_600, "generator start " * 100),
    *("not a phrase of any kind", "bab pump strat", "x " * 80, "o " * 80, "pump " * 32, "grey wagtail " * 12),
    *("a" + "\u0316\u0301" * 799, "x" + "\U0001f44d" * 1_598 + "x", "a" + "\u200b" * 1_598 + "b", "\ufdfa" * 8),
    *("".join(map(chr, range(0xF900, 0xF900 + 1_600))), "".join(map(chr, range(0xAC00, 0xAC00 + 1_600)))),
)
"""Bodies made to cost time: long, many words, signs that stand for eighteen, rows of marks."""


def test_the_99th_percentile_of_reading_stays_under_1_ms_with_200_names_of_three_synonyms() -> None:
    made, before = reader(200, 3), slowness()
    assert costs(made, phrases())[-6] < 0.001 * max(before, slowness())


def test_the_99th_percentile_of_texts_with_slips_stays_under_1_ms_as_well() -> None:
    made, before = reader(200, 3), slowness()
    assert costs(made, slips())[-6] < 0.001 * max(before, slowness())


def test_no_hostile_text_costs_more_than_5_ms() -> None:
    made, before = reader(200, 3), slowness()
    assert costs(made, list(HOSTILE))[-1] < 0.005 * max(before, slowness())


def test_a_reader_of_10_000_phrases_is_ready_within_2_s() -> None:
    began = process_time()
    made = reader(600, 3)  # 1,800 names, each in start and stop and with three limits
    assert process_time() - began < 2
    assert made.read(f"{names(1)[0]} start")


def main() -> None:
    made = reader(200, 3)
    sys.stdout.write(f"{slowness():.1f} times as slow as a plain machine at this moment\n")
    for what, texts in (("read", phrases()), ("with a slip", slips()), ("hostile", list(HOSTILE))):
        spent = costs(made, texts)
        middle, high, worst = (1e6 * spent[at] for at in (len(spent) // 2, len(spent) * 99 // 100, -1))
        sys.stdout.write(f"{what}: half under {middle:.0f} us, 99 % under {high:.0f} us, the dearest {worst:.0f} us\n")


if __name__ == "__main__":
    main()
