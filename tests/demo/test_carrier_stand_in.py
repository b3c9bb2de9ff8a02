"""The pretend carrier, seen from the wire: what it takes, what it refuses, what it remembers."""

import base64
import http.client
import inspect
import json
import threading
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode, urlsplit

import pytest
from twilio.rest.api.v2010.account.message import MessageList

from gateway.demo.carrier_form import FIELDS, FILTERS
from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.carrier_stand_in import CarrierStandIn, SentText
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, from_rfc3339

ACCOUNT, TOKEN = "AC" + "0" * 32, "a token of the pretend carrier"
GATEWAY, INES, TOBIAS = "+447700900900", "+447700900123", "+447700900456"
BASE = f"/2010-04-01/Accounts/{ACCOUNT}/Messages"
NIGHT = from_rfc3339("2026-03-01T02:14:00Z")
FIRST = "SM" + "0" * 31 + "1"
GOOD = {"To": INES, "From": GATEWAY, "Body": "GREY WAGTAIL: water down"}


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
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=GATEWAY, now=clock) as server:
        yield server


def call(
    stand_in: CarrierStandIn,
    method: str,
    path: str,
    form: dict[str, Any] | bytes | None = None,
    *,
    login: str = f"{ACCOUNT}:{TOKEN}",
    content: str = "application/x-www-form-urlencoded",
) -> tuple[int, Any, http.client.HTTPMessage]:
    """One raw call; status, JSON, header lines."""
    line = http.client.HTTPConnection(urlsplit(stand_in.url).netloc, timeout=5)
    headers = {"Authorization": "Basic " + base64.b64encode(login.encode()).decode(), "Content-Type": content}
    body = urlencode(form, doseq=True).encode() if isinstance(form, dict) else form
    try:
        line.request(method, path, body=body, headers=headers)
        answer = line.getresponse()
        return answer.status, json.loads(answer.read()), answer.headers
    finally:
        line.close()


def create(stand_in: CarrierStandIn, **changed: Any) -> tuple[int, Any]:
    form = {name: value for name, value in (GOOD | changed).items() if value is not None}
    return call(stand_in, "POST", f"{BASE}.json", form)[:2]


# ---------------------------------------------------------------- creating


def test_a_text_is_created_and_shown_with_the_fields_of_the_carrier(stand_in: CarrierStandIn) -> None:
    status, text = create(stand_in)
    assert status == 201
    assert text == {
        "account_sid": ACCOUNT,
        "api_version": "2010-04-01",
        "body": "GREY WAGTAIL: water down",
        "date_created": "Sun, 01 Mar 2026 02:14:00 +0000",
        "date_sent": None,
        "date_updated": "Sun, 01 Mar 2026 02:14:00 +0000",
        "direction": "outbound-api",
        "error_code": None,
        "error_message": None,
        "from": GATEWAY,
        "messaging_service_sid": None,
        "num_media": "0",
        "num_segments": "1",
        "price": None,
        "price_unit": "USD",
        "sid": FIRST,
        "status": "queued",
        "subresource_uris": {"media": f"{BASE}/{FIRST}/Media.json"},
        "to": INES,
        "uri": f"{BASE}/{FIRST}.json",
    }
    assert [sent.body for sent in stand_in.sent] == ["GREY WAGTAIL: water down"]


def test_the_table_holds_exactly_the_fields_that_the_client_can_send() -> None:
    """25 of the carrier's description and MessageIntent, against the parameters of the client package."""
    parameters = set(inspect.signature(MessageList.create).parameters) - {"self"}
    assert set(FIELDS) == {"".join(word.capitalize() for word in name.split("_")) for name in parameters}
    assert len(FIELDS) == 26


def test_the_filters_are_exactly_those_that_the_client_can_send() -> None:
    parameters = set(inspect.signature(MessageList.page).parameters) - {"self"}
    as_sent = {"date_sent_before": "DateSent<", "date_sent_after": "DateSent>", "page_number": "Page"}
    named = {as_sent.get(name, "".join(word.capitalize() for word in name.split("_"))) for name in parameters}
    assert named == set(FILTERS)


