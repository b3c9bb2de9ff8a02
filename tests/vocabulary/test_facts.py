"""Facts become plain bodies and come back as they were, at any age."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, ClassVar

import pytest

from gateway.alarms.facts import AlarmStep
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.desk.kinds import BY_KIND, FACTS
from gateway.requests.facts import RequestStep
from gateway.vocabulary.facts import Fact, body_of, fact_of
from gateway.vocabulary.plain import Plain
from gateway.vocabulary.priority import Priority


class Colour(StrEnum):
    RED = "red"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bulb(Fact):
    kind: ClassVar[str] = "bulb"
    version: ClassVar[int] = 2
    colour: Colour
    was: Colour | None = None
    rows: tuple[tuple[str, int], ...] = ()
    lit: bool = False

    @classmethod
    def lift(cls, version: int, body: Mapping[str, Plain]) -> Mapping[str, Plain]:
        return {"lit": True, **body} if version == 1 else Fact.lift.__func__(cls, version, body)  # type: ignore[attr-defined, no-any-return]


def test_a_fact_reads_back_from_its_body_with_tuples_and_words_as_they_were() -> None:
    fact = Bulb(colour=Colour.RED, rows=(("a", 1), ("b", 2)))
    assert body_of(fact) == {"colour": "red", "was": None, "rows": [["a", 1], ["b", 2]], "lit": False}
    back = fact_of(Bulb, 2, body_of(fact))
    assert back == fact
    assert type(back.colour) is Colour


def test_an_old_body_is_lifted_before_it_is_read() -> None:
    assert fact_of(Bulb, 1, {"colour": "red"}) == Bulb(colour=Colour.RED, lit=True)


def test_a_version_from_the_future_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="'bulb' version 3 is not known here"):
        fact_of(Bulb, 3, {"colour": "red"})


@pytest.mark.parametrize(("body", "wrong"), [({"colour": "blue"}, ValueError), ({"lit": True}, TypeError)])
def test_a_body_that_is_none_of_this_kind_is_refused(body: dict[str, Plain], wrong: type[Exception]) -> None:
    with pytest.raises(wrong):
        fact_of(Bulb, 2, body)


@pytest.mark.parametrize("odd", [1.5, b"x", {1}, object()])
def test_what_the_logbook_cannot_hold_is_refused(odd: Any) -> None:
    with pytest.raises(TypeError, match="cannot stand in the logbook"):
        body_of(Bulb(colour=Colour.RED, rows=odd))


def test_every_kind_of_entry_has_a_name_of_its_own() -> None:
    assert len(BY_KIND) == len(FACTS)
    assert all(kind and kind == kind.lower() for kind in BY_KIND)


def test_an_alarm_step_keeps_its_states_and_its_person() -> None:
    step = AlarmStep(
        number=14,
        point="grey-wagtail/bilge-high",
        boat="grey-wagtail",
        priority=Priority.EMERGENCY,
        event=AlarmEvent.TAKE,
        before=AlarmState.UNACKNOWLEDGED,
        after=AlarmState.ACKNOWLEDGED,
        at=5,
        person="p1",
    )
    assert fact_of(AlarmStep, 1, body_of(step)) == step
    assert RequestStep.kind in BY_KIND
