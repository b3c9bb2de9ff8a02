"""Entries in chains: how they are linked, read back and accepted."""

import hashlib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.logbook.canonical import NotPlain, read, write
from gateway.logbook.chains import (
    DoesNotFollow,
    Head,
    Heads,
    accept,
    entry_bytes,
    entry_of,
    heads_of,
    heads_plain,
    link,
    refer,
)
from gateway.logbook.seals import part_bytes, part_of, seal_hash
from gateway.vocabulary.entries import INSTALLATION, SealedPart, Written

BOAT = "grey-wagtail"


def add(heads: Heads, chain: str = BOAT, parts: tuple[SealedPart, ...] = ()) -> Written:
    body = {"alarm": 14, "value": "11.9"}
    return link(heads, chain=chain, now=1_000, happening=7, kind="raised", version=1, body=body, parts=parts)


def test_an_entry_holds_the_hash_of_the_one_before_it_in_its_own_chain() -> None:
    heads = Heads()
    first, other, second = add(heads), add(heads, INSTALLATION), add(heads)
    assert (first.entry.previous, other.entry.previous, second.entry.previous) == ("", "", first.digest)
    assert [w.entry.n for w in (first, other, second)] == [1, 2, 3]
    assert [w.entry.place for w in (first, other, second)] == [1, 1, 2]
    assert heads.of(BOAT) == Head(2, second.digest)


def test_the_hash_of_an_entry_is_sha_256_over_its_canonical_json() -> None:
    written = add(Heads())
    assert written.data == (
        b'{"body":{"alarm":14,"value":"11.9"},"chain":"grey-wagtail","happening":7,"kind":"raised","n":1,"now":1000,'
        b'"place":1,"previous":"","sealed":[],"version":1}'
    )
    assert written.digest == hashlib.sha256(written.data).hexdigest()


def test_an_entry_reads_back_as_it_was_written() -> None:
    written = add(Heads(), parts=(SealedPart(salt="ab" * 16, content={"number": "+447700900123"}),))
    assert entry_of(written.data) == written.entry
    assert entry_bytes(entry_of(written.data)) == written.data


@pytest.mark.parametrize(
    "change",
    [{"n": "1"}, {"n": True}, {"body": []}, {"sealed": [1]}, {"sealed": "ab"}, {"previous": None}, {"more": 1}],
)
def test_bytes_that_are_canonical_but_no_entry_are_refused(change: dict[str, object]) -> None:
    plain = {**read(add(Heads()).data), **change}  # type: ignore[dict-item]
    with pytest.raises(NotPlain, match="not an entry"):
        entry_of(write(plain))  # type: ignore[arg-type]


def test_a_body_that_is_not_plain_leaves_the_heads_where_they_were() -> None:
    heads = Heads()
    add(heads)
    before = heads_plain(heads)
    with pytest.raises(NotPlain, match="float"):
        link(heads, chain=BOAT, now=1, happening=1, kind="k", version=1, body={"v": 1.5})  # type: ignore[dict-item]
    assert heads_plain(heads) == before


def test_a_seal_hides_the_content_and_depends_on_salt_and_content() -> None:
    part = SealedPart(salt="00" * 16, content={"name": "Ines Marlow"})
    assert seal_hash(part) == hashlib.sha256(part_bytes(part)).hexdigest()
    others = {seal_hash(replace(part, salt="01" * 16)), seal_hash(replace(part, content={"name": "Ruth Okell"}))}
    assert seal_hash(part) not in others
    assert part_of(part_bytes(part)) == part


def test_a_matter_of_several_boats_stands_once_and_is_referred_to_by_number_and_hash() -> None:
    heads = Heads()
    matter = add(heads, INSTALLATION)
    reference = refer(heads, chain=BOAT, to=matter)
    assert reference.entry.kind == "reference"
    assert reference.entry.body == {"n": matter.entry.n, "digest": matter.digest}
    assert (reference.entry.chain, reference.entry.now) == (BOAT, matter.entry.now)


def test_a_fold_of_what_was_linked_ends_with_the_same_heads() -> None:
    heads, folded = Heads(), Heads()
    for chain in (BOAT, INSTALLATION, BOAT, "salt-harrier", BOAT):
        accept(folded, add(heads, chain))
    assert folded == heads
    assert heads_of(read(write(heads_plain(heads)))) == heads


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"n": 5}, "entry 3 was expected"),
        ({"place": 1}, "place 3 was expected"),
        ({"previous": "00" * 32}, "hash of the entry before"),
    ],
)
def test_an_entry_that_does_not_follow_is_not_accepted(change: dict[str, object], reason: str) -> None:
    heads = Heads()
    add(heads)
    add(heads)
    before = heads_plain(heads)
    last = add(heads_of(before))
    wrong = replace(last, entry=replace(last.entry, **change))  # type: ignore[arg-type]
    with pytest.raises(DoesNotFollow, match=reason):
        accept(heads, wrong)
    with pytest.raises(DoesNotFollow, match="bytes do not have the hash"):
        accept(heads, replace(last, data=last.data + b" "))
    assert heads_plain(heads) == before


@given(st.binary(max_size=40))
def test_any_bytes_are_an_entry_or_refused(data: bytes) -> None:
    with pytest.raises(NotPlain):
        entry_of(data)
