"""What has changed between the question and the right words: nothing goes out that is no longer meant."""

from dataclasses import replace

from gateway.requests.answers import CautionAndCode, NotDone
from tests.requests.fake_world import LIGHTS, room


def test_a_code_for_an_action_that_the_equipment_no_longer_knows_switches_nothing() -> None:
    one = room()
    question = one.ask(LIGHTS, "on")
    assert isinstance(question, CautionAndCode)
    one.equipment[LIGHTS.id] = replace(LIGHTS, pair=("start", "stop"))
    (answer,) = one.go(question.words)
    assert isinstance(answer, NotDone)
    assert [each.says for each in answer.objections] == ["deck lights no longer knows on"]
    assert one.orders == []
