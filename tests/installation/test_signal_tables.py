"""Signal tables proposed from what was heard: they load, and they read what was heard."""

import json
import tomllib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gateway.boat.decoding import decode
from gateway.boat.heard import Heard
from gateway.boat.settings import Signal
from gateway.installation.documents import Document
from gateway.installation.findings import Findings
from gateway.installation.signal_tables import proposed
from gateway.installation.signals import build_signals
from gateway.installation.standards import laid
from gateway.vocabulary.readings import Grade


def heard(topic: str, *payloads: bytes, every: int = 30_000) -> Heard:
    one = Heard(topic=topic)
    for number, payload in enumerate(payloads):
        one.add(payload, retained=False, at=number * every)
    return one


def table(one: Heard, pointer: str = "", boat: str | None = "grey-wagtail", taken: tuple[str, ...] = ()) -> str:
    found = proposed(one, one.pieces[pointer], boat=boat, taken=taken)
    assert found is not None
    return found


def loaded(text: str, boat: str = "grey-wagtail") -> Signal:
    """The signal as the installation's own code builds it from the table."""
    findings = Findings()
    values = tomllib.loads(text)
    # decimals and lines play no part in what is asked here
    document = Document(name="signals.toml", values=values, lines={}, content=text.encode())
    signals = build_signals(boat, laid("signal", boat, "signals.toml", (), document, findings), findings)
    assert findings.mistakes == []
    (signal,) = signals.values()
    assert signal is not None
    return signal


def test_a_number_with_its_unit_below_the_boats_prefix() -> None:
    signal = loaded(table(heard("grey-wagtail/dc/house", b"12.4 V", b"12.3 V")))
    assert (signal.id, signal.topic, signal.unit) == ("grey-wagtail/dc-house", "grey-wagtail/dc/house", "V")
    assert signal.report_interval == 30_000


def test_a_value_inside_json_gets_its_pointer_and_a_name_of_its_own() -> None:
    one = heard("grey-wagtail/dc/house", b'{"voltage": 12.41, "current": -3.2}')
    signal = loaded(table(one, "/current", taken=("dc-house-current",)))
    assert (signal.key, signal.pointer) == ("dc-house-current-2", "/current")


def test_zeros_and_ones_are_taken_for_a_contact_and_the_doubt_is_written_beside() -> None:
    text = table(heard("grey-wagtail/bilge/high", b"0", b"1"))
    assert loaded(text).carries == "contact"
    assert "if it is a number" in text


def test_open_and_closed_are_a_contact_and_which_of_them_is_on_is_asked() -> None:
    text = table(heard("grey-wagtail/hatch", b"open", b"closed"))
    assert loaded(text).carries == "contact"
    assert 'on_words = ["open"]' in text


def test_words_heard_become_the_words_of_the_signal() -> None:
    signal = loaded(table(heard("grey-wagtail/charger/state", b"bulk", b"absorption", b"bulk")))
    assert signal.words == ("bulk", "absorption")


def test_a_position_keeps_the_names_under_which_its_halves_stand() -> None:
    signal = loaded(table(heard("grey-wagtail/gnss", b'{"lat": 50.001, "lon": -5.0005, "hdop": 1.0}')))
    assert (signal.carries, signal.latitude, signal.longitude) == ("position", "/lat", "/lon")


def test_what_changes_its_kind_gets_no_table() -> None:
    one = heard("grey-wagtail/odd", b"12.4", b"on")
    assert proposed(one, one.pieces[""], boat="grey-wagtail", taken=()) is None


def test_what_came_once_gets_an_interval_that_the_installer_is_asked_to_set() -> None:
    text = table(heard("grey-wagtail/tank/fuel", b"62"))
    assert 'report_interval = "1 min"' in text
    assert "to set" in text


