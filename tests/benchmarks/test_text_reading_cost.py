"""What it costs to read a text with 200 names of three synonyms, and to be ready for 10,000 phrases."""

from time import process_time

from grammar.texts import TextReader

LETTERS = "bcdfghklmnprstvw"


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


def costs(made: TextReader, texts: list[str]) -> list[float]:
    """Processor time for each text, in seconds, the dearest last: the least of three tries."""
    spent = []
    for text in texts:
        tries = []
        for _ in range(3):
            began = process_time()
            made.read(text)
            tries.append(process_time() - began)
        spent.append(min(tries))
    return sorted(spent)


def test_the_99th_percentile_of_reading_stays_under_1_ms_with_200_names_of_three_synonyms() -> None:
    made = reader(200, 3)
    texts = [f"{'please ' * (at % 2)}{name} start for {at % 9 + 1} h" for at, name in enumerate(names(600)[:300])]
    texts += [f"is the {name} running?" for name in names(300)]
    assert costs(made, texts)[-6] < 0.001


def test_no_hostile_text_costs_more_than_50_ms() -> None:
    made = reader(200, 3)
    bodies = ["a" * 1_600, "\ufdfa" * 1_600, '"' * 1_600, "(" * 1_600, "9" * 1_600, "generator start " * 100]
    bodies += ["not a phrase of any kind", "bab pump strat", "x " * 80]
    assert costs(made, bodies)[-1] < 0.05


def test_a_reader_of_10_000_phrases_is_ready_within_2_s() -> None:
    began = process_time()
    made = reader(600, 3)  # 1,800 names, each in start and stop and with three limits
    assert process_time() - began < 2
    assert made.read(f"{names(1)[0]} start")
