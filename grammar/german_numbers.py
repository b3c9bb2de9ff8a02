"""German numbers in words, 2 to 99, as the numbers of the grammar. "eins" is left out: an article is "ein" as well."""

from collections.abc import Mapping

_SINGLE = {
    "zwei": "two",
    "drei": "three",
    "vier": "four",
    "fünf": "five",
    "sechs": "six",
    "sieben": "seven",
    "acht": "eight",
    "neun": "nine",
}

_TENS = {
    "zwanzig": "twenty",
    "dreißig": "thirty",
    "vierzig": "forty",
    "fünfzig": "fifty",
    "sechzig": "sixty",
    "siebzig": "seventy",
    "achtzig": "eighty",
    "neunzig": "ninety",
}

NUMBERS: Mapping[str, str] = {
    **_SINGLE,
    "zwo": "two",
    "zehn": "ten",
    "elf": "eleven",
    "zwölf": "twelve",
    "dreizehn": "thirteen",
    "vierzehn": "fourteen",
    "fünfzehn": "fifteen",
    "sechzehn": "sixteen",
    "siebzehn": "seventeen",
    "achtzehn": "eighteen",
    "neunzehn": "nineteen",
    **_TENS,
    **{
        f"{one}und{ten}": f"{tens} {ones}"
        for ten, tens in _TENS.items()
        for one, ones in (("ein", "one"), *_SINGLE.items())
    },
}
"""Wording -> the grammar's words. The ones come first: "einundzwanzig" is twenty-one."""
