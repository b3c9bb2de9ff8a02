"""Condition sentences that are refused, with the answer the installer gets: (sentence, column, problem, remedy).

Positions, joined sentences, brackets, what stands after `clears`.
"""

from grammar.wrong_window_sentences import AFTER_NAME

WRONG_JOINED: tuple[tuple[str, int, str, str], ...] = (
    (
        "3 of 5 fixes",
        13,
        "a number comes first only as in `3 of 5 fixes of position`, but nothing follows",
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes further than 25 m from its set position",
        14,
        'a number comes first only as in `3 of 5 fixes of position`, not "further"',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "5 of 3 fixes of position further than 25 m from its set position",
        1,
        'how many of them is a whole number from 1 to 3, not "5"',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 50 fixes of position further than 25 m from its set position",
        6,
        'the number of fixes is a whole number from 1 to 20, not "50"',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 25 from its set position",
        39,
        'the distance is in metres: write "m" behind it',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 25 ft from its set position",
        39,
        'the distance is in metres: write "m" behind it',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 0 m from its set position",
        39,
        "a distance is more than nothing",
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position more than 25 m from its set position",
        26,
        'after the signal of the fixes comes `further than` or `within` and a distance in m, not "more"',
        'Write "3 of 5 fixes of position further than 25 m from its set position"',
    ),
    (
        "3 out of 5 fixes of position further than 25 m from its set position",
        3,
        'a number comes first only as in `3 of 5 fixes of position`, not "out"',
        'Write "3 of 5 fixes of position further than 25 m from its set position"',
    ),
    (
        "3 of 5 fixes of position further than 25 metres from its mooring",
        58,
        'a position is `its set position`, or latitude, comma, longitude, not "mooring"',
        'Write "3 of 5 fixes of position further than 25 m from its set position"',
    ),
    (
        "3 of 5 fixes of position further than 25 m from 95.0, -5.0",
        49,
        "a latitude is from -90 to 90 degrees",
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 25 m from 50.0, -185.0",
        55,
        "a longitude is from -180 to 180 degrees",
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 25 m from 50.0",
        53,
        "a position is `its set position`, or latitude, comma, longitude, but nothing follows",
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 25 m from 50.0 -5.0",
        54,
        'a position is `its set position`, or latitude, comma, longitude, not "-5.0"',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 of 5 fixes of position further than 25 m",
        43,
        "here comes from, but nothing follows",
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "3 fixes of position further than 25 m from its set position",
        3,
        'a number comes first only as in `3 of 5 fixes of position`, not "fixes"',
        "Write it like: 3 of 5 fixes of position further than 25 m from its set position",
    ),
    (
        "shore off and",
        14,
        "a signal's name or `no news` comes next, but nothing follows",
        "Write it like: shore off and house-volts below 12.2 V for 10 min",
    ),
    (
        "shore off and and charger off",
        15,
        '"and" is a word of the language and cannot be a signal\'s name',
        "Write it like: shore off and house-volts below 12.2 V for 10 min",
    ),
    (
        "and shore off",
        1,
        '"and" is a word of the language and cannot be a signal\'s name',
        "Write it like: shore off and house-volts below 12.2 V for 10 min",
    ),
    (
        "shore off or charger off and hatch on",
        26,
        'put brackets round what belongs together, not "and"',
        "Write it like: (bilge-high on or bilge-aft on) and shore off",
    ),
    (
        "shore off for 5 min and charger off",
        15,
        "the delay stands once, at the end, and is that of the whole sentence",
        'Write "shore off and charger off for 5 min"',
    ),
    (
        "(shore off or charger off",
        1,
        "this bracket is never closed",
        "Write it like: (bilge-high on or bilge-aft on) and shore off",
    ),
    (
        "shore off or charger off)",
        25,
        "this bracket was never opened",
        "Write it like: (bilge-high on or bilge-aft on) and shore off",
    ),
    (
        "(shore off for 5 min) and charger off",
        16,
        "a delay stands behind the brackets, at the end of the sentence",
        "Write it like: (bilge-high on or bilge-aft on) and shore off",
    ),
    (
        "(shore off for 5 min)",
        16,
        "a delay stands behind the brackets, at the end of the sentence",
        'Write "shore off for 5 min"',
    ),
    (
        "((((((((((shore off))))))))))",
        9,
        "more than 8 brackets within each other",
        "Write it like: (bilge-high on or bilge-aft on) and shore off",
    ),
    (
        "shore off while",
        16,
        "a signal's name or `no news` comes next, but nothing follows",
        "Write it like: fridge above 8 C for 2 h while shore on",
    ),
    (
        "shore off for 5 min while charger off for 5 min",
        43,
        "one delay a sentence: both sides of while have one",
        "Write it like: fridge above 8 C for 2 h while shore on",
    ),
    (
        "shore off while charger off while hatch on",
        29,
        'put brackets round what belongs together, not "while"',
        "Write it like: fridge above 8 C for 2 h while shore on",
    ),
    ("not", 4, "a signal's name or `no news` comes next, but nothing follows", "Write it like: bilge-high on for 10 s"),
    ("not shore", 10, f"{AFTER_NAME}, but nothing follows", "Write it like: bilge-high on for 10 s"),
    ("shore not off", 11, 'after not comes believable, not "off"', 'Write "shore on"'),
    ("shore off && charger off", 11, '"&&" cannot be read', 'Write "shore off and charger off"'),
    (
        "shore off, charger off",
        10,
        'the sentence is complete here or goes on with `for` and a length of time, and, or or while, not ","',
        "Write it like: shore on for 10 s",
    ),
    (
        "gone",
        1,
        "`gone` stands after `clears` only: it says that what was raised has ceased",
        "Write it like: bilge-high on for 10 s",
    ),
    (
        "gone for 60 s",
        1,
        "`gone` stands after `clears` only: it says that what was raised has ceased",
        "Write it like: bilge-high on for 10 s",
    ),
    (
        "gone 60 s",
        6,
        'the sentence is complete here or goes on with `for` and a length of time, not "60"',
        "Write it like: house-volts below 12.0 V for 10 min",
    ),
)
