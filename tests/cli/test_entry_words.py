"""Every kind of entry has its words, and every number in it is known for what it is."""

from dataclasses import fields
from string import Formatter
from typing import get_args, get_type_hints

import pytest

from gateway.cli.entry_words import COUNTS, INSTANTS, KINDS, LENGTHS, MARKS, in_words, lasting, moment
from gateway.desk.kinds import BY_KIND
from gateway.logbook.chains import REFERENCE
from gateway.vocabulary.entries import Entry
from gateway.vocabulary.facts import Fact


def test_exactly_the_kinds_that_there_are_have_words() -> None:
    assert set(KINDS) == {*BY_KIND, REFERENCE}


@pytest.mark.parametrize("fact", BY_KIND.values(), ids=list(BY_KIND))
def test_the_words_of_a_kind_name_its_own_fields(fact: type[Fact]) -> None:
    named = {name for _, name, _, _ in Formatter().parse(KINDS[fact.kind]) if name}
    assert named <= {field.name for field in fields(fact)}


@pytest.mark.parametrize("fact", BY_KIND.values(), ids=list(BY_KIND))
def test_every_number_and_every_yes_or_no_of_a_kind_is_known_for_what_it_is(fact: type[Fact]) -> None:
    for name, hint in get_type_hints(fact).items():
        if name in ("kind", "version"):
            continue
        kinds = {hint, *get_args(hint)}
        if int in kinds:
            assert name in INSTANTS | LENGTHS | COUNTS, name
        if bool in kinds:
            assert name in MARKS, name


def entry(kind: str, **body: object) -> Entry:
    return Entry(
        n=1,
        chain="grey-wagtail",
        place=1,
        now=0,
        happening=1,
        kind=kind,
        version=1,
        body=body,  # type: ignore[arg-type]
        sealed=(),
        previous="",
    )


def test_fields_that_the_words_leave_out_follow_behind_and_empty_ones_do_not() -> None:
    said = in_words(entry("person-seen", boat="grey-wagtail", by="text", at=0, person=None), str)
    assert said == "somebody is aboard, by text; at 1970-01-01 00:00:00"


def test_a_person_behind_the_words_is_not_called_a_person_twice() -> None:
    said = in_words(entry("person-seen", by="text", at=0, person="e330"), "person {}".format)
    assert said == "somebody is aboard, by text; at 1970-01-01 00:00:00; person e330"


def test_a_kind_that_is_not_known_yet_is_shown_by_its_name_and_fields() -> None:
    assert in_words(entry("moon-seen", phase="full"), str) == "moon seen; phase full"


def test_instants_are_utc_and_lengths_have_units() -> None:
    assert moment(1_773_025_455_000) == "2026-03-09 03:04:15"
    assert moment(1_773_025_455_001) == "2026-03-09 03:04:15.001"
    assert [lasting(length) for length in (7_200_000, 90_000, 600_000, 1_500, 0)] == [
        "2 h",
        "90 s",
        "10 min",
        "1.5 s",
        "0 s",
    ]
