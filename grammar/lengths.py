"""Lengths of time as whole milliseconds, and how they are written."""

SECOND = 1_000
MINUTE = 60 * SECOND
HOUR = 60 * MINUTE
DAY = 24 * HOUR


def say_length(length: int) -> str:
    """`length` ms (more than 0, whole seconds) as `1 day 2 h`, `1 h 30 min`, `90 s` as `1 min 30 s`.

    Raises ValueError for anything else, because a part of a second cannot be written in either language.
    """
    if length <= 0 or length % SECOND:
        raise ValueError(f"{length} ms is not a whole number of seconds above nothing; give e.g. 90000")
    said = []
    for unit, name in ((DAY, "day"), (HOUR, "h"), (MINUTE, "min"), (SECOND, "s")):
        count, length = divmod(length, unit)
        if count:
            said.append(f"{count} {name}{'s' if unit == DAY and count > 1 else ''}")
    return " ".join(said)
