"""Numbers against published sources: handbook 6.3 with its CHK-30, and the metadata of phonenumbers."""

import phonenumbers
import pytest

from gateway.people.numbers import NumberRefused, e164, is_fictional


def test_chk_30_one_number_in_three_writings_and_sixteen_digits_refused() -> None:
    """ITU-T E.164: at most 15 digits, country code first; E.123 writings (handbook 6.3, CHK-30)."""
    assert e164("+44 7700 900123", None) == "+447700900123"
    assert e164("07700 900123", "GB") == "+447700900123"
    assert e164("00447700900123", "GB") == "+447700900123"
    with pytest.raises(NumberRefused, match="16 digits"):
        e164("+4477009001231234", "GB")


FIRST_AND_LAST = [  # handbook 6.3, rows with a named source
    ("+447700900000", "+447700900999"),  # Ofcom, mobile
    ("+441632960000", "+441632960999"),  # Ofcom, no area
    ("+442079460000", "+442079460999"),  # Ofcom, London
    ("+12025550100", "+12025550199"),  # 555 numbers, North America
    ("+18005550199", "+18005550199"),  # the only free number named
]


@pytest.mark.parametrize(("first", "last"), FIRST_AND_LAST)
def test_a_fictional_range_begins_and_ends_where_the_regulator_says(first: str, last: str) -> None:
    assert is_fictional(first)
    assert is_fictional(last)
    assert not is_fictional(f"+{int(first[1:]) - 1}")
    assert not is_fictional(f"+{int(last[1:]) + 1}")


# the regulator's list of mobile numbers for creative works, all 0491 (handbook 6.3)
ACMA = [
    570006,
    570110,
    570156,
    570157,
    570158,
    570159,
    570313,
    570737,
    571266,
    571491,
    571804,
    572549,
    572665,
    572983,
    573087,
    573770,
    574118,
    574632,
    575254,
    575789,
    576398,
    576801,
    577426,
    577644,
    578148,
    578888,
    578957,
    579212,
    579455,
    579760,
]


def test_of_the_australian_mobiles_exactly_the_thirty_listed_are_fictional() -> None:
    found = [n for n in range(570000, 580000) if is_fictional(f"+61491{n}")]
    assert found == ACMA
    assert len(found) == 30


@pytest.mark.parametrize(
    "unchecked", ["+33639980000", "+46701740605", "+353209100000", "+61255500000", "+441134960000"]
)
def test_ranges_whose_source_was_not_checked_are_not_used(unchecked: str) -> None:
    assert not is_fictional(unchecked)


def test_the_drama_range_is_possible_but_not_valid_by_the_public_metadata_and_loads_all_the_same() -> None:
    """Why the table is needed (handbook 6.3, computed with phonenumbers)."""
    number = phonenumbers.parse("+447700900123")
    assert phonenumbers.is_possible_number(number)
    assert not phonenumbers.is_valid_number(number)
    assert e164("+447700900123", None) == "+447700900123"


@pytest.mark.parametrize("country", ["GB", "US", "AU", "FR", "NL", "DE", "ES", "IT", "GR", "HR", "SE", "NZ"])
def test_the_metadatas_own_example_mobile_of_each_country_loads_in_both_writings(country: str) -> None:
    """The library's example numbers are not written out here, because some may belong to somebody."""
    example = phonenumbers.example_number_for_type(country, phonenumbers.PhoneNumberType.MOBILE)
    assert example is not None
    stored = phonenumbers.format_number(example, phonenumbers.PhoneNumberFormat.E164)
    national = phonenumbers.format_number(example, phonenumbers.PhoneNumberFormat.NATIONAL)
    assert e164(stored, None) == stored
    assert e164(national, country) == stored
