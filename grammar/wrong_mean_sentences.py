"""Condition sentences that are refused, with the answer the installer gets: (sentence, column, problem, remedy).

Starts against their own mean, and what breaks off.
"""

from grammar.wrong_window_sentences import AFTER_NAME

_MEAN = "bilge-pump started more than 2 times its mean of 7 days in the last hour"

WRONG_MEANS: tuple[tuple[str, int, str, str], ...] = (
    (
        "bilge-pump started more than 2 times its mean in the last hour",
        47,
        'after its mean comes `of` and a length of time, not "in"',
        f'Write "{_MEAN}"',
    ),
    (
        "bilge-pump started more than 2 times its mean of 7 in the last hour",
        52,
        'a length of time needs its unit: s, min, h or day, not "in"',
        f"Write it like: {_MEAN}",
    ),
    (
        "bilge-pump started more than 2 times its mean of 1 h in the last day",
        50,
        "no mean is made of less than two times 1 day",
        f"Write it like: {_MEAN}",
    ),
    (
        "bilge-pump started more than 2 times its mean of 60 days in the last hour",
        50,
        "what is kept of the past is at most 31 days",
        f"Write it like: {_MEAN}",
    ),
    (
        "bilge-pump started more than 2 times the mean of 7 days in the last hour",
        38,
        'a window is said `in the last` and a length of time, not "the"',
        f'Write "{_MEAN}"',
    ),
    (
        "bilge-pump started more than 0 times its mean of 7 days in the last hour",
        30,
        'how many times its mean it started is a whole number from 1 to 1,000, not "0"',
        f"Write it like: {_MEAN}",
    ),
    (
        "bilge-pump started more than 2 times its mean of 7 days",
        56,
        "a window is said `in the last` and a length of time, but nothing follows",
        f"Write it like: {_MEAN}",
    ),
    (
        "bilge-pump started more often than usual in the last hour",
        25,
        'after more, further or faster comes than, not "often"',
        f'Write "{_MEAN}"',
    ),
    (
        "bilge-pump started more than 2 times its average of 7 days in the last hour",
        42,
        'after its comes mean, `of` and a length of time, not "average"',
        f'Write "{_MEAN}"',
    ),
    (
        "bilge-pump started more than twice its mean of a week in the last hour",
        30,
        'a number is wanted, not "twice"',
        f'Write "{_MEAN}"',
    ),
    (
        "bilge-pump started more than 2 times its usual number in the last hour",
        42,
        'after its comes mean, `of` and a length of time, not "usual"',
        f'Write "{_MEAN}"',
    ),
    (
        "fuel rising fast",
        13,
        'after rising or falling comes `faster than`, not "fast"',
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    (
        "bilge-high on or",
        17,
        "a signal's name or `no news` comes next, but nothing follows",
        "Write it like: bilge-high on or bilge-aft on",
    ),
    (
        "bilge-high on or bilge-aft",
        27,
        f"{AFTER_NAME}, but nothing follows",
        "Write it like: bilge-high on or bilge-aft on",
    ),
)