SERVICE, RESOURCE = "MG" + "a" * 32, "HX" + "b" * 32
TAKEN_AND_REFUSED: list[tuple[str, list[Any], list[Any]]] = [
    ("To", [INES, "+12025550123"], ["", "07700900123", "+0447700900123", "+44 7700 900123", "+" + "4" * 16, "ines"]),
    ("From", [GATEWAY], ["", "boat", "447700900900"]),
    ("MessagingServiceSid", [SERVICE], ["", "MG1", "SM" + "a" * 32]),
    ("Body", ["x", "x" * 1600, "\u2019" * 1600], ["x" * 1601]),
    ("MediaUrl", ["https://example.com/a.png", ["https://example.com/a", "https://example.com/b"]], ["a.png", ""]),
    ("ContentSid", [RESOURCE], ["HX", ""]),
    ("ContentVariables", ['{"1": "a"}'], ["[1]", "{", ""]),
    (
        "StatusCallback",
        ["https://hooks.example.com/a_b"],
        ["/hook", "https://my_host.example.com/", "ftp://example.com"],
    ),
    ("ApplicationSid", ["AP" + "c" * 32], ["APPLICATION"]),
    ("MaxPrice", ["0.05", "1"], ["cheap", "-1", "1e3"]),
    ("ProvideFeedback", ["true", "false"], ["True", "1", ""]),
    ("Attempt", ["1", "3"], ["0", "first", "1.5"]),
    ("ValidityPeriod", ["1", "900", "36000"], ["0", "36001", "15 min", "600.0", "", "-5", "\u0661"]),
    ("ForceDelivery", ["true"], ["yes"]),
    ("ContentRetention", ["retain", "discard"], ["forget"]),
    ("AddressRetention", ["retain", "obfuscate"], ["discard"]),
    ("SmartEncoded", ["true"], ["on"]),
    ("PersistentAction", ["geo:1,2", ["a", "b"]], ["x" * 1601]),
    ("TrafficType", ["free"], ["paid"]),
    ("ShortenUrls", ["false"], ["no"]),
    ("ScheduleType", ["fixed"], ["daily"]),
    ("SendAt", ["2026-03-01T08:00:00Z"], ["08:00", "2026-03-01T08:00:00", "tomorrow"]),
    ("SendAsMms", ["false"], ["0"]),
    ("RiskCheck", ["enable", "disable"], ["off"]),
    ("FallbackFrom", ["+447700900901"], ["office"]),
    ("MessageIntent", ["notifications", "security"], ["alarm", "Security", ""]),
]
NEED_A_SERVICE = {"ShortenUrls", "ScheduleType", "SendAt", "FallbackFrom"}


def test_every_field_of_the_table_is_tried() -> None:
    assert {row[0] for row in TAKEN_AND_REFUSED} == set(FIELDS)


@pytest.mark.parametrize(("name", "taken", "refused"), TAKEN_AND_REFUSED, ids=[row[0] for row in TAKEN_AND_REFUSED])
def test_each_field_takes_what_the_description_allows_and_nothing_else(
    stand_in: CarrierStandIn, name: str, taken: list[Any], refused: list[Any]
) -> None:
    service = {"MessagingServiceSid": SERVICE} if name in NEED_A_SERVICE else {}
    for value in taken:
        assert create(stand_in, **service, **{name: value})[0] == 201, value
    for value in refused:
        status, error = create(stand_in, **service, **{name: value})
        assert (status, error["status"]) == (400, 400), value
        assert name in error["message"]
        assert isinstance(error["code"], int)
        assert error["more_info"].endswith(str(error["code"]))
    assert len(stand_in.sent) == len(taken)


