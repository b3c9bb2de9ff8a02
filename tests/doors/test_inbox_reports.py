"""A text says where what becomes of it shall be reported, with its order in the signed address."""

from collections.abc import Iterator

import pytest

from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import Accepted, CarrierSettings
from gateway.vocabulary.moments import MINUTE, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from tests.doors.callers import ACCOUNT, INES, SENDER, TOKEN

NIGHT = from_rfc3339("2026-03-01T02:14:00Z")


@pytest.fixture
def stand_in() -> Iterator[CarrierStandIn]:
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=SENDER, now=lambda: NIGHT) as server:
        yield server


def carrier(stand_in: CarrierStandIn, reports_to: str | None) -> TwilioCarrier:
    return TwilioCarrier(
        CarrierSettings(
            name="main", account=ACCOUNT, sender=SENDER, token=TOKEN, base_url=stand_in.url, reports_to=reports_to
        )
    )


def order(name: str, *, spoken: bool = False) -> SendText:
    return SendText(
        id=name,
        carrier="main",
        person="person",
        number=INES,
        body="bilge",
        priority=Priority.EMERGENCY,
        valid_for=5 * MINUTE,
        spoken=spoken,
    )


def addresses(stand_in: CarrierStandIn) -> list[object]:
    return [call.fields.get("StatusCallback") for call in stand_in.calls if call.fields is not None]


def test_each_text_names_the_address_for_its_own_reports(stand_in: CarrierStandIn) -> None:
    one = carrier(stand_in, "https://texts.example.org/reports")
    one.send(order("a1"))
    one.send(order("b&2=?"))
    assert addresses(stand_in) == [
        ["https://texts.example.org/reports?order=a1"],
        ["https://texts.example.org/reports?order=b%262%3D%3F"],
    ]


def test_without_a_web_hook_no_report_is_asked_for(stand_in: CarrierStandIn) -> None:
    carrier(stand_in, None).send(order("a1"))
    assert addresses(stand_in) == [None]


def test_an_alarm_goes_without_reports_rather_than_not_at_all(stand_in: CarrierStandIn) -> None:
    # The carrier takes no underscore in the host (its OpenAPI description): such an address must not cost an alarm.
    result = carrier(stand_in, "https://our_boats.example.org/reports").send(order("a1"))
    assert isinstance(result, Accepted)
    assert addresses(stand_in) == [["https://our_boats.example.org/reports?order=a1"], None]
    assert len(stand_in.sent) == 1


def test_a_call_by_voice_names_the_address_and_of_what_it_reports(stand_in: CarrierStandIn) -> None:
    assert isinstance(carrier(stand_in, "https://texts.example.org/reports").send(order("c1", spoken=True)), Accepted)
    (call,) = stand_in.calls
    assert call.fields is not None
    assert call.fields["StatusCallback"] == ["https://texts.example.org/reports?order=c1"]
    assert call.fields["StatusCallbackEvent"] == ["ringing", "answered", "completed"]


def test_a_call_is_made_without_reports_rather_than_not_at_all(stand_in: CarrierStandIn) -> None:
    result = carrier(stand_in, "https://our_boats.example.org/reports").send(order("c1", spoken=True))
    assert isinstance(result, Accepted)
    assert len(stand_in.rung) == 1


def test_how_long_the_carrier_tries_goes_with_each_text(stand_in: CarrierStandIn) -> None:
    carrier(stand_in, None).send(order("a1"))
    assert [text.valid_for for text in stand_in.sent] == [5 * MINUTE]
