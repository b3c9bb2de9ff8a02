"""A text with several alarms' numbers, or with one in words where words may mean something else: the same with one
number in digits. Only ever words to look for a suggestion with; nothing is carried out."""

from collections.abc import Sequence

from lark import Token

from grammar.tree_times import number_of

MOST = 3
"""Numbers for which a phrase each is offered, so that the answer stays one part of a text (our choice)."""

_IN_DIGITS = frozenset({"SMALL", "FOUR"})
_NUMBERS = _IN_DIGITS | {"NUMBER_WORD", "OTHER_NUMBER_WORD", "TWO", "ONE"}
_JOINING = frozenset({"and", ","})
_BETWEEN = _JOINING | {"alarm", "number", "nr", "#"}


def one_number_each(tokens: Sequence[Token]) -> tuple[list[Token], ...]:
    """The text once with each of the numbers that are joined where the first one stands, in digits. Nothing when there
    is none, when a single one is in digits already, for more than MOST, and for numbers that nothing joins: "14 15" may
    be one number as well."""
    begin = next((at for at, token in enumerate(tokens) if token.type in _NUMBERS), None)
    if begin is None:
        return ()
    end, numbers, joined = begin, [tokens[begin]], False
    for at in range(begin + 1, len(tokens)):
        if tokens[at].type in _NUMBERS:
            if not joined:
                return ()
            numbers.append(tokens[at])
            end, joined = at, False
        elif str(tokens[at]) in _BETWEEN:
            joined = joined or str(tokens[at]) in _JOINING
        else:
            break
    if len(numbers) > MOST or (len(numbers) == 1 and numbers[0].type in _IN_DIGITS):
        return ()
    return tuple([*tokens[:begin], in_digits, *tokens[end + 1 :]] for in_digits in dict.fromkeys(map(_digits, numbers)))


def _digits(number: Token) -> Token:
    if number.type in _IN_DIGITS:
        return number
    return Token("SMALL", str(number_of(number)))