@pytest.mark.parametrize(
    ("changed", "code", "word"),
    [
        ({"Too": INES}, 20001, "no parameter Too"),
        ({"body": "lower case"}, 20001, "no parameter body"),
        ({"Body": ["one", "two"]}, 20001, "2 times"),
        ({"To": [INES, TOBIAS]}, 20001, "2 times"),
        ({"To": None}, 21604, "To is required"),
        ({"To": "07700900123"}, 21211, "E.164"),
        ({"From": None}, 21603, "From and MessagingServiceSid"),
        ({"From": "+447700900901"}, 21606, "not a number of this account"),
        ({"Body": None}, 21602, "Body, MediaUrl and ContentSid"),
        ({"Body": ""}, 21602, "Body, MediaUrl and ContentSid"),
        ({"Body": "x" * 1601}, 21617, "1600"),
        ({"ValidityPeriod": "36001"}, 90007, "36000"),
        ({"SendAt": "2026-03-01T08:00:00Z"}, 20001, "needs MessagingServiceSid"),
    ],
)
def test_a_form_that_is_wrong_as_a_whole_is_refused_with_the_carriers_code(
    stand_in: CarrierStandIn, changed: dict[str, Any], code: int, word: str
) -> None:
    status, error = create(stand_in, **changed)
    assert (status, error["code"]) == (400, code)
    assert word in error["message"]
    assert stand_in.sent == ()


@pytest.mark.parametrize(
    ("body", "content"),
    [
        (json.dumps(GOOD).encode(), "application/json"),
        (b"To=%FF%FE&From=x", "application/x-www-form-urlencoded"),
        (b"To", "application/x-www-form-urlencoded"),
        (b"x" * 200_000, "application/x-www-form-urlencoded"),
        (b"", "application/x-www-form-urlencoded"),
    ],
)
def test_what_is_no_form_is_refused(stand_in: CarrierStandIn, body: bytes, content: str) -> None:
    assert call(stand_in, "POST", f"{BASE}.json", body, content=content)[0] == 400


@pytest.mark.parametrize("login", ["", f"{ACCOUNT}:", f"{ACCOUNT}:wrong", f":{TOKEN}", f"{ACCOUNT}:{TOKEN}x"])
def test_without_the_right_credentials_nothing_is_done(stand_in: CarrierStandIn, login: str) -> None:
    for method, path, form in (("POST", f"{BASE}.json", GOOD), ("GET", f"{BASE}.json", None)):
        status, error, headers = call(stand_in, method, path, form, login=login)
        assert (status, error["code"], error["status"]) == (401, 20003, 401)
        assert headers["WWW-Authenticate"].startswith("Basic")
    assert stand_in.sent == ()


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/"),
        ("GET", "/2010-04-01/Accounts/AC1/Messages.json"),
        ("GET", f"{BASE}/{FIRST}.json"),
        ("GET", f"{BASE}"),
        ("DELETE", f"{BASE}/{FIRST}.json"),
        ("POST", "/2010-04-01/Accounts"),
    ],
)
def test_an_address_that_is_not_known_is_answered_404(stand_in: CarrierStandIn, method: str, path: str) -> None:
    status, error, _ = call(stand_in, method, path, {} if method == "POST" else None)
    assert (status, error["code"]) == (404, 20404)


# ---------------------------------------------------------------- clock, ids, listeners


def test_dates_and_the_date_header_follow_the_clock_that_was_handed_in(stand_in: CarrierStandIn, clock: Clock) -> None:
    create(stand_in)
    clock.now += 5 * HOUR + 300
    _, text, headers = call(stand_in, "GET", f"{BASE}/{FIRST}.json")
    assert headers["Date"] == "Sun, 01 Mar 2026 07:14:00 GMT"
    assert text["date_created"] == "Sun, 01 Mar 2026 02:14:00 +0000"
    assert text["date_sent"] == text["date_updated"] == "Sun, 01 Mar 2026 07:14:00 +0000"


def test_two_runs_say_the_same_to_the_letter() -> None:
    def run() -> list[Any]:
        with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=GATEWAY, now=lambda: NIGHT) as server:
            server.text_in(INES, "have it 14", NIGHT)
            said = [create(server), create(server, To=TOBIAS), call(server, "GET", f"{BASE}.json")[:2]]
            return [said, server.sent]

    assert run() == run()


def test_whoever_listens_hears_of_a_text_before_the_gateway_has_its_answer_and_may_answer_it(
    stand_in: CarrierStandIn,
) -> None:
    heard: list[tuple[SentText, bool]] = []

    def phone(text: SentText) -> None:
        heard.append((text, stand_in.quiet()))
        stand_in.text_in(text.number, "have it 14", NIGHT)

    stand_in.on_sent(phone)
    create(stand_in)
    assert [(text.number, quiet) for text, quiet in heard] == [(INES, False)]
    assert [text["direction"] for text in listed(stand_in)] == ["inbound", "outbound-api"]


