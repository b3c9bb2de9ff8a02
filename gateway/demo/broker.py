"""A real MQTT broker of our own for the demo and the tests: a child process on loopback that leaves nothing behind.

Two kinds. `mosquitto`, where the distribution's package is installed (on PATH, or in /usr/sbin, where Debian puts it
and where an ordinary user's PATH does not look). Else `iotcore`, a wheel with a broker inside, run through a
configuration file, because its own defaults listen on every address, refuse MQTT 5 and cut payloads at 20 KiB
(measured with 0.4.0). Either is started in about 0.1 s. A real installation needs a broker of its own: these two keep
no password and, unless told where, nothing on disk.
"""

import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path
from types import TracebackType
from typing import Literal, Self

Kind = Literal["mosquitto", "iotcore"]

HOST = "127.0.0.1"  # loopback only: the brokers here ask for no password
PAYLOAD_LIMIT = 4 * 1024 * 1024  # bytes; the tests send 1 MB, the rest is room. Our choice
START_WITHIN = 10.0  # seconds; both answer within 0.2 s on an idle machine (measured), the rest is for a busy one
STOP_WITHIN = 5.0  # seconds from SIGTERM to SIGKILL. Our choice
_POLL = 0.005  # seconds between two knocks at the port

# Runs before the broker: ask the kernel to kill us when the parent dies (Linux, prctl(2), PR_SET_PDEATHSIG = 1), leave
# at once when it already has, then become the broker. In a process of its own, because code between fork and exec of
# a program with threads may lock up.
_TIED_TO_PARENT = """
import ctypes, os, signal, sys
if sys.platform == "linux":
    ctypes.CDLL(None).prctl(1, signal.SIGKILL)
if os.getppid() != int(sys.argv[1]):
    sys.exit(1)
os.execv(sys.argv[2], sys.argv[2:])
"""


class BrokerMissing(Exception):
    """The kind of broker asked for is not on this machine, or would not start. The text says what to do."""


def mosquitto_program() -> str | None:
    """Path of the mosquitto program, None when it is not installed."""
    return shutil.which("mosquitto") or shutil.which("mosquitto", path="/usr/sbin:/usr/local/sbin")


def kinds_here() -> tuple[Kind, ...]:
    """The kinds of broker that this machine can start, the preferred one first."""
    kinds: list[Kind] = []
    if mosquitto_program():
        kinds.append("mosquitto")
    if find_spec("iotcore"):
        kinds.append("iotcore")
    return tuple(kinds)


class EmbeddedBroker:
    """One broker as a child process; a context manager.

    kind: "any" takes the first of `kinds_here()`. keep: folder in which mosquitto keeps sessions and messages, saved on
    every change, so that they outlive `kill()`; None keeps nothing over a stop. more_lines: further lines of
    mosquitto's configuration file (passwords, access lists, TLS). Both need mosquitto.

    Start it from a thread that lives as long as the broker shall: the kernel ties the child to that thread.
    """

    def __init__(
        self,
        kind: Literal["any"] | Kind = "any",
        *,
        keep: Path | None = None,
        more_lines: Sequence[str] = (),
    ) -> None:
        """Choose the kind; nothing is started. Raises BrokerMissing."""
        self.kind: Kind = _choose(kind)
        if self.kind == "iotcore" and (keep or more_lines):
            raise BrokerMissing(
                "embedded broker: iotcore keeps nothing on disk and takes no further lines. "
                "Install mosquitto (apt install mosquitto)."
            )
        self._keep, self._more_lines = keep, tuple(more_lines)
        self._ports: tuple[int, int] | None = None
        self._reserved: tuple[socket.socket, ...] = ()
        self._folder: tempfile.TemporaryDirectory[str] | None = None
        self._child: subprocess.Popen[bytes] | None = None

    @property
    def port(self) -> int:
        """TCP port for MQTT 5, on 127.0.0.1; the same over restarts."""
        return self.port_for(5)

    def port_for(self, version: int) -> int:
        """TCP port for MQTT 5 or 3 (3.1.1): iotcore has one for each, mosquitto one for both."""
        if self._ports is None:
            raise BrokerMissing("embedded broker: it has not been started. Call start() first.")
        return self._ports[0] if version == 5 else self._ports[1]

    @property
    def is_running(self) -> bool:
        """True while the child process lives."""
        return self._child is not None and self._child.poll() is None

    @property
    def process(self) -> int:
        """The process id of the running broker."""
        if self._child is None:
            raise BrokerMissing("embedded broker: it is not running. Call start() first.")
        return self._child.pid

    def start(self) -> Self:
        """Start, or start again on the same port, and wait until the port answers. Raises BrokerMissing."""
        if self.is_running:
            return self
        self._reap()
        if not self._reserved:
            self._reserved = _reserve(self._ports or (0,) * (1 if self.kind == "mosquitto" else 2))
        ports = self._reserved[0].getsockname()[1], self._reserved[-1].getsockname()[1]
        try:
            self._run(ports)
        except BrokerMissing:
            self._give_back()
            raise
        self._ports = ports
        return self

    def kill(self) -> None:
        """End it without warning (SIGKILL), as a power cut would; `start()` brings it back on the same port."""
        if self._child is not None:
            self._child.kill()
        self._reap()

    def stop(self) -> None:
        """End it in order (SIGTERM) and remove its folder. Safe to call twice."""
        if self._child is not None and self._child.poll() is None:
            self._child.send_signal(signal.SIGTERM)
            try:
                self._child.wait(STOP_WITHIN)
            except subprocess.TimeoutExpired:
                self._child.kill()
        self._reap()
        self._give_back()
        if self._folder is not None:
            self._folder.cleanup()
            self._folder = None

    def __enter__(self) -> Self:
        return self.start()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.stop()

    def _give_back(self) -> None:
        for reserved in self._reserved:
            reserved.close()
        self._reserved = ()

    def _reap(self) -> None:
        if self._child is not None:
            self._child.wait()
            self._child = None

    def _run(self, ports: tuple[int, int]) -> None:
        if self._keep is not None:
            self._keep.mkdir(parents=True, exist_ok=True)
        if self._folder is None:
            self._folder = tempfile.TemporaryDirectory(prefix="heavingline-broker-")
        folder = Path(self._folder.name)
        command = self._command(folder, ports)
        said = folder / "said"
        with said.open("wb") as sink:
            self._child = subprocess.Popen(
                [sys.executable, "-I", "-c", _TIED_TO_PARENT, str(os.getpid()), *command],
                cwd=folder,  # -m looks here first, and here lies nothing of that name
                stdin=subprocess.DEVNULL,
                stdout=sink,
                stderr=sink,
            )
        try:
            for port in set(ports):
                self._wait_for(port)
        except BrokerMissing as trouble:
            self.kill()
            last_words = said.read_text(errors="replace")[-2000:]
            raise BrokerMissing(f"{trouble}\n{last_words}".rstrip()) from None

    def _command(self, folder: Path, ports: tuple[int, int]) -> list[str]:
        if self.kind == "mosquitto":
            program = mosquitto_program()
            if program is None:
                raise BrokerMissing(_HOW_TO_GET["mosquitto"])
            settings = folder / "mosquitto.conf"
            settings.write_text(_mosquitto_lines(ports[0], self._keep, self._more_lines))
            return [program, "-c", str(settings)]
        settings = folder / "iotcore.toml"
        settings.write_text(_iotcore_lines(*ports))
        return [sys.executable, "-m", "iotcore", "--config", str(settings), "--log-level", "CRITICAL"]

    def _wait_for(self, port: int) -> None:
        deadline = time.monotonic() + START_WITHIN
        while time.monotonic() < deadline:
            if not self.is_running:
                raise BrokerMissing(f"embedded broker: {self.kind} ended while starting on port {port}.")
            try:
                with socket.create_connection((HOST, port), timeout=0.5):
                    return
            except OSError:
                time.sleep(_POLL)
        raise BrokerMissing(f"embedded broker: {self.kind} did not answer on port {port} within {START_WITHIN:g} s.")


