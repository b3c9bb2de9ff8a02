"""Telephone numbers: any usual writing into E.164, the regulators' fictional ranges, and a form for logs.

Sources: ITU-T E.164 (at most 15 digits, country code first) and E.123 by reference articles (handbook 6.3, CHK-30);
numbering plans by the public metadata of phonenumbers.
"""

import re

import phonenumbers
from phonenumbers import NumberParseException, PhoneNumber, PhoneNumberFormat

E164_DIGITS = 15  # ITU-T E.164, handbook 6.3
SHOWN_DIGITS = 3  # our choice: enough to tell a crew's phones apart, too few to call one

_FICTIONAL = re.compile(
    r"""\+(?:
        44 (?: 7700900\d{3} | 1632960\d{3} | 2079460\d{3} )     # Ofcom: mobile, no area, London (handbook 6.3)
      | 1 (?: (?!8(?:00|33|44|55|66|77|88)) [2-9]\d\d55501\d\d  # 555-0100 to 0199 in any area
            | 80055501 99 )                                     # of the free numbers only this one is named
      | 61491 (?: 570006 | 570110 | 570156 | 570157 | 570158 | 570159 | 570313 | 570737 | 571266 | 571491   # ACMA
                | 571804 | 572549 | 572665 | 572983 | 573087 | 573770 | 574118 | 574632 | 575254 | 575789
                | 576398 | 576801 | 577426 | 577644 | 578148 | 578888 | 578957 | 579212 | 579455 | 579760 )
    )""",
    re.VERBOSE,
)
"""Ranges kept free for drama and examples, as far as the handbook names a source for them; the others of the same
regulators are left out until checked."""

_NO_PART_OF_A_NUMBER = re.compile(r"[^\d\s+\uff0b()./\u2010-\u2015-]")
"""Letters, extension marks and the rest, which phonenumbers would turn into digits or drop in silence."""


class NumberRefused(ValueError):
    """A telephone number that cannot be used: what is wrong, and what to do."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}. {remedy}.")
        self.problem, self.remedy = problem, remedy


def e164(text: str, home_country: str | None, *, unusual: bool = False) -> str:
    """The number as + and digits. home_country: two letters of ISO 3166-1, for numbers written without country code.

    Accepted when the numbering plan knows it, when it lies in a fictional range, or when it is marked unusual and has
    a length that the plan allows. Raises NumberRefused.
    """
    number = _read(text, home_country)
    written = phonenumbers.format_number(number, PhoneNumberFormat.E164)
    if len(written) - 1 > E164_DIGITS:
        raise NumberRefused(
            f"{text!r} has {len(written) - 1} digits with its country code, and no number has more than {E164_DIGITS}",
            "Write the number as it is dialled from abroad, such as +44 7700 900123",
        )
    if phonenumbers.is_valid_number(number) or is_fictional(written):
        return written
    if not phonenumbers.is_possible_number(number):
        raise NumberRefused(
            f"{text!r} is too short or too long for its country (+{number.country_code})",
            "Count the digits against the telephone itself",
        )
    if not unusual:
        raise NumberRefused(
            f"{text!r} belongs to no range that its country (+{number.country_code}) gives out",
            "Check the digits; if the number is right all the same, write `unusual_number = true` below it",
        )
    return written


def _read(text: str, home_country: str | None) -> PhoneNumber:
    """The number as phonenumbers reads it, after what it would forgive in silence has been refused."""
    if home_country is not None and home_country not in phonenumbers.SUPPORTED_REGIONS:
        raise NumberRefused(
            f"{home_country!r} is no country with a numbering plan", 'Write two capital letters, such as "GB"'
        )
    if odd := _NO_PART_OF_A_NUMBER.search(text):
        raise NumberRefused(
            f"{text!r} holds {odd.group()!r}, and a number is digits only",
            "Leave out words and extensions; write the digits",
        )
    try:
        return phonenumbers.parse(text, home_country)
    except NumberParseException as trouble:
        raise NumberRefused(*_unread(text, home_country, trouble.error_type)) from None


def _unread(text: str, home_country: str | None, error: int) -> tuple[str, str]:
    if error == NumberParseException.INVALID_COUNTRY_CODE and home_country is None and not text.strip().startswith("+"):
        return (
            f"{text!r} has no country code, and no home country is given",
            "Write it as from abroad, such as +44 7700 900123, or set `home_country`",
        )
    if error == NumberParseException.INVALID_COUNTRY_CODE:
        return f"{text!r} begins with a country code that no country has", "Check the digits after the +"
    if error == NumberParseException.TOO_LONG:
        return (
            f"{text!r} has more digits than any number ({E164_DIGITS} with the country code)",
            "Check that two numbers have not run together",
        )
    return f"{text!r} is no telephone number", "Write the number as from abroad, such as +44 7700 900123"


def is_fictional(number: str) -> bool:
    """Whether an E.164 number lies in a range that a regulator keeps for drama and examples (handbook 6.3)."""
    return _FICTIONAL.fullmatch(number) is not None


def masked(number: str) -> str:
    """The number for logs and error lines: country code and last three digits, ``+44 ... 123``.

    What is no E.164 number keeps its last three characters when it has at least seven (our choice: half of it hidden),
    and is hidden whole otherwise.
    """
    shown = number[-SHOWN_DIGITS:] if len(number) > 2 * SHOWN_DIGITS else ""
    try:
        country = f"+{phonenumbers.parse(number, None).country_code} "
    except NumberParseException:
        country = ""
    return f"{country}... {shown}".rstrip()
