"""What is read as an order among mutated texts stands in a list that was read by eye."""

import pytest

from tests.grammar.hostile import HEAD, LISTED, ORDERS, found_in, line


def listed(blocks: int) -> list[str]:
    """The lines of the list that were met in the first so many blocks."""
    lines = ORDERS.read_text(encoding="utf-8").removeprefix(HEAD).strip().splitlines()
    return [each for each in lines if int(each.partition(" ")[0]) < blocks]


def test_the_orders_among_five_thousand_texts_of_chance_are_those_of_the_list() -> None:
    assert [line(found) for found in found_in(range(1))] == listed(1)


@pytest.mark.struck
@pytest.mark.timeout(3_000)
def test_the_orders_among_all_listed_texts_of_chance_are_those_of_the_list() -> None:
    assert [line(found) for found in found_in(range(LISTED))] == listed(LISTED)
