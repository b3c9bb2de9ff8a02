"""Calls by voice through the carrier's own client, against the pretend carrier over real HTTP."""

from collections.abc import Iterator

import pytest

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import Accepted, CarrierSettings, NoAnswer, Refused
from gateway.vocabulary.moments import MINUTE, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority

ACCOUNT, TOKEN, OURS, PHONE = "AC" + "0" * 32, "token", "+447700900321", "+447700900456"
NOW = from_rfc3339("2026-03-09T03:07:15Z")
ORDER = SendText(
    id="o1",
    carrier="main",
    person="id-tobias",
    number=PHONE,
    body="Bilge high water & <rising>. Text: have it 1.",
    priority=Priority.EMERGENCY,
    valid_for=10 * MINUTE,
    spoken=True,
)


@pytest.fixture
def quay() -> Iterator[CarrierStandIn]:
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OURS, now=lambda: NOW) as stand_in:
        yield stand_in


def door(quay: CarrierStandIn) -> TwilioCarrier:
    settings = CarrierSettings(name="main", account=ACCOUNT, sender=OURS, token=TOKEN, base_url=quay.url)
    return TwilioCarrier(settings, timeout=2.0)


def test_the_words_are_spoken_twice_whatever_signs_stand_in_them(quay: CarrierStandIn) -> None:
    result = door(quay).send(ORDER)
    assert isinstance(result, Accepted)
    assert result.message.startswith("CA")
    (call,) = quay.rung
    assert call.to == PHONE
    assert [ORDER.body in words for words in call.words] == [True, True]
    assert quay.sent == ()


@pytest.mark.parametrize(
    ("end", "said"),
    [("completed", ("completed", "")), ("busy", ("busy", "busy")), ("no-answer", ("no-answer", "no-answer"))],
)
def test_its_end_is_asked_for(quay: CarrierStandIn, end: str, said: tuple[str, str]) -> None:
    quay.next_call_ends.append(end)
    line = door(quay)
    result = line.send(ORDER)
    assert isinstance(result, Accepted)
    assert line.status(result.message) == said


def test_a_phone_that_is_off_does_not_answer(quay: CarrierStandIn) -> None:
    quay.phone_off(PHONE)
    line = door(quay)
    result = line.send(ORDER)
    assert isinstance(result, Accepted)
    assert line.status(result.message)[0] == "no-answer"


def test_a_call_whose_answer_was_lost_is_found_and_not_made_again(quay: CarrierStandIn) -> None:
    quay.next_answers.append(Misbehaviour.CUT_AFTER_ACTING)
    line = door(quay)
    assert isinstance(line.send(ORDER), NoAnswer)
    found = line.look_up(ORDER, NOW, frozenset())
    assert found == quay.rung[0].id
    assert line.look_up(ORDER, NOW, frozenset({found})) is None
    assert line.look_up(ORDER, NOW + 10 * MINUTE, frozenset()) is None


def test_a_number_that_cannot_be_called_is_refused_with_the_carriers_code(quay: CarrierStandIn) -> None:
    other = CarrierSettings(name="main", account=ACCOUNT, sender="+447700900322", token=TOKEN, base_url=quay.url)
    result = TwilioCarrier(other, timeout=2.0).send(ORDER)
    assert isinstance(result, Refused)
    assert result.code == "21210"