@pytest.mark.parametrize(
    ("pause", "interval"), [(900, "1 s"), (10_900, "10 s"), (11_100, "15 s"), (61_000, "1 min"), (3_900_000, "1 h")]
)
def test_the_interval_is_the_next_usual_one_not_shorter_than_the_longest_pause(pause: int, interval: str) -> None:
    assert f'report_interval = "{interval}"' in table(heard("b/x", b"2.5", b"2.6", every=pause), boat="b")


def test_a_topic_of_another_prefix_is_written_whole_and_a_number_is_no_beginning_of_a_name() -> None:
    signal = loaded(table(heard("127508/0", b"12.4"), boat=None))
    assert (signal.topic, signal.key) == ("127508/0", "signal-127508-0")


TOPICS = st.text(st.characters(exclude_characters="+#\x00", exclude_categories=["Cs"]), min_size=1, max_size=20).filter(
    lambda topic: not topic.startswith("$")
)
VALUES = st.sampled_from(
    [
        b"12.4",
        b"on",
        b"REMOTE",
        b"12 V",
        b"55 A",
        b"0",
        b'{"a":{"b":1.5},"c":"x\\"y"}',
        b'{"lat":1,"lng":2}',
        b'[true,"\\u007f"]',
    ]
) | st.text(max_size=12).map(lambda text: json.dumps({text: text}).encode())


@example(topic="b/x", payloads=[b"12 V", b"12.4"])
@example(topic="b/x", payloads=[b"12 V", b"55 A"])
@given(TOPICS, st.lists(VALUES, min_size=1, max_size=3))
def test_every_proposal_loads_and_reads_the_last_payload_heard(topic: str, payloads: list[bytes]) -> None:
    one = heard(topic, *payloads)
    seen = {pointer for pointer, piece in one.pieces.items() if piece.count == len(payloads)}
    for pointer in seen:
        text = proposed(one, one.pieces[pointer], boat=None, taken=())
        if text is None:
            continue
        signal = loaded(text)
        for payload in payloads:
            (reading,) = decode((signal,), payload, retained=False)
            assert reading.grade is not Grade.UNREADABLE, (text, payload)


def test_a_probe_that_has_no_value_now_and_then_is_still_a_number_and_that_is_none_of_its_words() -> None:
    """An unreadable payload is never a value: neither a number nor a word of it (RFC 8259, 6)."""
    text = table(heard("grey-wagtail/cabin", b"NaN", b"12.4", b"null", b"nan", b"12.5"))
    signal = loaded(text)
    assert signal.carries == "number"
    (reading,) = decode((signal,), b"NaN", retained=False)
    assert reading.grade is Grade.UNREADABLE
    words = loaded(table(heard("grey-wagtail/charger", b"bulk", b"None", b"float"))).words
    assert words == ("bulk", "float")
    inside = heard("grey-wagtail/dc", b'{"volts": NaN, "amps": -3.2}', b'{"volts": 12.4, "amps": null}')
    assert [loaded(table(inside, pointer)).carries for pointer in ("/volts", "/amps")] == ["number", "number"]


@pytest.mark.parametrize("payload", [b"NaN", b"null", b"-inf"])
def test_a_topic_that_never_held_a_value_gets_no_table(payload: bytes) -> None:
    one = heard("grey-wagtail/cabin", payload, payload)
    assert proposed(one, one.pieces[""], boat=None, taken=()) is None


@pytest.mark.parametrize(
    ("sample", "raw"), [("65535", "unsigned 16 bit"), ("255", "unsigned 8 bit"), ("-32768", "signed 16 bit")]
)
def test_a_pattern_that_a_bus_holds_for_not_available_is_named_with_its_cure(sample: str, raw: str) -> None:
    """NMEA 2000's topmost, SunSpec's lowest (both from memory)."""
    text = table(heard("grey-wagtail/tank", b"4200", sample.encode()))
    assert f'# {sample} is what a bus holds for "not available"' in text
    cured = loaded(text + f'\nraw = "{raw}"\n')
    (reading,) = decode((cured,), sample.encode(), retained=False)
    assert reading.grade is Grade.UNREADABLE
    assert "not available" not in table(heard("grey-wagtail/tank", b"4200", b"4201"))