_HOW_TO_GET: dict[str, str] = {
    "any": "embedded broker: neither mosquitto nor iotcore is here. Install one: apt install mosquitto, "
    "or pip install iotcore.",
    "mosquitto": "embedded broker: mosquitto is not on PATH nor in /usr/sbin. Install it: apt install mosquitto.",
    "iotcore": "embedded broker: the wheel iotcore is not installed. Install it: pip install iotcore.",
}


def _choose(kind: Literal["any"] | Kind) -> Kind:
    here = kinds_here()
    if kind == "any" and here:
        return here[0]
    for one in here:
        if one == kind:
            return one
    raise BrokerMissing(_HOW_TO_GET[kind])


def _reserve(ports: Sequence[int]) -> tuple[socket.socket, ...]:
    """Sockets that keep these ports (0: any) ours until they are closed. Raises BrokerMissing when one is taken.

    A socket that is bound and does not listen keeps the system from handing the port to anybody else, while the
    broker, which sets SO_REUSEADDR as ours do, may still listen on it (Linux; measured with both brokers). Without it
    two brokers that start at one moment can be given one port, and the second one's clients would reach the first.
    """
    reserved: list[socket.socket] = []
    for port in dict.fromkeys(ports) if any(ports) else ports:
        one = socket.socket()
        reserved.append(one)
        one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            one.bind((HOST, port))
        except OSError as error:
            for taken in reserved:
                taken.close()
            raise BrokerMissing(f"embedded broker: port {port} is taken: {error.strerror}.") from None
    return tuple(reserved)


def _mosquitto_lines(port: int, keep: Path | None, more: Sequence[str]) -> str:
    lines = [
        f"listener {port} {HOST}",
        "allow_anonymous true",
        "log_dest stderr",
        "log_type error",
        "log_type warning",
        # The default of 1000 drops QoS 1 messages of a burst even for a connected subscriber, and 0 (no limit) drops
        # everything in some versions (measured with 2.0.11; eclipse-mosquitto/mosquitto#2879): a large number.
        "max_queued_messages 1000000",
        f"message_size_limit {PAYLOAD_LIMIT}",
        "set_tcp_nodelay true",
    ]
    if os.getuid() == 0:
        lines.append("user root")  # else it drops to a user that may not enter our folder
    if keep is not None:
        lines += [
            "persistence true",
            f"persistence_location {keep}/",
            # Save at every change: with the defaults a kill loses messages it had acknowledged (measured).
            "autosave_interval 1",
            "autosave_on_changes true",
        ]
    return "\n".join([*lines, *more]) + "\n"


def _iotcore_lines(port_5: int, port_3: int) -> str:
    return f"""id = 0

[router]
id = 0
max_connections = 1000
max_outgoing_packet_count = 200
max_segment_size = {25 * PAYLOAD_LIMIT}
max_segment_count = 10

{_iotcore_listener("v5", port_5)}
{_iotcore_listener("v4", port_3)}
"""


def _iotcore_listener(version: str, port: int) -> str:
    """One listener: "v5" for MQTT 5, "v4" for 3.1.1 (4 is that version's number in the CONNECT packet)."""
    return f"""[{version}.1]
name = "{version}"
listen = "{HOST}:{port}"
next_connection_delay_ms = 1

[{version}.1.connections]
connection_timeout_ms = 60000
max_payload_size = {PAYLOAD_LIMIT}
max_inflight_count = 500
dynamic_filters = true
"""
