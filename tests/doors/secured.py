"""Brokers of both kinds with TLS or without, with a password or without, and clients that speak to them."""

import subprocess
from collections.abc import Sequence
from contextlib import AbstractAsyncContextManager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from gateway.demo.broker import EmbeddedBroker, Kind
from gateway.doors.bus import Patience
from tests.doors.brokers import HURRIED, Ear, Outsider, ear

CERTIFICATES = Path(__file__).parent / "certificates"
CA = str(CERTIFICATES / "broker.pem")
USER, PASSWORD = "gateway", "open sesame"


class SecuredBroker(EmbeddedBroker):
    """A broker that asks for TLS, for a password, for both or for neither."""

    def __init__(self, kind: Kind, *, tls: bool, password: bool, keep: Path) -> None:
        self.tls, self.password = tls, password
        lines: list[str] = []
        if kind == "mosquitto":
            if tls:
                lines += [f"certfile {CERTIFICATES / 'broker.pem'}", f"keyfile {CERTIFICATES / 'broker.key'}"]
            if password:
                passwords = keep / f"passwords-{tls}"
                subprocess.run(
                    ["mosquitto_passwd", "-c", "-b", str(passwords), USER, PASSWORD], check=True, capture_output=True
                )
                lines += ["allow_anonymous false", f"password_file {passwords}"]
        super().__init__(kind, more_lines=lines)

    def _command(self, folder: Path, ports: tuple[int, int]) -> list[str]:
        command = super()._command(folder, ports)
        if self.kind == "iotcore":
            with (folder / "iotcore.toml").open("a", encoding="utf-8") as file:
                for listener in ("v5.1", "v4.1"):
                    if self.tls:
                        file.write(
                            f'\n[{listener}.tls]\ncertpath = "{CERTIFICATES / "broker.pem"}"\n'
                            f'keypath = "{CERTIFICATES / "broker.key"}"\n'
                        )
                    if self.password:
                        file.write(f'\n[{listener}.connections.auth]\n{USER} = "{PASSWORD}"\n')
        return command


@dataclass(frozen=True)
class Link:
    """One way to a broker: its kind, version, TLS and password; a name that no other test uses."""

    broker: SecuredBroker
    version: int
    name: str

    @property
    def port(self) -> int:
        return self.broker.port_for(self.version)

    @property
    def keys(self) -> dict[str, Any]:
        """What it takes to be let in."""
        return ({"ca_file": CA} if self.broker.tls else {}) | (
            {"user": USER, "password": PASSWORD} if self.broker.password else {}
        )

    def ear(
        self,
        topics: Sequence[str],
        *,
        port: int | None = None,
        client_id: str | None = None,
        wait: bool = True,
        patience: Patience = HURRIED,
        **other: object,
    ) -> AbstractAsyncContextManager[Ear]:
        """Our door, opened with the right keys or with others."""
        return ear(
            self.port if port is None else port,
            topics,
            client_id=self.name if client_id is None else client_id,
            version=self.version,
            wait=wait,
            patience=patience,
            **(self.keys | other),
        )

    def outsider(self, hears: str | None = None) -> Outsider:
        """An independent client with the right keys."""
        return SecuredOutsider(self, hears)


class SecuredOutsider(Outsider):
    """An outsider who is let in."""

    def __init__(self, link: Link, hears: str | None) -> None:
        super().__init__(link.port, link.version, hears)
        if link.broker.tls:
            self._client.tls_set(ca_certs=CA)
        if link.broker.password:
            self._client.username_pw_set(USER, PASSWORD)
