"""What an unforeseen error says of itself stays out of the record, the topic of trouble and the log: it may repeat a
password, a number or a code."""

from dataclasses import replace

import pytest

from gateway.doors.bus.greeting import fresh_client, in_words
from gateway.doors.faces import BrokerSettings, CarrierSettings, MailSettings, kind_and_place

QUAY = BrokerSettings(name="quay", host="127.0.0.1", port=1883, client_id="gw", user="boats", password="very secret")


CARRIER = CarrierSettings(name="main", account="AC1", sender="+447700900321", token="very secret")
MAIL = MailSettings(host="mail.example.org", port=587, sender="boats@example.org", user="boats", password="very secret")


@pytest.mark.parametrize("settings", [QUAY, CARRIER, MAIL], ids=lambda one: type(one).__name__)
def test_settings_that_are_printed_do_not_show_their_secret(settings: object) -> None:
    assert "very secret" not in f"{settings} {settings!r}"


def failing(words: str) -> None:
    raise ValueError(words)


def test_an_error_is_named_by_its_kind_and_the_place_where_it_arose() -> None:
    with pytest.raises(ValueError, match="very secret") as raised:
        failing("very secret")
    line = failing.__code__.co_firstlineno + 1
    assert kind_and_place(raised.value) == f"ValueError in doors/test_words_left_out.py, line {line}"
    assert kind_and_place(KeyError("+447700900123")) == "KeyError"


def test_a_password_that_the_library_falls_over_is_not_told() -> None:
    odd = replace(QUAY, password="very secret\udcff")
    with pytest.raises(UnicodeEncodeError) as raised:
        fresh_client(odd)
    assert "very secret" in repr(raised.value), "the library's error repeats it"
    assert "very secret" not in in_words(raised.value, odd)
    assert "UnicodeEncodeError" in in_words(raised.value, odd)
