"""As many items as fit, and never fewer because none was tried that could not fit."""

from hypothesis import given
from hypothesis import strategies as st

from gateway.wording.fitting import Piece, Worth, fitted, fixed, packed

WORDS = st.text("abc \N{EURO SIGN}\N{LATIN SMALL LETTER E WITH ACUTE}", min_size=0, max_size=60)
ITEMS = st.lists(
    st.builds(lambda full, short: [Piece((full, short), (Worth.VALUE,))], WORDS, WORDS), min_size=1, max_size=30
)


@given(ITEMS, WORDS, st.sampled_from([", ", "; ", ""]))
def test_the_text_is_that_of_trying_every_number_of_items(items: list[list[Piece]], head: str, between: str) -> None:
    tried = None
    for count in range(len(items), 0, -1):
        pieces = [fixed(head)]
        for at, item in enumerate(items[:count]):
            pieces += [fixed(between)] * (at > 0) + item
        left = len(items) - count
        tried = fitted([*pieces, fixed(f" and {left} more" if left else "")])
        if tried is not None:
            break
    assert packed([fixed(head)], items, [], " and {count} more", between) == tried
