"""Condition sentences as they are said aloud, with what the installer is told: (sentence, column, problem, remedy)."""

from grammar.wrong_window_sentences import AFTER_NAME

GOES_ON = "the sentence is complete here or goes on with"

WRONG_SPOKEN: tuple[tuple[str, int, str, str], ...] = (
    ("house volts below 12.0 V", 7, f'{AFTER_NAME}, not "volts"', 'Write "house-volts below 12.0 V"'),
    ("if shore off for 10 min", 4, f'{AFTER_NAME}, not "shore"', 'Write "shore off for 10 min"'),
    (
        "fridge above 8 C for 2 h when shore on",
        26,
        f'{GOES_ON} and, or or while, not "when"',
        'Write "fridge above 8 C for 2 h while shore on"',
    ),
    ("fridge above 8 °C for 2 h", 16, '"°C" cannot be read', 'Write "fridge above 8 C for 2 h"'),
    (
        "fridge above 5 degrees C for 60 min",
        24,
        f'{GOES_ON} `with deadband`, `for` and a length of time, and, or or while, not "C"',
        'Write "fridge above 5 C for 1 h"',
    ),
    (
        "bilge-high on 15 s",
        15,
        f'{GOES_ON} `for` and a length of time, and, or or while, not "15"',
        'Write "bilge-high on for 15 s"',
    ),
    (
        "house-volts below 12.0 V 10 min",
        26,
        f'{GOES_ON} `with deadband`, `for` and a length of time, and, or or while, not "10"',
        'Write "house-volts below 12.0 V for 10 min"',
    ),
    (
        "no news 10 min",
        9,
        'after no news comes `from` and a signal, or `for` and a length of time, not "10"',
        'Write "no news for 10 min"',
    ),
    (
        "no news since 10 min",
        9,
        'after no news comes `from` and a signal, or `for` and a length of time, not "since"',
        'Write "no news for 10 min"',
    ),
    ("sea above cabin + 5 C", 17, '"+" cannot be read', 'Write "sea above cabin by 5 C"'),
    ("sea below cabin - 2 C", 17, '"-" cannot be read', 'Write "sea below cabin by 2 C"'),
    ('selector is "REMOTE" for 5 s', 13, '""REMOTE"" cannot be read', 'Write "selector is REMOTE for 5 s"'),
    (
        "hatch changed within 10 min",
        15,
        f'{GOES_ON} `in the last` and a length of time, `for` and a length of time, and, or or while, not "within"',
        'Write "hatch changed in the last 10 min"',
    ),
    (
        "house-volts at or below 12.0 V",
        16,
        'after at comes least or most, not "or"',
        'Write "house-volts at most 12.0 V"',
    ),
    ("fuel at or above 90 %", 9, 'after at comes least or most, not "or"', 'Write "fuel at least 90 %"'),
    ("house-volts drops below 12.0 V", 13, f'{AFTER_NAME}, not "drops"', 'Write "house-volts below 12.0 V"'),
    ("fridge rises above 8 C", 8, f'{AFTER_NAME}, not "rises"', 'Write "fridge above 8 C"'),
    (
        "house-volts between 15.0 and 11.5 V",
        21,
        "the lower limit comes first",
        'Write "house-volts between 11.5 and 15.0 V"',
    ),
    (
        "position further than 25 m from its set position",
        10,
        f'{AFTER_NAME}, not "further"',
        'Write "3 of 5 fixes of position further than 25 m from its set position"',
    ),
    (
        "bilge-high on 15 s now",
        15,
        f'{GOES_ON} `for` and a length of time, and, or or while, not "15"',
        "Write it like: bilge-high on for 10 s",
    ),
)