def test_a_text_put_off_until_morning_reaches_no_phone(stand_in: CarrierStandIn) -> None:
    heard: list[SentText] = []
    stand_in.on_sent(heard.append)
    stand_in.next_answers.append(Misbehaviour.HELD)
    assert create(stand_in)[1]["status"] == "scheduled"
    assert (heard, stand_in.sent) == ([], ())


def test_it_is_quiet_again_when_a_caller_that_got_no_answer_hangs_up(stand_in: CarrierStandIn) -> None:
    taken = threading.Event()
    stand_in.on_sent(lambda _: taken.set())
    stand_in.next_answers.append(Misbehaviour.SILENT_AFTER_ACTING)
    line = http.client.HTTPConnection(urlsplit(stand_in.url).netloc, timeout=5)
    login = "Basic " + base64.b64encode(f"{ACCOUNT}:{TOKEN}".encode()).decode()
    headers = {"Authorization": login, "Content-Type": "application/x-www-form-urlencoded"}
    line.request("POST", f"{BASE}.json", body=urlencode(GOOD), headers=headers)
    assert taken.wait(5)
    assert not stand_in.quiet()
    line.close()
    stand_in.close()  # waits for every thread
    assert stand_in.quiet()


def test_closing_ends_a_call_that_gets_no_answer(stand_in: CarrierStandIn) -> None:
    taken = threading.Event()
    stand_in.on_sent(lambda _: taken.set())
    stand_in.next_answers.append(Misbehaviour.SILENT_AFTER_ACTING)
    ended: list[type[BaseException]] = []

    def caller() -> None:
        try:
            create(stand_in)
        except (http.client.HTTPException, OSError) as cut:
            ended.append(type(cut))

    thread = threading.Thread(target=caller)
    thread.start()
    assert taken.wait(5)
    stand_in.close()
    thread.join(5)
    assert ended == [http.client.RemoteDisconnected]


# ---------------------------------------------------------------- lists


def listed(stand_in: CarrierStandIn, **filters: str) -> list[Any]:
    query = urlencode({name.replace("_after", ">").replace("_before", "<"): value for name, value in filters.items()})
    status, body, _ = call(stand_in, "GET", f"{BASE}.json?{query}")
    assert status == 200
    found: list[Any] = body["messages"]
    return found


def test_a_list_is_narrowed_by_who_to_whom_and_day(stand_in: CarrierStandIn) -> None:
    for at, body in ((NIGHT - 26 * HOUR, "two days"), (NIGHT - 3 * HOUR, "one day"), (NIGHT, "today")):
        stand_in.text_in(INES, body, at)
    stand_in.text_in(TOBIAS, "other", NIGHT)

    def bodies(**filters: str) -> list[str]:
        return [text["body"] for text in listed(stand_in, **filters)]

    assert bodies() == ["other", "today", "one day", "two days"]
    assert bodies(From=INES) == ["today", "one day", "two days"]
    assert bodies(To=INES) == []
    assert bodies(From=INES, DateSent="2026-02-28") == ["one day", "two days"]
    assert bodies(From=INES, DateSent_before="2026-02-28") == ["one day", "two days"]
    assert bodies(From=INES, DateSent_after="2026-03-01") == ["today"]
    assert bodies(From=INES, DateSent_after="2026-02-28T23:59:00Z") == ["today", "one day", "two days"]  # days count


def test_a_text_of_ours_passes_a_date_filter_only_after_it_has_left(stand_in: CarrierStandIn) -> None:
    create(stand_in)
    assert listed(stand_in, To=INES, DateSent="2026-03-01") == []
    call(stand_in, "GET", f"{BASE}/{FIRST}.json")
    assert [text["status"] for text in listed(stand_in, To=INES, DateSent="2026-03-01")] == ["delivered"]


