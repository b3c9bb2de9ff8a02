"""The carrier's door, handing texts over: the real client against a real server on loopback that misbehaves."""

import logging
import socketserver
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import ClassVar

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import Accepted, CarrierSettings, DoorTrouble, NoAnswer, Refused, SendResult
from gateway.telling.outcomes import outcome_of
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from tests.effort import tries

ACCOUNT, TOKEN = "AC" + "0" * 32, "a token of the pretend carrier"
GATEWAY, INES = "+447700900900", "+447700900123"
NIGHT = from_rfc3339("2026-03-01T02:14:00Z")
BILGE = "GREY WAGTAIL C14: BILGE HIGH WATER since 03:04 boat time. Reply HAVE IT 14"


@pytest.fixture
def stand_in() -> Iterator[CarrierStandIn]:
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=GATEWAY, now=lambda: NIGHT, slow_for=0.05) as server:
        yield server


def settings_for(stand_in: CarrierStandIn, token: str = TOKEN) -> CarrierSettings:
    return CarrierSettings(name="texts", account=ACCOUNT, sender=GATEWAY, token=token, base_url=stand_in.url)


@pytest.fixture
def carrier(stand_in: CarrierStandIn) -> TwilioCarrier:
    return TwilioCarrier(settings_for(stand_in), timeout=0.3)


def order(number: str = INES, body: str = BILGE, valid_for: int = 10 * MINUTE) -> SendText:
    return SendText(
        id="order",
        carrier="texts",
        person="person",
        number=number,
        body=body,
        priority=Priority.EMERGENCY,
        valid_for=valid_for,
    )


def creates(stand_in: CarrierStandIn) -> int:
    return sum(call.method == "POST" and call.path.endswith("/Messages.json") for call in stand_in.calls)


