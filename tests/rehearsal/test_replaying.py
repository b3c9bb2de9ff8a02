"""A replay is the same desk on the same record: by the same files it comes to the same, to the last byte."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import get_args

import pytest

from gateway.alarms.settings import Point
from gateway.conditions.watching import Watch
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.rehearsal.lines import AlarmLine, TextLine
from gateway.rehearsal.recorded import AS_IT_CAME, Lost, Taken, happening_of, taken
from gateway.rehearsal.replaying import DELIVERED_AFTER, Replay, before
from gateway.rehearsal.side_by_side import Which, side_by_side
from gateway.vocabulary.happenings import CarrierTimeSeen, Happening, OptFlagCame, ReadingsCame, TextCame
from gateway.vocabulary.moments import MINUTE, Ms, from_rfc3339
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, WATER, small, starter_bundle
from tests.effort import first_of, some_of
from tests.stories import many_boats
from tests.stories.desk_alone import DeskAlone
from tests.stories.script import read

STORIES = {path.stem: read(path) for path in sorted((Path(__file__).parents[1] / "stories").glob("*.txt"))}
MANY = {path.stem: path for path in sorted((Path(__file__).parents[1] / "stories/many-boats").glob("*.txt"))}
FOREVER: Ms = from_rfc3339("2030-01-01T00:00:00Z")


def played(name: str, bundle: Bundle | None = None) -> DeskAlone:
    story = DeskAlone(bundle or starter_bundle(), STORIES[name])
    story.play()
    return story


def record(story: DeskAlone) -> list[Taken]:
    return list(taken(story.entries, story.rows))


@cache
def _played_once(name: str) -> tuple[Taken, ...]:
    return tuple(record(played(name)))


def record_of(name: str) -> list[Taken]:
    """Of a story that is played once for all who ask for it."""
    return list(_played_once(name))


def number(person: str) -> str:
    return starter_bundle().people[person].number


def replayed(happenings: Sequence[Taken], bundle: Bundle | None = None, since: Ms = 0) -> Replay:
    """By the starter's files, or by these."""
    desk, rest = Desk(bundle or starter_bundle()), iter(happenings)
    first = before(rest, desk, since)
    assert first is not None
    replay = Replay(desk, own=bundle is None)
    replay.begin(since - 1)
    replay.run([first, *rest], happenings[-1].now + 1)
    return replay


def with_shore_lost_after(length: Ms) -> Bundle:
    """The starter, its "shore lost" with another delay."""
    whole = starter_bundle()
    old: Point = whole.points["grey-wagtail/shore-lost"]
    assert isinstance(old.when, IsContact)
    new = replace(old, when=replace(old.when, lasting=length))
    return replace(whole, points={**whole.points, old.id: new}, fingerprint="f" * 64)


# ---------------------------------------------------------------- the same files


@pytest.mark.parametrize("name", some_of(STORIES, 3))
def test_every_story_comes_to_the_same_alarms_and_texts_byte_for_byte(name: str) -> None:
    story = played(name)
    replay = replayed(record(story))
    assert replay.different is None
    assert replay.would == replay.was
    texted = [line for line in replay.would if isinstance(line, TextLine) and line.about != "alarm called"]
    assert len(texted) == len(story.played.texts) > 0
    assert replay.exact, "every entry is the same, hash for hash"


@pytest.mark.parametrize("name", first_of(MANY, lambda name: name == "marina-supply-flapping"))
def test_every_story_of_many_boats_comes_to_the_same_byte_for_byte(name: str) -> None:
    many = many_boats.read(MANY[name])
    story = many_boats.Fleet(many_boats.fleet(starter_bundle(), many), many)
    told = len(story.play().texts)
    replay = Replay(Desk(story.bundle), own=True)
    replay.run(taken(story.entries, story.rows), story.now + 1)
    assert replay.exact, "every entry is the same, hash for hash"
    assert replay.different is None
    assert replay.would == replay.was
    assert sum(isinstance(line, TextLine) for line in replay.would) == told > 0


