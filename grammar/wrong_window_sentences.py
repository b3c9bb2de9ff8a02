"""Condition sentences that are refused, with the answer the installer gets: (sentence, column, problem, remedy).

Bands, deadbands, comparisons, windows, rates, what cannot be read or believed.
"""

AFTER_NAME = (
    "after a signal's name comes on, off, above, below, at least, at most, outside, between, is, changed, started, "
    "rising, falling, unreadable or not believable"
)

GROWING = "started at least 2 times as often as the hour before in each of the last 2 hours"
HOW_MUCH_OFTENER = "how much oftener is said `at least 2 times as often as the hour before in each of the last 2 hours`"

WRONG_WINDOWS: tuple[tuple[str, int, str, str], ...] = (
    (
        "house-volts outside 12 V",
        25,
        "after the lower limit comes `and` and the upper one, but nothing follows",
        "Write it like: house-volts outside 11.5 and 15.0 V for 30 s",
    ),
    (
        "house-volts outside 15 and 11 V",
        21,
        "the lower limit comes first",
        'Write "house-volts outside 11 and 15 V"',
    ),
    (
        "house-volts outside 11 V and 15000 mV",
        21,
        "both limits have the same unit",
        "Write it like: house-volts outside 11.5 and 15.0 V for 30 s",
    ),
    (
        "house-volts outside 11 to 15 V",
        27,
        'after the lower limit comes `and` and the upper one, not "15"',
        'Write "house-volts outside 11 and 15 V"',
    ),
    (
        "house-volts not between 11 and 15 V",
        17,
        'after not comes believable, not "between"',
        'Write "house-volts outside 11 and 15 V"',
    ),
    ("house-volts within 11 and 15 V", 13, f'{AFTER_NAME}, not "within"', 'Write "house-volts between 11 and 15 V"'),
    (
        "house-volts outside 11 and 15 V with deadband 2 V",
        47,
        "the deadband leaves nothing between the limits",
        "Write it like: house-volts outside 11.5 and 15.0 V for 30 s",
    ),
    (
        "house-volts outside 11 and V",
        28,
        'a number is wanted, not "V"',
        "Write it like: house-volts outside 11.5 and 15.0 V for 30 s",
    ),
    (
        "house-volts below 12 V with deadband",
        37,
        "a number is wanted, but nothing follows",
        "Write it like: house-volts below 12.0 V with deadband 0.2 V for 10 min",
    ),
    (
        "house-volts below 12 V with deadband 0 V",
        38,
        "a deadband is more than nothing",
        "Write it like: house-volts below 12.0 V with deadband 0.2 V for 10 min",
    ),
    (
        "house-volts below 12 V with deadband 200 mV",
        38,
        "the deadband must have the unit of the limit, V",
        "Write it like: house-volts below 12.0 V with deadband 0.2 V for 10 min",
    ),
    (
        "house-volts below 12 V with 0.2 V",
        29,
        'after with comes deadband, not "0.2"',
        "Write it like: house-volts below 12.0 V for 10 min",
    ),
    (
        "house-volts below 12 V deadband 0.2 V",
        24,
        "the sentence is complete here or goes on with `with deadband`, `for` and a length of time, and, or or while, "
        'not "deadband"',
        'Write "house-volts below 12 V with deadband 0.2 V"',
    ),
    (
        "house-volts below 12 V with hysteresis 0.2 V",
        29,
        'after with comes deadband, not "hysteresis"',
        'Write "house-volts below 12 V with deadband 0.2 V"',
    ),
    (
        "house-volts below 12 V for 10 min with deadband 0.2 V",
        35,
        'the sentence is complete here or goes on with and, or or while, not "with"',
        'Write "house-volts below 12 V with deadband 0.2 V for 10 min"',
    ),
    ("start-volts less than house-volts", 13, f'{AFTER_NAME}, not "less"', 'Write "start-volts below house-volts"'),
    (
        "start-volts below House-Volts",
        19,
        '"House-Volts" is not a signal\'s name: lower-case letters, digits and single "-"',
        "Write it like: start-volts below 12.0 V for 10 min",
    ),
    (
        "start-volts below house-volts by",
        33,
        "a number is wanted, but nothing follows",
        "Write it like: start-volts below 12.0 V for 10 min",
    ),
    (
        "start-volts below house-volts by 0.2 V with deadband 100 mV",
        54,
        "the deadband must have the unit of the limit, V",
        "Write it like: house-volts below 12.0 V with deadband 0.2 V for 10 min",
    ),
    (
        "bilge-pump on for more than 20 min",
        35,
        "a window is said `in the last` and a length of time, but nothing follows",
        'Write "bilge-pump on for 20 min"',
    ),
    (
        "bilge-pump on for more than 20 min in the last",
        47,
        "after `in the last` comes hour, day or a length of time, but nothing follows",
        "Write it like: bilge-pump on for more than 20 min in the last hour",
    ),
    (
        "bilge-pump on for more than 20 min in an hour",
        39,
        'a window is said `in the last` and a length of time, not "an"',
        'Write "bilge-pump on for more than 20 min in the last hour"',
    ),
    (
        "bilge-pump ran for more than 20 min in the last hour",
        12,
        f'{AFTER_NAME}, not "ran"',
        'Write "bilge-pump on for more than 20 min in the last hour"',
    ),
    (
        "bilge-pump on for more than 90 min in the last hour",
        29,
        "that can never be within 1 h",
        "Write it like: bilge-pump on for more than 20 min in the last hour",
    ),
    (
        "bilge-pump on more than 20 min in the last hour",
        15,
        'the sentence is complete here or goes on with `for` and a length of time, and, or or while, not "more"',
        'Write "bilge-pump on for more than 20 min in the last hour"',
    ),
    (
        "bilge-pump on for more than 20 in the last hour",
        32,
        'a length of time needs its unit: s, min, h or day, not "in"',
        "Write it like: bilge-pump on for more than 20 min in the last hour",
    ),
    (
        "bilge-pump on for more than 2 days in the last 60 days",
        48,
        "what is kept of the past is at most 31 days",
        "Write it like: bilge-pump on for more than 20 min in the last hour",
    ),
    (
        "bilge-pump started more than 3 in the last hour",
        32,
        'how often is said with `times`, not "in"',
        'Write "bilge-pump started more than 3 times in the last hour"',
    ),
    (
        "bilge-pump started more than 3 times",
        37,
        "a window is said `in the last` and a length of time, but nothing follows",
        "Write it like: bilge-pump started more than 3 times in the last hour",
    ),
    (
        "bilge-pump started more than 3 times an hour",
        38,
        'a window is said `in the last` and a length of time, not "an"',
        'Write "bilge-pump started more than 3 times in the last hour"',
    ),
    (
        "bilge-pump starts more than 3 times per hour",
        12,
        f'{AFTER_NAME}, not "starts"',
        'Write "bilge-pump started more than 3 times in the last hour"',
    ),
    (
        "bilge-pump started more than 2.5 times in the last hour",
        30,
        'how often it started is a whole number from 0 to 1,000, not "2.5"',
        "Write it like: bilge-pump started more than 3 times in the last hour",
    ),
    (
        "bilge-pump started more than 5000 times in the last day",
        30,
        'how often it started is a whole number from 0 to 1,000, not "5000"',
        "Write it like: bilge-pump started more than 3 times in the last hour",
    ),
    (
        "bilge-pump started 3 times in the last hour",
        20,
        'after started comes `more than`, how often, and a window, or `at least`, not "3"',
        "Write it like: bilge-pump started more than 3 times in the last hour",
    ),
    (
        "grey-pump starts doubled twice running",
        11,
        f'{AFTER_NAME}, not "starts"',
        f'Write "grey-pump {GROWING}"',
    ),
    (
        "grey-pump started twice as often as the previous hour in each of the last 2 hours",
        19,
        'after started comes `more than`, how often, and a window, or `at least`, not "twice"',
        f'Write "grey-pump {GROWING}"',
    ),
    (
        "bilge-pump started at least 2 times as often as the day before in each of the last 2 days",
        53,
        f'{HOW_MUCH_OFTENER}, not "day"',
        f"Write it like: bilge-pump {GROWING}",
    ),
    (
        "bilge-pump started at least 2 times as often as the hour before",
        64,
        f"{HOW_MUCH_OFTENER}, but nothing follows",
        f"Write it like: bilge-pump {GROWING}",
    ),
    (
        "bilge-pump started at least 2 times in the last hour",
        37,
        f'{HOW_MUCH_OFTENER}, not "in"',
        "Write it like: bilge-pump started more than 3 times in the last hour",
    ),
    (
        "bilge-pump started at least 1 time as often as the hour before in each of the last 2 hours",
        29,
        'how many times as often it started is a whole number from 2 to 1,000, not "1"',
        f"Write it like: bilge-pump {GROWING}",
    ),
    (
        "bilge-pump started at least 2 times as often as the hour before in each of the last 24 hours",
        85,
        'for how many hours it goes on is a whole number from 2 to 6, not "24"',
        f"Write it like: bilge-pump {GROWING}",
    ),
    (
        "fuel falling",
        13,
        "after rising or falling comes `faster than`, but nothing follows",
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    (
        "fuel falling faster than 2 %",
        29,
        "after the rate comes its unit and `an hour`, but nothing follows",
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    (
        "fuel falling faster than 2 % per hour",
        30,
        'after the rate comes its unit and `an hour`, not "per"',
        'Write "fuel falling faster than 2 % an hour"',
    ),
    ("fuel falling faster than 2 %/h", 29, '"/h" cannot be read', 'Write "fuel falling faster than 2 % an hour"'),
    (
        "fuel falling more than 2 % an hour",
        14,
        'after rising or falling comes `faster than`, not "more"',
        'Write "fuel falling faster than 2 % an hour"',
    ),
    (
        "fuel dropping faster than 2 % an hour",
        6,
        f'{AFTER_NAME}, not "dropping"',
        'Write "fuel falling faster than 2 % an hour"',
    ),
    (
        "fuel falling faster than -2 % an hour",
        26,
        "a rate has no sign: rising or falling says which way",
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    (
        "fuel falling faster than 2 % an hour over 10 min",
        43,
        "less than 30 min shows no rate (handbook 4.6)",
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    (
        "fuel falling by 2 % an hour",
        14,
        'after rising or falling comes `faster than`, not "by"',
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    (
        "cabin rising faster than 1 C a minute",
        30,
        'after the rate comes its unit and `an hour`, not "a"',
        "Write it like: fuel-level falling faster than 2 % an hour",
    ),
    ("cabin unreadable", 17, "a number is wanted, but nothing follows", "Write it like: cabin unreadable 5 times"),
    (
        "cabin unreadable 5",
        19,
        "how often is said with `times`, but nothing follows",
        "Write it like: cabin unreadable 5 times",
    ),
    (
        "cabin unreadable 0 times",
        18,
        'how often it could not be read is a whole number from 1 to 1,000, not "0"',
        "Write it like: cabin unreadable 5 times",
    ),
    ("cabin unreadable for 5 times", 18, 'a number is wanted, not "for"', 'Write "cabin unreadable 5 times"'),
    ("cabin not plausible", 11, 'after not comes believable, not "plausible"', 'Write "cabin not believable"'),
    (
        "cabin is not believable",
        14,
        'the sentence is complete here or goes on with `for` and a length of time, and, or or while, not "believable"',
        'Write "cabin not believable"',
    ),
    ("cabin not ok", 11, 'after not comes believable, not "ok"', "Write it like: cabin on for 10 s"),
    ("hatch has changed", 7, f'{AFTER_NAME}, not "has"', 'Write "hatch changed"'),
    ("hatch changes", 7, f'{AFTER_NAME}, not "changes"', 'Write "hatch changed"'),
    (
        "hatch changed in 10 min",
        18,
        'a window is said `in the last` and a length of time, not "10"',
        'Write "hatch changed in the last 10 min"',
    ),
)
