"""Every number in every text of every story can be found again in the record, the readings or the installer's files."""

import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down
from gateway.vocabulary.moments import DAY, MINUTE, as_utc
from grammar.meanings import Gone, say_condition
from tests.effort import some_of
from tests.service.quay import SECRETS, without_consent
from tests.stories.desk_alone import DeskAlone
from tests.stories.reckoned_again import FRAGMENTS, Again, reckoned_again
from tests.stories.script import Story, read

STORIES = {path.stem: read(path) for path in sorted(Path(__file__).parent.glob("*.txt"))}
MEASURED = re.compile(r"(?<![\d.:])(-?\d+(?:\.\d+)?) ?(V|A|C|%|ppm)(?![\w/])")
LEFT_OVER = re.compile(r"\d ?(?:L/h|%/h|C/h|m/min|Ah)|L/h|times that|without a pause|of running")
"""What only a sum says: nothing of it may be left when all sums have been reckoned again."""
CLOCK = re.compile(r"(?<!\d)([01]\d|2[0-3]):([0-5]\d)(?!\d)")
NUMBERED = re.compile(r"(?:HAVE IT|CHECKED|[Aa]larm) (\d+)")


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    folder = tmp_path_factory.mktemp("numbers") / "boat"
    lay_down(folder, boats=("grey-wagtail",))
    without_consent(folder)
    return load(folder, person_id=lambda key: f"id-of-{key}", environ=SECRETS).bundle


def written_by_the_installer(bundle: Bundle) -> set[tuple[Decimal, str]]:
    """Numbers with their units in conditions, meanings, advice, cautions and interlocks."""
    said: list[str] = []
    for point in bundle.points.values():
        said += [point.name, point.means, point.do, say_condition(point.when)]
        said += [say_condition(point.clears)] if point.clears is not None and not isinstance(point.clears, Gone) else []
    for piece in bundle.equipment.values():
        said += [piece.caution, piece.stop_caution]
        said += [text for lock in piece.interlocks for text in (lock.says, say_condition(lock.needs))]
    return {(Decimal(number), unit) for text in said for number, unit in MEASURED.findall(text)}


def instants_in(value: Any) -> set[int]:
    """Every instant anywhere in an entry's body."""
    if isinstance(value, bool):
        return set()
    if isinstance(value, int):
        return {value} if value > 1_000_000_000_000 else set()
    if isinstance(value, dict):
        return set().union(*map(instants_in, value.values()), set())
    if isinstance(value, list | tuple):
        return set().union(*map(instants_in, value), set())
    return set()


@pytest.mark.parametrize("name", some_of(STORIES, 3))
def test_every_number_in_every_text_can_be_found_again(bundle: Bundle, name: str) -> None:
    story: Story = STORIES[name]
    alone = DeskAlone(bundle, story)
    played = alone.play()
    measured = {
        (Decimal(reading.text), unit)
        for _, _, reading in alone.rows
        if reading.grade == "n" and (unit := bundle.signals[reading.signal].unit)
    } | written_by_the_installer(bundle)
    instants = {written.entry.now for written in alone.entries}
    for written in alone.entries:
        instants |= instants_in(dict(written.entry.body))
        if written.entry.kind == "commands-locked" and written.entry.body["until"]:
            instants.add(int(written.entry.body["until"]) + MINUTE - 1)  # said is the minute by which it has ended
    times = {as_utc(at).strftime("%H:%M") for at in instants}  # the stories lie in winter: boat time is UTC
    for piece in bundle.equipment.values():
        if piece.permitted is not None:
            times |= {f"{m // 60:02}:{m % 60:02}" for m in (piece.permitted.start, piece.permitted.end)}
    numbers = {str(w.entry.body["number"]) for w in alone.entries if w.entry.kind == "alarm-step"}
    looked_at = 0
    at = story.begins
    for when, who, whole in played.texts:
        at = next_time(when, at)
        body, sums = reckoned_again(whole, Again(bundle, alone.rows, at))
        looked_at += sums
        assert not LEFT_OVER.search(body), (who, body)
        for figure, unit in MEASURED.findall(body):
            looked_at += 1
            assert (Decimal(figure), unit) in measured, (who, body, figure, unit)
        for found in CLOCK.finditer(body):
            looked_at += 1
            assert found[0] in times | next_calls(alone, bundle), (who, body, found[0])
        for number in NUMBERED.findall(body):
            looked_at += 1
            assert number in numbers, (who, body, number)
    assert looked_at > 5


def test_the_texts_of_a_leak_hold_sums_of_every_kind_that_the_boat_has(bundle: Bundle) -> None:
    """Else the test above would look at none of them."""
    played = DeskAlone(bundle, STORIES["water-comes-in"]).play()
    said = " ".join(body for _, _, body in played.texts)
    assert {key for pattern, key, _ in FRAGMENTS if pattern.search(said)} == {one.key for one in bundle.sums.values()}


def next_time(when: str, after: int) -> int:
    """The end of the second that a clock shows (ms UTC), not before an instant."""
    hour, minute, second = map(int, when.split(":"))
    shown = ((hour * 60 + minute) * 60 + second) * 1000 + 999
    return after + (shown - after) % DAY


def next_calls(alone: DeskAlone, bundle: Bundle) -> set[str]:
    """When somebody is called next: an alarm's step plus the delays of its list, as the files say them."""
    found = set()
    for written in alone.entries:
        body = written.entry.body
        if written.entry.kind not in ("alarm-step", "round-called"):
            continue
        plan = bundle.callouts[bundle.points[str(body["point"])].callout]
        for after in (*(step.after for step in plan.steps), plan.repeat or 0):
            found.add(as_utc(written.entry.now + after).strftime("%H:%M"))
    return found
