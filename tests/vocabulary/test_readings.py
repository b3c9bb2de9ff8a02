"""What the text of a reading means, and how bad a priority is."""

from decimal import Decimal

import pytest

from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading, Value


@pytest.mark.parametrize(
    ("grade", "text", "value"),
    [
        (Grade.NUMBER, "12.40", Decimal("12.40")),
        (Grade.CONTACT, "on", True),
        (Grade.CONTACT, "off", False),
        (Grade.WORD, "REMOTE", "REMOTE"),
        (Grade.UNREADABLE, "12.40", None),
    ],
)
def test_the_text_of_a_reading_means_what_its_grade_says(grade: Grade, text: str, value: Value) -> None:
    assert Reading(signal="grey-wagtail/x", grade=grade, text=text).value == value


def test_priorities_are_the_four_of_the_maritime_rule_worst_first() -> None:
    assert sorted(Priority, key=lambda priority: -priority.gravity) == ["emergency", "alarm", "warning", "caution"]
