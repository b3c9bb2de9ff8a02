"""The embedded broker: a real one, on loopback only, that leaves nothing behind."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import paho.mqtt.client as mqtt
import pytest
from paho.mqtt.enums import CallbackAPIVersion

from gateway.demo import broker as broker_file
from gateway.demo.broker import BrokerMissing, EmbeddedBroker, Kind, kinds_here, mosquitto_program

KINDS: tuple[Kind, ...] = ("iotcore",) if os.environ.get("HEAVINGLINE_WITHOUT_MOSQUITTO") else ("mosquitto", "iotcore")
each_kind = pytest.mark.parametrize("kind", KINDS)
HOST = "127.0.0.1"


@pytest.fixture(autouse=True)
def own_temporary_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Temporary folders of the broker lie in here, so that what is left behind is seen."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    yield folder
    assert list(folder.iterdir()) == []


def until(true: Callable[[], bool], within: float = 10.0) -> None:
    deadline = time.monotonic() + within
    while not true():
        assert time.monotonic() < deadline, "not within the deadline"


def answers(port: int, host: str = HOST) -> bool:
    try:
        with socket.create_connection((host, port), timeout=1):
            return True
    except OSError:
        return False


def lives(process: int) -> bool:
    """The process is there and no zombie."""
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def first_heard(port: int, version: int, payload: bytes | None) -> bytes:
    """The first message on topic t, after publishing one to ourselves unless payload is None."""
    got: list[bytes] = []
    client = mqtt.Client(CallbackAPIVersion.VERSION2, protocol=mqtt.MQTTv5 if version == 5 else mqtt.MQTTv311)
    client.on_message = lambda _client, _data, message: got.append(bytes(message.payload))

    def on_connect(*_: object) -> None:
        client.subscribe("t", 1)

    def on_subscribe(*_: object) -> None:
        if payload is not None:
            client.publish("t", payload, qos=1)

    client.on_connect, client.on_subscribe = on_connect, on_subscribe
    client.connect(HOST, port)
    deadline = time.monotonic() + 10
    while not got and time.monotonic() < deadline:
        client.loop(0.1)
    client.disconnect()
    return got[0]


@each_kind
@pytest.mark.parametrize("version", [5, 3])
def test_it_speaks_both_versions_and_takes_more_than_a_megabyte(kind: Kind, version: int) -> None:
    with EmbeddedBroker(kind) as broker:
        assert broker.kind == kind
        payload = bytes(1_100_000)
        assert first_heard(broker.port_for(version), version, payload) == payload


@each_kind
def test_it_listens_on_loopback_only(kind: Kind) -> None:
    with EmbeddedBroker(kind) as broker:
        for port in {broker.port, broker.port_for(3)}:
            wanted = f"{port:04X}"
            rows = [
                row.split() for name in ("tcp", "tcp6") for row in Path(f"/proc/net/{name}").read_text().splitlines()
            ]
            listening = [row[1] for row in rows if row[1].endswith(f":{wanted}") and row[3] == "0A"]
            assert listening == [f"0100007F:{wanted}"]  # 127.0.0.1 as proc(5) writes it


@each_kind
def test_stopping_ends_the_process_and_frees_the_port(kind: Kind) -> None:
    broker = EmbeddedBroker(kind).start()
    process = broker.process
    assert lives(process)
    broker.stop()
    broker.stop()
    assert not broker.is_running
    assert not lives(process)
    assert not answers(broker.port)


@each_kind
def test_it_comes_back_on_the_same_port_after_a_kill_and_after_a_stop(kind: Kind) -> None:
    with EmbeddedBroker(kind) as broker:
        port = broker.port
        broker.kill()
        assert not answers(port)
        broker.start()
        assert (broker.port, answers(port)) == (port, True)
        broker.stop()
        broker.start()
        assert (broker.port, answers(port)) == (port, True)


@each_kind
def test_it_dies_with_a_parent_that_is_killed(kind: Kind, own_temporary_folder: Path) -> None:
    program = (
        "import sys, time; from gateway.demo.broker import EmbeddedBroker\n"
        f"broker = EmbeddedBroker({kind!r}).start(); print(broker.process, broker.port, flush=True)\n"
        "sys.stdin.read()"
    )
    root = str(Path(broker_file.__file__).parents[2])
    parent = subprocess.Popen(
        [sys.executable, "-c", program],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": root, "TMPDIR": str(own_temporary_folder)},
    )
    assert parent.stdout is not None
    assert parent.stdin is not None
    process, port = map(int, parent.stdout.readline().split())
    assert answers(port)
    parent.send_signal(signal.SIGKILL)
    parent.wait()
    parent.stdout.close()
    parent.stdin.close()
    until(lambda: not lives(process))
    until(lambda: not answers(port))
    for left in own_temporary_folder.iterdir():  # a killed program cannot tidy up; the test does it for it
        for file in left.iterdir():
            file.unlink()
        left.rmdir()


@pytest.mark.skipif("mosquitto" not in KINDS, reason="the runner has asked for tests without mosquitto")
def test_a_folder_keeps_what_mosquitto_was_given(tmp_path: Path) -> None:
    with EmbeddedBroker("mosquitto", keep=tmp_path / "kept") as broker:
        client = mqtt.Client(CallbackAPIVersion.VERSION2)
        client.connect(HOST, broker.port)
        client.loop_start()
        client.publish("t", "kept", qos=1, retain=True).wait_for_publish(10)
        client.disconnect()
        client.loop_stop()
        until((tmp_path / "kept" / "mosquitto.db").exists)
        broker.kill()
        broker.start()
        assert first_heard(broker.port, 5, None) == b"kept"


def test_any_takes_mosquitto_where_it_is_and_iotcore_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    assert EmbeddedBroker("any").kind == kinds_here()[0]
    monkeypatch.setattr(broker_file, "mosquitto_program", lambda: None)
    assert EmbeddedBroker("any").kind == "iotcore"


def test_mosquitto_is_found_in_sbin_where_debian_puts_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    looked: list[str | None] = []

    def which(_name: str, path: str | None = None) -> str | None:
        looked.append(path)
        return None if path is None else "/usr/sbin/mosquitto"

    monkeypatch.setattr(shutil, "which", which)
    assert mosquitto_program() == "/usr/sbin/mosquitto"
    assert looked[1] is not None
    assert looked[1].split(":")[0] == "/usr/sbin"


def test_a_kind_that_is_not_here_is_refused_with_what_to_do(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(broker_file, "mosquitto_program", lambda: None)
    with pytest.raises(BrokerMissing, match="apt install mosquitto"):
        EmbeddedBroker("mosquitto")
    with pytest.raises(BrokerMissing, match="keeps nothing on disk"):
        EmbeddedBroker("any", keep=tmp_path)
    monkeypatch.setattr(broker_file, "find_spec", lambda _name: None)
    with pytest.raises(BrokerMissing, match="pip install iotcore"):
        EmbeddedBroker("any")


@pytest.mark.skipif("mosquitto" not in KINDS, reason="the runner has asked for tests without mosquitto")
def test_a_broker_that_will_not_start_says_its_last_words() -> None:
    broker = EmbeddedBroker("mosquitto", more_lines=["no_such_setting true"])
    with pytest.raises(BrokerMissing, match="no_such_setting"):
        broker.start()
    broker.stop()


def test_the_port_is_unknown_before_the_start() -> None:
    with pytest.raises(BrokerMissing, match="has not been started"):
        _ = EmbeddedBroker("iotcore").port


@pytest.mark.parametrize("kind", KINDS)
def test_nobody_else_is_given_its_ports_also_while_it_is_down(kind: Kind) -> None:
    with EmbeddedBroker(kind) as broker:
        ports = {broker.port, broker.port_for(3)}
        broker.kill()
        for port in ports:
            with socket.socket() as other, pytest.raises(OSError, match="in use"):
                other.bind(("127.0.0.1", port))
        broker.start()
        assert {broker.port, broker.port_for(3)} == ports
