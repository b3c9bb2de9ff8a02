"""The carrier's door, looking: lost texts, texts to us, the present word on a text."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import Accepted, CarrierAway, CarrierSettings, Funds, Inbound, NoAnswer
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority

ACCOUNT, TOKEN = "AC" + "0" * 32, "a token of the pretend carrier"
GATEWAY, INES, TOBIAS = "+447700900900", "+447700900123", "+447700900456"
NIGHT = from_rfc3339("2026-03-01T02:14:00Z")
BILGE = "GREY WAGTAIL C14: BILGE HIGH WATER since 03:04 boat time. Reply HAVE IT 14"
NONE_KNOWN: frozenset[str] = frozenset()


class Clock:
    def __init__(self) -> None:
        self.now: Ms = NIGHT

    def __call__(self) -> Ms:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def stand_in(clock: Clock) -> Iterator[CarrierStandIn]:
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=GATEWAY, now=clock, slow_for=0.05) as server:
        yield server


@pytest.fixture
def carrier(stand_in: CarrierStandIn) -> TwilioCarrier:
    settings = CarrierSettings(name="texts", account=ACCOUNT, sender=GATEWAY, token=TOKEN, base_url=stand_in.url)
    return TwilioCarrier(settings, timeout=0.3)


def order(number: str = INES, body: str = BILGE) -> SendText:
    return SendText(
        id="order",
        carrier="texts",
        person="person",
        number=number,
        body=body,
        priority=Priority.EMERGENCY,
        valid_for=10 * MINUTE,
    )


def accepted(carrier: TwilioCarrier, text: SendText) -> str:
    result = carrier.send(text)
    assert isinstance(result, Accepted)
    return result.message


# ---------------------------------------------------------------- what is left on the account


def test_the_carrier_says_what_is_left_on_the_account(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.funds.update(balance="-8.4021", currency="USD")
    assert carrier.balance() == Funds(amount="-8.4021", currency="USD")
    assert [(call.method, call.path.rpartition("/")[2]) for call in stand_in.calls] == [("GET", "Balance.json")]


@pytest.mark.parametrize("amount", [None, "", "about ten", "NaN", 12])
def test_an_account_that_does_not_say_has_not_answered(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, amount: object
) -> None:
    stand_in.funds["balance"] = amount
    with pytest.raises(CarrierAway):
        carrier.balance()


@pytest.mark.parametrize(
    "odd",
    [Misbehaviour.SILENT, Misbehaviour.CUT, Misbehaviour.LOGIN_PAGE, Misbehaviour.ODD_JSON, Misbehaviour.TOO_MANY],
)
def test_a_carrier_that_is_away_says_nothing_of_the_account(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, odd: Misbehaviour
) -> None:
    stand_in.next_look_answers.append(odd)
    with pytest.raises(CarrierAway):
        carrier.balance()


# ---------------------------------------------------------------- lost texts


@pytest.mark.parametrize(
    "odd",
    [Misbehaviour.SILENT_AFTER_ACTING, Misbehaviour.CUT_AFTER_ACTING, Misbehaviour.SERVER_ERROR_AFTER_ACTING],
)
def test_a_text_whose_answer_was_lost_is_found(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, odd: Misbehaviour
) -> None:
    stand_in.next_answers.append(odd)
    assert isinstance(carrier.send(order()), NoAnswer)
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) == stand_in.sent[0].message


@pytest.mark.parametrize("odd", [Misbehaviour.CUT, Misbehaviour.LOGIN_PAGE, Misbehaviour.SERVER_ERROR])
def test_a_text_that_never_reached_the_carrier_is_not_found(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, odd: Misbehaviour
) -> None:
    stand_in.next_answers.append(odd)
    assert isinstance(carrier.send(order()), NoAnswer)
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) is None


def test_a_text_that_has_not_left_yet_is_found_although_it_passes_no_date_filter(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    message = accepted(carrier, order())
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) == message
    first, second = stand_in.calls[-2:]
    assert first.fields == {"To": [INES], "DateSent>": ["2026-03-01T02:13:00Z"], "PageSize": ["50"]}
    assert second.fields == {"To": [INES], "PageSize": ["50"]}


def test_a_text_that_has_left_is_found_with_one_question(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    message = accepted(carrier, order())
    carrier.status(message)
    before = len(stand_in.calls)
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) == message
    assert len(stand_in.calls) == before + 1


def test_what_was_accepted_before_is_not_taken_for_the_lost_one(carrier: TwilioCarrier) -> None:
    first = accepted(carrier, order())
    assert carrier.look_up(order(), NIGHT, frozenset({first})) is None
    second = accepted(carrier, order())
    assert carrier.look_up(order(), NIGHT, frozenset({first})) == second


def test_of_several_the_oldest_is_given(carrier: TwilioCarrier, clock: Clock) -> None:
    first = accepted(carrier, order())
    clock.now += MINUTE
    accepted(carrier, order())
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) == first


@pytest.mark.parametrize(("earlier", "found"), [(MINUTE, True), (MINUTE + SECOND, False), (DAY, False)])
def test_a_text_made_before_the_attempt_is_another_one_with_a_minute_of_margin(
    carrier: TwilioCarrier, earlier: Ms, found: bool
) -> None:
    accepted(carrier, order())
    assert (carrier.look_up(order(), NIGHT + earlier, NONE_KNOWN) is not None) is found


@pytest.mark.parametrize(
    "other", [order(number=TOBIAS), order(body=BILGE.replace("14", "15")), order(body=BILGE.lower()), order(body="B")]
)
def test_another_addressee_or_another_body_is_another_text(carrier: TwilioCarrier, other: SendText) -> None:
    accepted(carrier, other)
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) is None


def test_blanks_at_the_ends_make_no_other_text(carrier: TwilioCarrier) -> None:
    message = accepted(carrier, order(body=f"{BILGE}  "))
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) == message


def test_a_text_that_came_in_is_never_taken_for_one_of_ours(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.text_in(INES, BILGE, NIGHT)
    assert carrier.look_up(order(number=GATEWAY), NIGHT, NONE_KNOWN) is None


def test_a_text_found_put_off_is_withdrawn_and_counts_as_not_sent(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    stand_in.next_answers.append(Misbehaviour.HELD)
    stand_in.next_look_answers.append(Misbehaviour.CUT)  # so that the first try to withdraw it fails
    carrier.send(order())
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) is None
    assert [call.status for call in stand_in.calls if call.fields == {"Status": ["canceled"]}] == [None, 200]


# ---------------------------------------------------------------- texts to us


def test_texts_to_us_come_oldest_first_with_their_age_by_the_carriers_clock(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    later = stand_in.text_in(TOBIAS, "have it 14", NIGHT - 4 * SECOND)
    earlier = stand_in.text_in(INES, "status", NIGHT - 7 * MINUTE)
    polled = carrier.poll(NIGHT + 3 * HOUR)  # our own clock is wrong, and does not matter
    assert polled.carrier_now == NIGHT
    assert polled.texts == (
        Inbound(message=earlier, number=INES, body="status", age=7 * MINUTE, sent_at=NIGHT - 7 * MINUTE),
        Inbound(message=later, number=TOBIAS, body="have it 14", age=4 * SECOND, sent_at=NIGHT - 4 * SECOND),
    )


def test_a_poll_asks_one_question_in_utc_for_a_day_and_two_hours(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    carrier.poll(NIGHT)
    (call,) = stand_in.calls
    assert call.fields == {"To": [GATEWAY], "DateSent>": ["2026-02-28T00:14:00Z"], "PageSize": ["200"]}


def test_our_own_texts_are_not_among_the_texts_to_us(carrier: TwilioCarrier) -> None:
    accepted(carrier, order(number=GATEWAY))
    carrier.status("SM" + "0" * 31 + "1")  # it has left, so it passes the date filter
    assert carrier.poll(NIGHT).texts == ()


def test_texts_of_older_days_do_not_come(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.text_in(INES, "last week", NIGHT - 7 * DAY)
    stand_in.text_in(INES, "yesterday", NIGHT - 25 * HOUR)
    assert [text.body for text in carrier.poll(NIGHT).texts] == ["yesterday"]


@pytest.mark.parametrize("hook_after", [None, 0, 50 * SECOND])
def test_a_text_is_aged_by_when_it_was_made_however_late_the_hook_was_called(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, hook_after: Ms | None
) -> None:
    stand_in.text_in(INES, "status", NIGHT - MINUTE, hook_after=hook_after)
    (text,) = carrier.poll(NIGHT).texts
    assert (text.age, text.sent_at) == (MINUTE, NIGHT - MINUTE)


@pytest.mark.parametrize(("ahead", "age"), [(SECOND, 0), (MINUTE, 0), (MINUTE + SECOND, None)])
def test_a_text_from_the_future_has_no_age(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, ahead: Ms, age: Ms | None
) -> None:
    stand_in.text_in(INES, "status", NIGHT + ahead)
    assert carrier.poll(NIGHT).texts[0].age == age


def test_without_the_carriers_clock_no_text_has_an_age(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.text_in(INES, "status", NIGHT)
    carrier.poll(NIGHT)
    stand_in.next_look_answers.append(Misbehaviour.UNDATED)
    polled = carrier.poll(NIGHT)
    assert polled.carrier_now is None
    assert [(text.body, text.age, text.sent_at) for text in polled.texts] == [("status", None, NIGHT)]


@pytest.mark.parametrize("body", ["", "x" * 1600, "go teapot marble \U0001f44d", "one\r\ntwo", '"quoted" & <b>'])
def test_any_body_comes_through_unchanged(stand_in: CarrierStandIn, carrier: TwilioCarrier, body: str) -> None:
    stand_in.text_in(INES, body, NIGHT)
    assert carrier.poll(NIGHT).texts[0].body == body


def test_a_flood_is_followed_back_to_what_was_there_at_the_poll_before(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    for n in range(210):
        stand_in.text_in(INES, f"text {n}", NIGHT - (810 - n) * SECOND)
    assert [text.body for text in carrier.poll(NIGHT).texts] == [f"text {n}" for n in range(210)]
    assert len(stand_in.calls) == 2
    assert len(carrier.poll(NIGHT).texts) == 200, "no flood: the newest 200"
    assert len(stand_in.calls) == 3
    for n in range(210, 810):
        stand_in.text_in(INES, f"text {n}", NIGHT - (810 - n) * SECOND)
    assert [text.body for text in carrier.poll(NIGHT).texts] == [f"text {n}" for n in range(210, 810)]


def test_a_lost_text_is_found_behind_many_newer_ones(carrier: TwilioCarrier) -> None:
    message = accepted(carrier, order())
    for n in range(120):
        carrier.send(order(body=f"text {n}"))
    assert carrier.look_up(order(), NIGHT, NONE_KNOWN) == message


def test_a_lost_text_is_not_sought_through_all_the_years(
    carrier: TwilioCarrier, stand_in: CarrierStandIn, clock: Clock
) -> None:
    for n in range(120):
        carrier.send(order(body=f"text {n}"))
    clock.now += DAY
    before = len(stand_in.calls)
    assert carrier.look_up(order(), clock.now, NONE_KNOWN) is None
    assert len(stand_in.calls) == before + 2, "one page with the date, one without"


def test_polls_keep_one_connection(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    for _ in range(4):
        carrier.poll(NIGHT)
    assert stand_in.connections == 1


def test_several_workers_may_look_at_once(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    message = accepted(carrier, order())
    stand_in.text_in(INES, "status", NIGHT)
    with ThreadPoolExecutor(8) as workers:
        found = list(workers.map(lambda _: carrier.look_up(order(), NIGHT, NONE_KNOWN), range(24)))
        polled = list(workers.map(lambda _: carrier.poll(NIGHT).texts[0].body, range(24)))
    assert set(found) == {message}
    assert set(polled) == {"status"}


# ---------------------------------------------------------------- the present word


def test_a_text_that_arrived_is_delivered_and_has_no_error(carrier: TwilioCarrier) -> None:
    assert carrier.status(accepted(carrier, order())) == ("delivered", "")


def test_a_phone_that_is_off_makes_the_text_undelivered_with_the_carriers_code(
    stand_in: CarrierStandIn, carrier: TwilioCarrier
) -> None:
    stand_in.phone_off(INES)
    assert carrier.status(accepted(carrier, order())) == ("undelivered", "30003")
    stand_in.phone_off(INES, off=False)
    assert carrier.status(accepted(carrier, order())) == ("delivered", "")


def test_a_text_found_put_off_is_withdrawn_and_told_as_held(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.next_answers.append(Misbehaviour.HELD)
    stand_in.next_look_answers.append(Misbehaviour.CUT)
    carrier.send(order())
    message = "SM" + "0" * 31 + "1"
    assert carrier.status(message) == ("canceled", "held")
    assert carrier.status(message) == ("canceled", "")


# ---------------------------------------------------------------- the carrier away

WRONG = [
    (Misbehaviour.SILENT, "ReadTimeout"),
    (Misbehaviour.CUT, "ConnectionError"),
    (Misbehaviour.LOGIN_PAGE, "log-in page"),
    (Misbehaviour.PORTAL_REFUSAL, "HTTP 403"),
    (Misbehaviour.ODD_JSON, ""),
    (Misbehaviour.SERVER_ERROR, "20500"),
    (Misbehaviour.BAD_GATEWAY, "HTTP 502"),
    (Misbehaviour.TOO_MANY, "20429"),
]
QUESTIONS = {
    "poll": lambda carrier: carrier.poll(NIGHT),
    "look up": lambda carrier: carrier.look_up(order(), NIGHT, NONE_KNOWN),
    "status": lambda carrier: carrier.status("SM" + "0" * 31 + "1"),
}


@pytest.mark.parametrize("question", QUESTIONS)
@pytest.mark.parametrize(("odd", "word"), WRONG, ids=[row[0].value for row in WRONG])
def test_a_carrier_that_cannot_be_asked_is_away_after_one_request_and_back_with_the_next(
    stand_in: CarrierStandIn, carrier: TwilioCarrier, question: str, odd: Misbehaviour, word: str
) -> None:
    accepted(carrier, order())
    before = len(stand_in.calls)
    stand_in.next_look_answers.append(odd)
    with pytest.raises(CarrierAway) as away:
        QUESTIONS[question](carrier)
    assert word in away.value.problem
    assert away.value.where == "carrier texts"
    assert away.value.remedy
    assert len(stand_in.calls) == before + 1
    QUESTIONS[question](carrier)


def test_wrong_credentials_are_told_with_the_cure(stand_in: CarrierStandIn) -> None:
    settings = CarrierSettings(name="texts", account=ACCOUNT, sender=GATEWAY, token="mistyped", base_url=stand_in.url)
    with pytest.raises(CarrierAway) as away:
        TwilioCarrier(settings).poll(NIGHT)
    assert "20003" in away.value.problem
    assert "token" in away.value.remedy
    assert "mistyped" not in str(away.value)


def test_a_text_the_carrier_does_not_know_is_told_with_its_code(carrier: TwilioCarrier) -> None:
    with pytest.raises(CarrierAway) as away:
        carrier.status("SM" + "f" * 32)
    assert "20404" in away.value.problem


def test_an_away_carrier_is_told_without_numbers(stand_in: CarrierStandIn, carrier: TwilioCarrier) -> None:
    stand_in.close()
    with pytest.raises(CarrierAway) as away:
        carrier.poll(NIGHT)
    assert "7700900" not in str(away.value)
