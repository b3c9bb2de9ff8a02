"""What the carrier signs: whether a call of its web hook is its own."""

from collections.abc import Callable, Sequence

from twilio.request_validator import RequestValidator  # type: ignore[import-untyped]


class _Fields(dict[str, list[str]]):
    """A form's fields for the client's validator, which asks for all values of one that is repeated by this name."""

    def getlist(self, name: str) -> list[str]:
        return self[name]


def signature_check(token: str) -> Callable[[str, Sequence[tuple[str, str]], str], bool]:
    """A check of the carrier's signature: of a whole address (query as it was sent), the fields of a form in any
    order, empty ones included, and the header's value. HMAC-SHA1 with the account's token; the address counts with
    and without its port (read in the package's source). The signature tells no time: a call that was once signed
    stays so for ever."""
    validator = RequestValidator(token)

    def is_signed(url: str, fields: Sequence[tuple[str, str]], signature: str) -> bool:
        gathered = _Fields()
        for name, value in fields:
            gathered.setdefault(name, []).append(value)
        return bool(validator.validate(url, gathered, signature))

    return is_signed