@pytest.mark.parametrize("part", [0.2, 0.5, 0.8])
@pytest.mark.parametrize("name", ["the-night", "the-generator-morning"])
@pytest.mark.long
def test_it_does_so_from_any_instant_on(name: str, part: float) -> None:
    happenings = record_of(name)
    since = happenings[int(len(happenings) * part)].now
    replay = replayed(happenings, since=since)
    assert replay.different is None
    assert replay.exact
    assert replay.taken == sum(one.now >= since for one in happenings)


def test_other_files_that_say_the_same_change_nothing() -> None:
    """Here the desk wakes by itself, as it must wherever the files are others."""
    happenings = record_of("the-generator-morning")
    replay = replayed(happenings, replace(starter_bundle(), fingerprint="f" * 64))
    assert replay.different is None
    assert replay.would == replay.was


def test_a_text_that_was_erased_is_the_end_of_what_is_known() -> None:
    happenings = record_of("the-night")
    place = next(i for i, one in enumerate(happenings) if isinstance(happening_of(one, 0, number), TextCame))
    one = happenings[place]
    bare = tuple(replace(written, parts=(None,) * len(written.parts)) for written in one.entries)
    happenings[place] = replace(one, entries=bare)
    assert isinstance(happening_of(happenings[place], 0, number), Lost)
    replay = replayed(happenings)
    assert replay.different is not None
    assert (replay.different.now, replay.different.why) == (one.now, "a text that came was erased from the record")


def test_every_happening_can_be_read_back_from_the_record() -> None:
    story = played("the-night")
    back: set[type] = {ReadingsCame, TextCame, CarrierTimeSeen, OptFlagCame}
    made = [make.__code__.co_names[0] for make in AS_IT_CAME.values()]
    names = {one.__name__ for one in back} | set(made)
    assert names == {one.__name__ for one in get_args(Happening)}
    assert all(happening_of(one, 0, number) is not None for one in record(story))


def test_the_carriers_mark_on_a_text_is_read_back_from_what_followed() -> None:
    boat = small(WATER)
    marked = [boat.take(OptFlagCame(number=number(INES), out=out)) for out in (True, False)]
    found = [
        happening_of(Taken(happening=turn.happening, now=turn.now, readings=(), entries=turn.entries), 0, number)
        for turn in marked
    ]
    assert found == [OptFlagCame(number=number(INES), out=out) for out in (True, False)]


def test_readings_keep_the_marks_that_nothing_else_tells_of() -> None:
    boat = small(WATER)
    boat.reads("water", "off", own_time=boat.now - 1000)
    boat.wait(2 * MINUTE)
    boat.reads("water", "on", own_time=1000)  # a clock that was never set
    boat.reads("water", "on", own_time=boat.now + 10 * MINUTE)
    boat.reads("water", "off", own_time=boat.now - 90 * MINUTE)
    rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
    assert len({(one.late, one.ahead) for _, _, one in rows}) == 3
    replay = Replay(Desk(boat.desk.bundle), own=True)
    replay.run(taken(boat.entries, rows), boat.now + 1)
    assert replay.exact
    assert replay.desk.state.hours == boat.desk.state.hours, "every reading was taken in with the same marks"


# ---------------------------------------------------------------- other files


def test_another_limit_shows_what_was_beside_what_would_have_been() -> None:
    happenings = record_of("the-generator-morning")
    replay = replayed(happenings, with_shore_lost_after(10 * MINUTE))
    then = [line for line in replay.was if isinstance(line, AlarmLine) and line.point.endswith("shore-lost")]
    now = [line for line in replay.would if isinstance(line, AlarmLine) and line.point.endswith("shore-lost")]
    assert now[0].now - then[0].now == 5 * MINUTE
    assert replay.different is not None
    assert replay.different.now == then[0].now
    rows = side_by_side(replay.was, replay.would, replay.different)
    assert [row.line.now for row in rows] == sorted(row.line.now for row in rows)
    assert {row.which for row in rows} >= {Which.WAS, Which.WOULD_BE}


