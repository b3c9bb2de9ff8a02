# ruff: noqa: ARG002 - a moment in which nothing holds looks at nothing that it is asked
"""Who is told and who may switch, read back from the bundle."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from gateway.alarms.aboard import Occupied
from gateway.alarms.settings import Concerns
from gateway.boat.latest import Latest
from gateway.boat.settings import Boat, Senses, Signal
from gateway.cli.check_sheet import switching_lines
from gateway.conditions.judging import Judged, Verdict
from gateway.desk.bundle import Bundle
from gateway.installation.describing import told
from gateway.installation.describing_switching import needs, switching
from gateway.installation.starter import starter
from gateway.people.settings import Right
from gateway.requests.answers import Rule
from gateway.requests.asked import Asked
from gateway.requests.interlocks import check
from gateway.requests.settings import Equipment
from gateway.requests.state import Requests
from gateway.vocabulary.moments import HOUR, MINUTE, Ms
from grammar.meanings import Condition
from tests.installation.small_installation import change, laid, loaded


@pytest.fixture(scope="module")
def bundle() -> Bundle:
    return loaded(starter()).bundle


def test_every_alarm_point_is_a_line_with_whom_it_calls_and_when(bundle: Bundle) -> None:
    rows = {(row.boat, row.alarm): row for row in told(bundle)}
    assert set(rows) == {(point.boat, point.key) for point in bundle.points.values()}
    fire = rows["salt-harrier", "fire"]
    assert fire.told == {"edda": (0, 3 * MINUTE), "tobias": (0, 3 * MINUTE), "marina": (0, 3 * MINUTE)}
    assert fire.called == {"edda": (3 * MINUTE,), "tobias": (3 * MINUTE,), "marina": (3 * MINUTE,)}
    assert rows["salt-harrier", "co"].told["marina"] == (6 * MINUTE,)
    assert (fire.call_alone, fire.on_duty) == ({}, {})
    assert (fire.priority, fire.when, fire.again) == ("emergency", "fire on for 2 s", 10 * MINUTE)
    assert rows["grey-wagtail", "hatch-open"].attendance == ("away", "laid up")
    assert rows["grey-wagtail", "hatch-open"].again is None


def test_the_gravest_stand_first_boat_by_boat(bundle: Bundle) -> None:
    gravity = {"emergency": 3, "alarm": 2, "warning": 1, "caution": 0}
    order = [(row.boat, -gravity[row.priority]) for row in told(bundle)]
    assert order == sorted(order)


def test_who_may_switch_is_what_their_rights_say(bundle: Bundle) -> None:
    rows = {(row.boat, row.equipment, row.action): row for row in switching(bundle)}
    assert rows["grey-wagtail", "generator", "start"].who == ("ines", "tobias")
    assert rows["little-stint", "deck-lights", "on"].who == ("tobias",)
    assert rows["little-stint", "deck-lights", "off"].who == ("tobias", "hanno")


def test_hours_and_runs_stand_beside_a_start(bundle: Bundle) -> None:
    rows = {(row.boat, row.equipment, row.action): row for row in switching(bundle)}
    start, stop = rows["grey-wagtail", "generator", "start"], rows["grey-wagtail", "generator", "stop"]
    assert start.hours == "08:00-20:00 (Tarn Creek Marina office: quiet hours)"
    assert (start.longest, start.unasked) == (4 * HOUR, HOUR)
    assert (stop.hours, stop.longest) == (None, None)


def test_who_may_switch_at_some_hours_only_stands_with_them(bundle: Bundle) -> None:
    hanno = next(person for person in bundle.people.values() if person.key == "hanno")
    right = Right(boat="little-stint", equipment="*", begins=8 * 60, ends=20 * 60)
    some = replace(bundle, people={**bundle.people, hanno.id: replace(hanno, rights=(right,))})
    rows = {(row.boat, row.equipment, row.action): row for row in switching(some)}
    assert rows["little-stint", "deck-lights", "on"].only_at == {"hanno": ("08:00-20:00",)}
    assert rows["little-stint", "deck-lights", "off"].only_at == {}, "stopping is bound to no hours"
    lines = "\n".join(switching_lines(switching(some)))
    assert "deck lights on: tobias, hanno (08:00-20:00);" in lines
    assert "deck lights off: tobias, hanno;" in lines


@dataclass(frozen=True)
class NothingHolds:
    """A moment in which every interlock that there is has something against it."""

    bundle: Bundle
    now: Ms = 3 * HOUR

    def wall(self, at: Ms) -> Ms:
        return at

    def clock_doubtful(self) -> bool:
        return False

    def boat(self, key: str) -> Boat:
        return self.bundle.boats[key]

    def judge(self, boat: str, condition: Condition) -> Judged:
        return Judged(verdict=Verdict.UNKNOWN)

    def latest(self, signal: str) -> Latest | None:
        return None

    def signal(self, signal: str) -> Signal:
        return self.bundle.signals[signal]

    def sensing(self, boat: str, senses: Senses) -> tuple[Signal, ...]:
        return tuple(one for one in self.bundle.signals.values() if one.boat == boat and one.senses is senses)

    def occupied(self, boat: str) -> Occupied | None:
        return Occupied(since=None, by="nobody")

    def alarm_active(self, boat: str, concerns: Concerns) -> int | None:
        return 14

    def silent_since(self, boat: str) -> Ms | None:
        return 0

    def link_up(self, boat: str) -> bool:
        return True

    def minute_of_day(self, boat: str, at: Ms) -> int:
        return 180

    def next_clock_time(self, boat: str, minute: int) -> Ms:
        return self.now + HOUR


def every_action(bundle: Bundle) -> Iterator[tuple[Equipment, str]]:
    for piece in bundle.equipment.values():
        for action in piece.pair:
            yield piece, action


UNKNOWN_IS = {Rule.SELECTOR: Rule.STALE, Rule.LOCK_OUT: Rule.STALE, Rule.ALREADY: Rule.STALE}
"""How a signal that was never heard is objected to."""


def test_what_is_said_of_the_interlocks_is_what_the_room_of_requests_asks(bundle: Bundle) -> None:
    for piece, action in every_action(bundle):
        asked = Asked(equipment=piece, action=action, asker="tobias", role=None, request="r")
        objections = check(asked, Requests(), NothingHolds(bundle)).objections
        said = {need.rule for need in needs(bundle, piece, action)}
        # nothing pending, link up, no time asked for, nothing failed
        told_apart = {Rule.PENDING, Rule.LINK_DOWN, Rule.LIMIT_ON_STOP, Rule.ATTEMPTS}
        assert {objection.rule for objection in objections} == {
            UNKNOWN_IS.get(rule, rule) for rule in said - told_apart
        }
        own = [need for need in needs(bundle, piece, action) if need.rule is Rule.OWN]
        assert len(own) == len([one for one in objections if one.rule is Rule.OWN])


def test_a_missing_selector_with_a_named_exception_is_not_said_to_be_asked(tmp_path: Path) -> None:
    folder = laid(tmp_path / "installation")
    change(folder, "boats/little-stint/equipment.toml", "run_limit", 'exception = "Ruth Okell: none fitted"\nrun_limit')
    (folder / "boats/little-stint/signals.toml").write_text('leave_out = ["selector"]', encoding="utf-8")
    bundle = loaded(folder).bundle
    said = {need.rule for need in needs(bundle, bundle.equipment["little-stint/generator"], "start")}
    assert Rule.SELECTOR not in said
    assert Rule.OCCUPIED in said