def test_pages_follow_one_another_by_the_address_of_the_next_and_keep_the_filters(stand_in: CarrierStandIn) -> None:
    for n in range(5):
        stand_in.text_in(INES, f"text {n}", NIGHT + n * SECOND)
        stand_in.text_in(TOBIAS, "other", NIGHT)
    uri = f"{BASE}.json?" + urlencode({"From": INES, "PageSize": 2})
    pages = []
    while uri:
        _, body, _ = call(stand_in, "GET", uri)
        pages.append([text["body"] for text in body["messages"]])
        assert (body["page"], body["page_size"], body["start"]) == (len(pages) - 1, 2, 2 * len(pages) - 2)
        uri = body["next_page_uri"]
    assert pages == [["text 4", "text 3"], ["text 2", "text 1"], ["text 0"]]
    assert body["previous_page_uri"]


def test_a_page_holds_fifty_unless_asked_otherwise(stand_in: CarrierStandIn) -> None:
    for n in range(51):
        stand_in.text_in(INES, f"text {n}", NIGHT)
    assert len(listed(stand_in)) == 50


@pytest.mark.parametrize(
    "query",
    [
        "Direction=inbound",
        "PageSize=0",
        "PageSize=1001",
        "DateSent=yesterday",
        "DateSent%3E=2026-13-01",
        "To=ines",
        "To",
    ],
)
def test_a_filter_that_the_carrier_does_not_have_is_refused(stand_in: CarrierStandIn, query: str) -> None:
    assert call(stand_in, "GET", f"{BASE}.json?{query}")[0] == 400


# ---------------------------------------------------------------- what becomes of a text


def test_a_waiting_text_has_been_delivered_when_it_is_asked_for(stand_in: CarrierStandIn) -> None:
    create(stand_in)
    assert call(stand_in, "GET", f"{BASE}/{FIRST}.json")[1]["status"] == "delivered"


def test_a_phone_that_is_off_leaves_it_undelivered_with_the_carriers_code_as_a_number(stand_in: CarrierStandIn) -> None:
    stand_in.phone_off(INES)
    create(stand_in)
    text = call(stand_in, "GET", f"{BASE}/{FIRST}.json")[1]
    assert (text["status"], text["error_code"]) == ("undelivered", 30003)


def test_only_a_text_put_off_can_be_withdrawn(stand_in: CarrierStandIn) -> None:
    stand_in.next_answers.append(Misbehaviour.HELD)
    create(stand_in)
    create(stand_in)
    first, second = (f"{BASE}/SM{n:032x}.json" for n in (1, 2))
    assert call(stand_in, "POST", first, {"Status": "canceled"})[1]["status"] == "canceled"
    assert call(stand_in, "POST", second, {"Status": "canceled"})[0] == 400
    assert call(stand_in, "POST", first, {"Status": "delivered"})[0] == 400
    assert call(stand_in, "POST", first, {"Body": ""})[0] == 400
    assert call(stand_in, "POST", f"{BASE}/SM9.json", {"Status": "canceled"})[0] == 404


# The carrier's own lists (its pages on opt-out, read for this project).
OPT_OUT = ["STOP", "stopall", "Unsubscribe", "CANCEL", "end", "quit", "Revoke", "OPTOUT", "  stop \n"]
OPT_IN = ["START", "yes", "Unstop"]


@pytest.mark.parametrize("word", OPT_OUT)
@pytest.mark.parametrize("back", OPT_IN)
def test_a_phone_that_texts_an_opt_out_word_is_cut_off_until_it_texts_an_opt_in_word(
    stand_in: CarrierStandIn, word: str, back: str
) -> None:
    stand_in.text_in(INES, word, NIGHT)
    status, error = create(stand_in)
    assert (status, error["code"]) == (400, 21610)
    assert create(stand_in, To=TOBIAS)[0] == 201
    stand_in.text_in(INES, back, NIGHT + MINUTE)
    assert create(stand_in)[0] == 201
    assert [text["body"] for text in listed(stand_in, From=INES)] == [back, word]  # the words reach the list as well


@pytest.mark.parametrize(
    "body", ["stop please", "generator stop", "don't stop", "stop.", "", "help", "drop teapot marble"]
)
def test_a_text_that_only_holds_such_a_word_cuts_nobody_off(stand_in: CarrierStandIn, body: str) -> None:
    stand_in.text_in(INES, body, NIGHT)
    assert create(stand_in)[0] == 201