def test_a_shorter_limit_is_found_between_two_happenings_of_the_record() -> None:
    happenings = record_of("the-generator-morning")
    replay = replayed(happenings, with_shore_lost_after(MINUTE))
    assert replay.different is not None
    first = next(line for line in replay.would if isinstance(line, AlarmLine) and line.point.endswith("shore-lost"))
    was = next(line for line in replay.was if isinstance(line, AlarmLine) and line.point.endswith("shore-lost"))
    assert was.now - first.now == 4 * MINUTE
    assert replay.different.now == first.now


def test_every_line_from_the_first_difference_on_is_marked_and_none_before() -> None:
    happenings = record_of("the-generator-morning")
    replay = replayed(happenings, with_shore_lost_after(30 * MINUTE))
    assert replay.different is not None
    for row in side_by_side(replay.was, replay.would, replay.different):
        assert row.assumed == (row.line.now >= replay.different.now)


def test_behind_the_first_difference_nobody_answers_and_texts_are_delivered_after_20_s() -> None:
    happenings = record_of("the-generator-morning")
    replay = replayed(happenings, with_shore_lost_after(MINUTE))
    assert replay.different is not None
    later = [line for line in replay.would if line.now > replay.different.now]
    assert later
    assert not [line for line in later if isinstance(line, AlarmLine) and line.event == "take"]
    assert not [line for line in later if isinstance(line, TextLine) and "GO " in (line.body or "")]
    assert {found.status for found in replay.desk.state.telling.deliveries.values()} == {"delivered"}
    assert DELIVERED_AFTER == 20_000


# ---------------------------------------------------------------- one desk, not two

SABOTAGES: dict[str, Callable[[pytest.MonkeyPatch], None]] = {
    "every delay is over at once": lambda patch: patch.setattr(Watch, "lasting", property(lambda _: 0)),
    "nobody is ever told to look": lambda patch: patch.setattr("gateway.desk.requested.reset", lambda *_: None),
    "an answer to each mere ok is left out": lambda patch: patch.setattr(
        "gateway.desk.not_understood.not_taken", lambda *_: None
    ),
}


@pytest.mark.parametrize("rule", some_of(SABOTAGES, 3))
def test_a_sabotaged_rule_of_the_desk_changes_live_and_replay_alike(rule: str) -> None:
    sound = record_of("the-night")
    with pytest.MonkeyPatch.context() as patch:
        SABOTAGES[rule](patch)
        live = record(played("the-night"))
        assert [one.entries for one in live] != [one.entries for one in sound], "the rule plays a part in this story"
        assert replayed(live).exact, "what the sabotaged desk did live it does again"
        by_it = replayed(sound)
        assert (by_it.exact, by_it.different is None) == (False, False), "and does not do what the sound one did"
    by_the_sound = replayed(live)
    assert not by_the_sound.exact, "nor does the sound one what it did"
    assert by_the_sound.different is not None
    assert replayed(sound).exact


@pytest.mark.long
def test_a_record_in_which_one_reading_or_one_entry_was_changed_does_not_come_out_exact() -> None:
    sound = record_of("the-night")
    place = next(i for i, one in enumerate(sound) if any(r.text == "on" for r in one.readings) and one.entries)
    changed = tuple(replace(one, text="off") if one.text == "on" else one for one in sound[place].readings)
    assert not replayed([*sound[:place], replace(sound[place], readings=changed), *sound[place + 1 :]]).exact
    place = next(i for i, one in enumerate(sound) if any(w.entry.kind == "alarm-step" for w in one.entries))
    fewer = sound[place].entries[:-1]
    assert not replayed([*sound[:place], replace(sound[place], entries=fewer), *sound[place + 1 :]]).exact
