"""Which sealed parts name a person."""

from gateway.history.erasing import Named
from gateway.logbook.chains import Heads, link
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.plain import Plain

TOBIAS, INES = "70b1a570b1a570b1a570b1a5", "1e51e51e51e51e51e51e51e5"
heads = Heads()


def entry(body: dict[str, Plain], *contents: Plain) -> Written:
    parts = [SealedPart(salt=f"{place:032x}", content=content) for place, content in enumerate(contents)]
    return link(heads, chain="installation", now=1, happening=1, kind="x", version=1, body=body, parts=parts)


RECORD = [
    entry(
        {"people": [INES, TOBIAS]},
        {"id": INES, "key": "ines", "name": "Ines Marlow", "number": "+447700900123"},
        {"id": TOBIAS, "key": "tobias", "name": "Tobias Penhale", "number": "+447700900456"},
    ),
    entry({"person": TOBIAS}, {"number": "+447700900456", "body": "GREY WAGTAIL: bilge"}),
    entry({"person": INES}, {"number": "+447700900123", "body": "Tobias has it"}),
    entry({"person": INES}, {"number": "+447700900123", "body": "GREY WAGTAIL: bilge"}),
    entry({"person": None}, {"number": "+447700900456", "body": "who is this"}),
    entry({"person": INES}, {"number": "+447700900123", "body": "the Tobiasson boat"}),
    entry({"told": [INES, TOBIAS], "request": "r"}, {"words": ["teapot", "marble"]}),
]


def test_every_part_that_names_the_person_is_found_and_no_other() -> None:
    named = Named(TOBIAS)
    named.learn(RECORD)
    assert named.names == {"Tobias Penhale", "Tobias"}
    first = RECORD[0].entry.n
    assert [(n - first, place) for n, place in named.parts(RECORD)] == [(0, 1), (1, 0), (2, 0), (4, 0), (6, 0)]


def test_a_person_whose_name_is_erased_already_is_still_found_by_the_id() -> None:
    named = Named(TOBIAS)
    assert [n - RECORD[0].entry.n for n, _ in named.parts(RECORD)] == [0, 1, 6]
