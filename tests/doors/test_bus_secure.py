"""TLS, user and password. The certificates are our own, made for these tests and good for nothing else."""

import asyncio
import ssl
import subprocess
from functools import partial
from pathlib import Path

import pytest

from gateway.demo.broker import EmbeddedBroker
from tests.benchmarks.bare_reader import PUBACK
from tests.doors.brokers import KINDS, Outsider, ScriptedBroker, ear, raw_publish, settings, until

CERTIFICATES = Path(__file__).parent / "certificates"
CA = str(CERTIFICATES / "broker.pem")

on_mosquitto = pytest.mark.skipif("mosquitto" not in KINDS, reason="the runner has asked for tests without mosquitto")


def tls(certificate: str = "broker.pem") -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(CERTIFICATES / certificate, CERTIFICATES / "broker.key")
    return context


@on_mosquitto
@pytest.mark.parametrize("version", [5, 3])
def test_tls_with_user_and_password_on_a_real_broker(version: int, tmp_path: Path) -> None:
    passwords = tmp_path / "passwords"
    subprocess.run(
        ["mosquitto_passwd", "-c", "-b", str(passwords), "gateway", "open sesame"], check=True, capture_output=True
    )
    lines = [
        f"certfile {CERTIFICATES / 'broker.pem'}",
        f"keyfile {CERTIFICATES / 'broker.key'}",
        "allow_anonymous false",
        f"password_file {passwords}",
    ]

    async def run() -> None:
        with EmbeddedBroker("mosquitto", more_lines=lines) as broker:
            known = partial(ear, broker.port, ["alarm"], client_id="gw", version=version, ca_file=CA, user="gateway")
            async with known(password="open sesame") as one:
                assert await one.bus.publish("alarm", "heard", retain=False, expires_after=None)
                await one.hear(1)
            async with known(password="wrong", wait=False) as one:
                assert "Not authorized" in (await one.told(up=False)).detail
            async with ear(broker.port, ["alarm"], client_id="gw", version=version, wait=False) as one:
                await one.told(up=False)  # no TLS at a TLS port

    asyncio.run(run())


@pytest.mark.parametrize("version", [5, 3])
def test_many_messages_in_one_tls_record_are_all_read_at_once(version: int) -> None:
    # TLS has then decrypted what the socket no longer shows: waiting for the socket would leave them lying.
    count = 3_000

    async def run() -> None:
        async with (
            ScriptedBroker(version, context=tls()) as broker,
            ear(broker.port, ["#"], client_id="gw", version=version, ca_file=CA) as one,
        ):
            broker.send(b"".join(raw_publish(b"t", b"%d" % n, n + 1, version) for n in range(count)))
            await one.hear(count)
            assert one.payloads == [str(n) for n in range(count)]
            one.bus.acknowledge(one.messages)
            await until(lambda: broker.count(PUBACK) == count)

    asyncio.run(run())


@pytest.mark.parametrize(("certificate", "words"), [("expired.pem", "expired"), ("early.pem", "not valid yet")])
def test_a_certificate_outside_its_dates_is_told_as_a_matter_of_the_clock(certificate: str, words: str) -> None:
    async def run() -> None:
        async with (
            ScriptedBroker(context=tls(certificate)) as broker,
            ear(broker.port, ["#"], client_id="gw", ca_file=str(CERTIFICATES / certificate), wait=False) as one,
        ):
            detail = (await one.told(up=False)).detail
            assert f"certificate is {words} at this machine's clock" in detail

    asyncio.run(run())


def test_a_certificate_of_somebody_else_is_refused() -> None:
    async def run() -> None:
        async with (
            ScriptedBroker(context=tls()) as broker,
            ear(broker.port, ["#"], client_id="gw", ca_file=str(CERTIFICATES / "expired.pem"), wait=False) as one,
        ):
            assert "certificate was not accepted" in (await one.told(up=False)).detail
            assert broker.packets == []  # nothing of ours was shown to it

    asyncio.run(run())


def test_a_port_without_tls_is_told_as_such() -> None:
    async def run() -> None:
        async with (
            ScriptedBroker(answer=lambda *_: b"\x20\x02\x00\x00") as broker,
            ear(broker.port, ["#"], client_id="gw", ca_file=CA, wait=False) as one,
        ):
            await until(lambda: broker.connections >= 1)
            broker.send(b"no TLS here, but a line of text")
            assert "is this its TLS port" in (await one.told(up=False)).detail

    asyncio.run(run())


def test_the_password_is_never_printed() -> None:
    assert "sesame" not in repr(settings(1, client_id="gw", user="gateway", password="open sesame"))


@on_mosquitto
def test_a_message_too_large_for_us_is_kept_away_and_the_next_one_comes() -> None:
    async def run() -> None:
        with EmbeddedBroker("mosquitto") as broker:
            async with ear(broker.port, ["alarm"], client_id="gw") as one:
                with Outsider(broker.port) as sender:
                    await asyncio.to_thread(sender.publish, "alarm", bytes(3 * 1024 * 1024))
                    sender.publish("alarm", "afterwards")
                await one.hear(1)
                assert one.payloads == ["afterwards"]

    asyncio.run(run())
