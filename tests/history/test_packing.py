"""Readings packed by the hour: undone to the very byte, in the same order, and small."""

import zlib
from dataclasses import replace
from itertools import groupby, pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gateway.history import repacking
from gateway.history.packing import deflated_places, inflated_places, packed, unpacked
from gateway.history.repacking import LooseBlock, group_of, repacked
from gateway.logbook.blocks import pack, places_of
from gateway.logbook.canonical import LARGEST, NotPlain
from gateway.logbook.kept_readings import line, read_line
from gateway.vocabulary.moments import HOUR, SECOND, from_rfc3339
from gateway.vocabulary.readings import Grade, Reading
from tests.effort import tries

BEGAN = from_rfc3339("2026-03-09T03:00:00Z")

readings = st.builds(
    Reading,
    signal=st.sampled_from(["grey-wagtail/house-volts", "grey-wagtail/bilge-high", "salt-harrier/shore"]),
    grade=st.sampled_from(Grade),
    text=st.text(max_size=12).filter(lambda text: text.isprintable()) | st.sampled_from(["12.41", "true"]),
    own_time=st.none() | st.integers(-LARGEST, LARGEST),
    late=st.booleans(),
    retained=st.booleans(),
    ahead=st.booleans(),
    timeless=st.booleans(),
)
rows = st.lists(st.tuples(st.integers(0, 2**40), st.integers(0, 2**45), readings), min_size=1, max_size=40)


@given(rows)
@settings(max_examples=tries(60))
def test_packing_is_undone_to_the_very_byte(found: list[tuple[int, int, Reading]]) -> None:
    lines = b"\n".join(line(*row) for row in found)
    assert unpacked(packed(lines)) == lines


@given(st.binary(max_size=60))
@settings(max_examples=tries(60))
def test_lines_that_nobody_of_ours_wrote_come_back_as_they_are(lines: bytes) -> None:
    assert unpacked(packed(lines)) == lines


@given(st.binary(max_size=80))
@settings(max_examples=tries(60))
def test_damage_is_named_and_never_more_than_that(data: bytes) -> None:
    for undo in (unpacked, inflated_places):
        try:
            undo(b"c" + data)
        except NotPlain:
            continue


def test_a_flipped_byte_anywhere_in_a_packed_block_is_found_or_does_not_matter() -> None:
    lines = b"\n".join(line(i, BEGAN + i, Reading(signal="b/x", grade=Grade.NUMBER, text="1")) for i in range(20))
    whole = packed(lines)
    for place in range(len(whole)):
        damaged = whole[:place] + bytes([whole[place] ^ 0x40]) + whole[place + 1 :]
        try:
            assert unpacked(damaged) == lines
        except NotPlain:
            continue


def test_a_block_that_would_fill_the_memory_is_refused() -> None:
    bomb = b"l" + zlib.compress(bytes(80_000_000))
    with pytest.raises(NotPlain, match="too large"):
        unpacked(bomb)


@pytest.mark.parametrize("places", [None, b"[0,1,2]", b"[5,3,900]"])
def test_places_come_back(places: bytes | None) -> None:
    assert inflated_places(deflated_places(places)) == places


def test_places_that_are_none_are_named() -> None:
    with pytest.raises(NotPlain):
        deflated_places(b'["x"]')


# ---------------------------------------------------------------- an hour of commits


def loose(commits: list[list[tuple[int, int, Reading]]]) -> list[LooseBlock]:
    """The blocks that these commits left."""
    found: list[LooseBlock] = []
    for commit in commits:
        batch = len(found) + 1
        for block in pack(commit):
            found.append(
                LooseBlock(
                    id=len(found) + 1,
                    batch=batch,
                    last_now=block.last_now,
                    places=block.places,
                    lines=block.lines,
                    count=block.count,
                )
            )
    return found


def commits(count: int, *, every: int = SECOND, boats: int = 3) -> list[list[tuple[int, int, Reading]]]:
    """Commits of some readings each, of several boats in turn."""
    happening, found = 0, []
    for i in range(count):
        commit = []
        for j in range(1 + i % 4):
            happening += 1
            boat = ("grey-wagtail", "salt-harrier", "little-stint")[(i + j) % boats]
            reading = Reading(signal=f"{boat}/volts", grade=Grade.NUMBER, text=f"12.{i % 70}", own_time=BEGAN + i)
            commit.append((happening, BEGAN + i * every + j, reading))
        found.append(commit)
    return found


def test_an_hour_of_commits_becomes_one_block_a_boat_in_the_same_order_of_taking() -> None:
    made = commits(400)
    done = repacked(group_of(loose(made)))
    assert (done.first, done.last, done.count) == (1, len(loose(made)), len(loose(made)))
    assert sorted(block.block.boat for block in done.blocks) == ["grey-wagtail", "little-stint", "salt-harrier"]
    assert [block.id for block in done.blocks] == [1, 2, 3]
    placed: list[tuple[int, Any]] = []
    for block in done.blocks:
        lines = unpacked(block.lines).split(b"\n")
        placed += zip(places_of(inflated_places(block.places), len(lines)), map(read_line, lines), strict=True)
    assert [row for _, row in sorted(placed, key=lambda each: each[0])] == [row for commit in made for row in commit]


def test_a_group_ends_with_its_hour_and_with_whole_commits() -> None:
    blocks = loose(commits(30, every=4 * 60 * SECOND))
    group = group_of(blocks)
    assert {block.last_now // HOUR for block in group} == {BEGAN // HOUR}
    assert blocks[len(group)].batch != group[-1].batch
    assert blocks[len(group)].last_now // HOUR == BEGAN // HOUR + 1


def test_a_busy_hour_is_packed_in_several_groups(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(repacking, "LARGEST_GROUP", 100)
    blocks = loose(commits(200))
    groups = []
    while blocks:
        groups.append(group_of(blocks))
        blocks = blocks[len(groups[-1]) :]
    assert len(groups) > 4
    assert all(sum(block.count for block in group) <= 100 for group in groups)
    for before, after in pairwise(groups):
        assert before[-1].batch != after[0].batch


def test_a_damaged_line_leaves_the_group_as_it_is() -> None:
    (first, *others) = loose(commits(9))
    with pytest.raises(NotPlain):
        repacked([replace(first, lines=b"[1]"), *others])


def test_a_day_of_a_boat_takes_few_bytes_a_reading() -> None:
    # 20 signals every 10 s, values that wander: what the standard motor yacht sends (our choice of figures)
    rows = []
    for i in range(360):
        for j in range(20):
            text = f"{12 + ((i * 7 + j * 13) % 97) / 100:.2f}"
            rows.append((i + 1, BEGAN + i * 10_000, Reading(signal=f"b/s{j}", grade=Grade.NUMBER, text=text)))
    plain = b"\n".join(line(*row) for row in rows)
    assert [key for key, _ in groupby(rows, lambda row: row[0])] == list(range(1, 361))
    small = len(packed(plain)) / len(rows)
    assert small < 3 < len(plain) / len(rows) / 10
