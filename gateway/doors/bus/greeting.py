"""What we tell a broker on coming in: who we are, that it shall keep our session, our last will."""

import socket
import ssl
from typing import cast

import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion
from paho.mqtt.packettypes import PacketTypes
from paho.mqtt.properties import Properties

from gateway.doors.bus.intake import RECEIVE_WINDOW
from gateway.doors.faces import BrokerSettings, kind_and_place

CONNECT_WITHIN = 5.0  # seconds for TCP and again for TLS; paho's own default
LARGEST_PACKET = 2 * 1024 * 1024
"""Bytes of the largest packet a broker may send us (MQTT 5). It must drop a larger one unseen (MQTT 5.0, 3.1.2.11.4;
mosquitto does, iotcore sends it all the same): one of 256 MB, which MQTT allows, would end the process, and with it
the watch over every other boat. Our choice; no boat sends a megabyte."""
CLOCK_ERRORS = {9: "not valid yet", 10: "expired"}  # OpenSSL's X509_V_ERR numbers for a date not yet come, and past


def presence_topic(settings: BrokerSettings) -> str:
    """Where it stands, retained, whether this gateway is there: `{"state":"here"}` or `{"state":"away"}`."""
    return f"heavingline/{settings.client_id}/presence"


def here_word() -> str:
    """The payload while we are connected."""
    return '{"state":"here"}'


def away_word() -> str:
    """The payload after we left; also the last will, which the broker publishes when we vanish."""
    return '{"state":"away"}'


def fresh_client(settings: BrokerSettings) -> mqtt.Client:
    """A client for one connection: persistent session, manual acknowledgement, a retained last will, no threads."""
    client = mqtt.Client(
        CallbackAPIVersion.VERSION2,
        client_id=settings.client_id,
        protocol=mqtt.MQTTv5 if settings.version == 5 else mqtt.MQTTv311,
        clean_session=None if settings.version == 5 else False,
        manual_ack=True,
        reconnect_on_failure=False,
    )
    client.suppress_exceptions = True  # else one error in a callback would end the reading (measured)
    client.connect_timeout = CONNECT_WITHIN
    client.max_inflight_messages = 0  # never hold a message back for later: the link counts what is unanswered
    client.will_set(presence_topic(settings), away_word(), qos=1, retain=True)
    if settings.user is not None:
        client.username_pw_set(settings.user, settings.password)
    return client


def knock(client: mqtt.Client, settings: BrokerSettings) -> socket.socket:
    """Open TCP and TLS and queue CONNECT; the socket. Blocks, so it runs in a worker. Raises OSError, ssl's too."""
    # With this callback in place CONNECT is queued and not sent from the worker.
    client.on_socket_register_write = lambda _client, _data, _sock: None
    secure(client, settings)
    if settings.version == 5:
        client.connect(
            settings.host,
            settings.port,
            settings.keepalive,
            clean_start=False,
            properties=_connect_properties(settings),
        )
    else:
        client.connect(settings.host, settings.port, settings.keepalive)
    sock = cast(socket.socket, client.socket())
    # A noisy run without it showed p99 249 ms against 13 ms (measured); paho does not set it.
    sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    return sock


def secure(client: mqtt.Client, settings: BrokerSettings) -> None:
    """Ask for TLS where the installation names a CA file. Raises OSError, ssl's too."""
    if settings.ca_file is not None:
        context = ssl.create_default_context(cafile=settings.ca_file)
        context.sslsocket_class = _TidySocket
        client.tls_set_context(context)


class _TidySocket(ssl.SSLSocket):
    """Closes itself when the handshake fails; paho would leave it open."""

    def do_handshake(self, block: bool = False) -> None:
        try:
            super().do_handshake(block)
        except BaseException:
            self.close()
            raise


def in_words(error: Exception, settings: BrokerSettings) -> str:
    """Why no connection came about, for the installer."""
    where = f"{settings.host}:{settings.port}"
    if isinstance(error, ssl.SSLCertVerificationError):
        by_clock = CLOCK_ERRORS.get(error.verify_code)
        if by_clock:
            return f"{where}: the broker's certificate is {by_clock} at this machine's clock; check the clock first"
        return f"{where}: the broker's certificate was not accepted: {error.verify_message}"
    if isinstance(error, ssl.SSLError):
        return f"{where}: no TLS with the broker: {error.reason or error}; is this its TLS port, and the CA file right"
    if isinstance(error, FileNotFoundError) and settings.ca_file is not None:
        return f"{where}: the CA file {settings.ca_file} is not there"
    if isinstance(error, OSError):
        return f"{where}: {error.strerror or error or type(error).__name__}"
    return f"{where}: {kind_and_place(error)}"


def _connect_properties(settings: BrokerSettings) -> Properties:
    properties = Properties(PacketTypes.CONNECT)  # type: ignore[no-untyped-call]  # paho gives it no types
    properties.SessionExpiryInterval = settings.session_expiry  # absent means 0: no session (MQTT 5.0, 3.1.2.11.2)
    properties.ReceiveMaximum = RECEIVE_WINDOW
    properties.MaximumPacketSize = LARGEST_PACKET
    return properties
