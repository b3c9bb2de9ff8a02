"""How a sentence of a command counts things."""


def counted(count: int, one: str, many: str | None = None) -> str:
    """ "1 boat", "3 boats". many: where it is more than an "s"."""
    return f"{count} {one if count == 1 else many or one + 's'}"