def test_a_text_is_accepted_and_stands_with_the_carrier_as_it_was_ordered(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    result = carrier.send(order())
    (sent,) = stand_in.sent
    assert result == Accepted(message=sent.message, status="queued")
    assert (sent.number, sent.body, sent.at, sent.valid_for) == (INES, BILGE, NIGHT, 10 * MINUTE)
    assert sent.intent == "notifications"
    assert stand_in.calls[0].fields is not None
    assert set(stand_in.calls[0].fields) == {"To", "From", "Body", "ValidityPeriod", "MessageIntent"}


# What the server does, what must come back (kind; code or words of the detail; again_after), how many texts it took.
ANSWERS: list[tuple[Misbehaviour, type[SendResult], str, int | None, int]] = [
    (Misbehaviour.SILENT, NoAnswer, "ReadTimeout", None, 0),
    (Misbehaviour.SILENT_AFTER_ACTING, NoAnswer, "ReadTimeout", None, 1),
    (Misbehaviour.CUT, NoAnswer, "ConnectionError", None, 0),
    (Misbehaviour.CUT_AFTER_ACTING, NoAnswer, "ConnectionError", None, 1),
    (Misbehaviour.LOGIN_PAGE, NoAnswer, "log-in page", None, 0),
    (Misbehaviour.PORTAL_REFUSAL, NoAnswer, "HTTP 403 without a word of the carrier's own", None, 0),
    (Misbehaviour.PORTAL_REDIRECT, NoAnswer, "HTTP 302 without a word of the carrier's own", None, 0),
    (Misbehaviour.ODD_JSON, NoAnswer, "not the carrier's", None, 0),
    (Misbehaviour.SERVER_ERROR, NoAnswer, "20500", None, 0),
    (Misbehaviour.SERVER_ERROR_AFTER_ACTING, NoAnswer, "20500", None, 1),
    (Misbehaviour.BAD_GATEWAY, NoAnswer, "HTTP 502 without a word of the carrier's own", None, 0),
    (Misbehaviour.TOO_MANY, Refused, "20429", None, 0),
    (Misbehaviour.TOO_MANY_FOR_NOW, Refused, "20429", 7 * SECOND, 0),
    (Misbehaviour.SLOW, Accepted, "queued", None, 1),
    (Misbehaviour.UNDATED, Accepted, "queued", None, 1),
    (Misbehaviour.HELD, Refused, "held", None, 0),
    (Misbehaviour.FAILED_AT_ONCE, Refused, "30001", None, 0),
]


def test_the_table_of_answers_leaves_no_misbehaviour_out() -> None:
    assert {row[0] for row in ANSWERS} == set(Misbehaviour)


@pytest.mark.parametrize(
    ("odd", "kind", "word", "again_after", "taken"), ANSWERS, ids=[row[0].value for row in ANSWERS]
)
def test_each_way_of_answering_has_its_result_and_one_request(
    stand_in: CarrierStandIn,
    carrier: TwilioCarrier,
    odd: Misbehaviour,
    kind: type[SendResult],
    word: str,
    again_after: int | None,
    taken: int,
) -> None:
    stand_in.next_answers.append(odd)
    result = carrier.send(order())
    assert isinstance(result, kind)
    match result:
        case Accepted(status=status):
            assert status == word
        case Refused(code=code, again_after=again):
            assert (code, again) == (word, again_after)
        case NoAnswer(detail=detail):
            assert word in detail
    assert creates(stand_in) == 1
    assert len(stand_in.sent) == taken


REFUSALS = [
    (order(number="+44"), "21211"),
    (order(number="07700900123"), "21211"),
    (order(body="x" * 1601), "21617"),
    (order(body=""), "21602"),
]


@pytest.mark.parametrize(("bad", "code"), REFUSALS)
def test_a_text_the_carrier_does_not_take_is_refused_with_its_code_and_never_again(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, bad: SendText, code: str
) -> None:
    result = carrier.send(bad)
    assert isinstance(result, Refused)
    assert (result.code, result.again_after) == (code, None)
    assert creates(stand_in) == 1


def test_wrong_credentials_are_a_refusal_and_the_token_is_in_no_word_of_it(stand_in: CarrierStandIn) -> None:
    result = TwilioCarrier(settings_for(stand_in, token="mistyped-secret")).send(order())
    assert isinstance(result, Refused)
    assert result.code == "20003"
    assert "mistyped-secret" not in result.detail


def test_a_phone_that_opted_out_is_refused_with_21610_and_its_number_is_masked(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    stand_in.text_in(INES, "Stop", NIGHT)
    result = carrier.send(order())
    assert isinstance(result, Refused)
    assert result.code == "21610"
    assert "+44 ... 123" in result.detail
    assert "7700900" not in result.detail


def test_nothing_listening_is_no_answer() -> None:
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=GATEWAY, now=lambda: NIGHT) as gone:
        carrier = TwilioCarrier(settings_for(gone), timeout=0.3)
    assert isinstance(carrier.send(order()), NoAnswer)


@pytest.mark.parametrize(
    ("valid_for", "seconds"),
    [(-1, 1), (0, 1), (999, 1), (1_999, 1), (15 * MINUTE, 900), (10 * HOUR, 36_000), (48 * HOUR, 36_000)],
)
def test_how_long_the_carrier_may_try_is_whole_seconds_within_its_limits(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, valid_for: int, seconds: int
) -> None:
    assert isinstance(carrier.send(order(valid_for=valid_for)), Accepted)
    assert stand_in.sent[0].valid_for == seconds * SECOND


def test_a_text_put_off_until_morning_is_withdrawn(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.next_answers.append(Misbehaviour.HELD)
    result = carrier.send(order())
    assert isinstance(result, Refused)
    assert result.code == "held"
    assert "withdrawn" in result.detail
    cancel = stand_in.calls[-1]
    assert (cancel.method, cancel.fields, cancel.status) == ("POST", {"Status": ["canceled"]}, 200)


def test_a_text_put_off_that_cannot_be_withdrawn_is_refused_all_the_same_and_says_so(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    stand_in.next_answers.append(Misbehaviour.HELD)
    stand_in.next_look_answers.append(Misbehaviour.CUT)
    result = carrier.send(order())
    assert isinstance(result, Refused)
    assert result.code == "held"
    assert "not withdrawn" in result.detail


def test_each_send_has_a_connection_of_its_own(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    for _ in range(3):
        carrier.send(order())
    assert stand_in.connections == 3


def test_several_workers_may_send_at_once(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    orders = [order(body=f"{BILGE} {n}") for n in range(24)]
    with ThreadPoolExecutor(8) as workers:
        results = list(workers.map(carrier.send, orders))
    by_message = {sent.message: sent.body for sent in stand_in.sent}
    assert [by_message[result.message] for result in results if isinstance(result, Accepted)] == [
        sent.body for sent in orders
    ]


def test_a_proxy_named_in_the_environment_is_not_asked_for_this_machine_itself(
    stand_in: CarrierStandIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("http_proxy", "HTTP_PROXY", "all_proxy", "ALL_PROXY"):
        monkeypatch.setenv(name, "http://127.0.0.1:9")
    for name in ("no_proxy", "NO_PROXY"):
        monkeypatch.delenv(name, raising=False)
    assert isinstance(TwilioCarrier(settings_for(stand_in)).send(order()), Accepted)


class Proxy(socketserver.StreamRequestHandler):
    """A proxy that lets nobody through and remembers who was asked for."""

    asked: ClassVar[list[str]] = []

    def handle(self) -> None:
        self.asked.append(self.rfile.readline().decode())
        while self.rfile.readline().strip():
            pass
        self.wfile.write(b"HTTP/1.1 503 Closed\r\nContent-Length: 0\r\n\r\n")


def test_without_a_base_url_the_carriers_own_address_is_called_encrypted_whatever_the_environment_says(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Seen at a proxy on loopback that the environment names, so that nothing leaves the machine."""
    monkeypatch.setenv("TWILIO_EDGE", "elsewhere")
    monkeypatch.setenv("TWILIO_REGION", "elsewhere")
    for name in ("no_proxy", "NO_PROXY"):
        monkeypatch.delenv(name, raising=False)
    with socketserver.TCPServer(("127.0.0.1", 0), Proxy) as proxy:
        for name in ("https_proxy", "HTTPS_PROXY"):
            monkeypatch.setenv(name, f"http://127.0.0.1:{proxy.server_address[1]}")
        thread = threading.Thread(target=proxy.handle_request)
        thread.start()
        carrier = TwilioCarrier(CarrierSettings(name="texts", account=ACCOUNT, sender=GATEWAY, token=TOKEN), timeout=2)
        result = carrier.send(order())
        thread.join(5)
    assert [line.split()[:2] for line in Proxy.asked] == [["CONNECT", "api.twilio.com:443"]]
    assert isinstance(result, NoAnswer)


def test_a_silent_carrier_is_given_up_after_the_time_limit(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.next_answers.append(Misbehaviour.SILENT)
    begun = time.monotonic()
    carrier.send(order())
    assert 0.3 <= time.monotonic() - begun < 2  # the limit of this test's carrier is 0.3 s


def test_variables_of_the_client_in_the_environment_change_nothing(
    stand_in: CarrierStandIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("TWILIO_ACCOUNT_SID", "TWILIO_AUTH_TOKEN", "TWILIO_EDGE", "TWILIO_REGION"):
        monkeypatch.setenv(name, "elsewhere")
    carrier = TwilioCarrier(settings_for(stand_in))
    assert isinstance(carrier.send(order()), Accepted)
    assert stand_in.calls[0].path.startswith(f"/2010-04-01/Accounts/{ACCOUNT}/")


def test_no_log_line_holds_a_number_a_body_or_the_token(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    carrier.send(order())
    carrier.poll(NIGHT)
    stand_in.next_answers.append(Misbehaviour.CUT)
    carrier.send(order())
    for secret in ("7700900", "BILGE", TOKEN):
        assert secret not in caplog.text


@pytest.mark.parametrize(
    ("account", "token", "base_url", "word"),
    [
        ("", TOKEN, None, "empty"),
        (ACCOUNT, "", None, "empty"),
        (ACCOUNT, TOKEN, "127.0.0.1:8020", "no address"),
        (ACCOUNT, TOKEN, "ftp://127.0.0.1", "no address"),
        (ACCOUNT, TOKEN, "https://texts.example.com/2010-04-01", "no address"),
        (ACCOUNT, TOKEN, "https://", "no address"),
        (ACCOUNT, TOKEN, "http://texts.example.com", "unencrypted"),
    ],
)
def test_settings_that_cannot_work_are_refused_before_anything_is_sent(
    account: str, token: str, base_url: str | None, word: str
) -> None:
    settings = CarrierSettings(name="texts", account=account, sender=GATEWAY, token=token, base_url=base_url)
    with pytest.raises(DoorTrouble) as refusal:
        TwilioCarrier(settings)
    assert word in refusal.value.problem
    assert refusal.value.where == "carrier texts"


@pytest.mark.parametrize("base_url", [None, "https://texts.example.com", "https://texts.example.com:8443/"])
def test_the_carriers_own_address_and_any_encrypted_one_are_taken(base_url: str | None) -> None:
    TwilioCarrier(CarrierSettings(name="texts", account=ACCOUNT, sender=GATEWAY, token=TOKEN, base_url=base_url))


QUICK_TO_FAIL = [
    odd
    for odd in Misbehaviour
    if "silent" not in odd and odd not in (Misbehaviour.SLOW, Misbehaviour.HELD, Misbehaviour.FAILED_AT_ONCE)
]


@settings(max_examples=tries(40), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(QUICK_TO_FAIL), max_size=6))
def test_looking_before_repeating_brings_every_text_exactly_once(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, line: list[Misbehaviour]
) -> None:
    """The service's own rule on the door's answers: repeat what was refused for now, look up what had no answer."""
    before = len(stand_in.sent)
    text = order(body=f"{BILGE} after {before}")
    stand_in.next_answers.clear()
    stand_in.next_answers.extend(line)
    message: str | None = None
    while message is None:
        result = carrier.send(text)
        if isinstance(result, Accepted):
            message = result.message
        elif isinstance(result, NoAnswer):
            message = carrier.look_up(text, NIGHT, frozenset())
        else:
            assert outcome_of(result.code).retry
    (arrived,) = stand_in.sent[before:]
    assert (arrived.message, arrived.body) == (message, text.body)
