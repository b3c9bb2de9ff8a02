"""The links to the world that gateway.toml names, with their secrets fetched."""

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from gateway.installation.findings import Findings
from gateway.installation.gateway_file import BrokerTable, CarrierTable, GatewayFile, SecretTable
from gateway.installation.names import check_keys
from gateway.installation.secrets import secret
from gateway.installation.slips import Slip, continued
from gateway.installation.standards import Whole
from gateway.people.numbers import NumberRefused, e164
from gateway.vocabulary.moments import SECOND


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokerPlan:
    """One MQTT broker, as the bus door wants it. Times in whole seconds. password: the secret itself."""

    name: str
    host: str
    port: int
    client_id: str
    version: int
    user: str | None
    password: str | None = field(repr=False)
    ca_file: str | None
    keepalive: int
    session_expiry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierPlan:
    """One text carrier's account, as the carrier door wants it. sender: E.164. token: the secret itself."""

    name: str
    account: str
    sender: str
    token: str = field(repr=False)
    base_url: str | None


def brokers(
    file: GatewayFile, whole: Whole, folder: Path, environ: Mapping[str, str], findings: Findings
) -> tuple[BrokerPlan, ...]:
    """All brokers by name. Two with the same broker and client id would throw each other out for ever."""
    check_keys(file.broker, whole, ("broker",), findings)
    if not file.broker:
        findings.mistake(whole, ("broker",), "there is no broker", "write a table [broker.NAME]")
    plans = []
    seen: dict[tuple[str, int, str], str] = {}
    for name, table in file.broker.items():
        path = ("broker", name)
        other = seen.setdefault((table.host, table.port, table.client_id), name)
        if other != name:
            findings.mistake(
                whole,
                (*path, "client_id"),
                f'is also the client id of "{other}" on the same broker',
                "give one of them another",
            )
        if any(mark in table.host for mark in "/@ "):
            findings.mistake(
                whole,
                (*path, "host"),
                "is more than a host",
                "write the name or address alone, the port goes into `port`",
            )
        if table.password_from and table.user is None:
            findings.mistake(whole, (*path, "user"), "is missing beside password_from", "write the user's name")
        ca_file = None if table.ca_file is None else folder / table.ca_file
        if ca_file is not None and not ca_file.is_file():
            findings.mistake(whole, (*path, "ca_file"), "there is no such file", "write its path from this folder")
        plans.append(
            _broker(
                name,
                table,
                ca_file,
                _fetched(table.password_from, folder, environ, whole, (*path, "password_from"), findings),
            )
        )
    return tuple(plans)


def _broker(name: str, table: BrokerTable, ca_file: Path | None, password: str | None) -> BrokerPlan:
    return BrokerPlan(
        name=name,
        host=table.host,
        port=table.port,
        client_id=table.client_id,
        version=table.version,
        user=table.user,
        password=password,
        ca_file=None if ca_file is None else str(ca_file),
        keepalive=table.keepalive // SECOND,
        session_expiry=table.session_expiry // SECOND,
    )


def carriers(
    file: GatewayFile,
    whole: Whole,
    folder: Path,
    environ: Mapping[str, str],
    home: str | None,
    findings: Findings,
) -> tuple[CarrierPlan, ...]:
    """All carriers by name. Each has a sender number of its own, or answers would go astray."""
    check_keys(file.carrier, whole, ("carrier",), findings)
    if not file.carrier:
        findings.mistake(whole, ("carrier",), "there is no carrier", "write a table [carrier.NAME]")
    plans = []
    seen: dict[str, str] = {}
    for name, table in file.carrier.items():
        path = ("carrier", name)
        token = _fetched(table.token_from, folder, environ, whole, (*path, "token_from"), findings)
        sender = _sender(table, whole, path, home, findings)
        other = seen.setdefault(sender, name) if sender else name
        if other != name:
            findings.mistake(whole, (*path, "sender"), f'is also the number of "{other}"', "give each its own number")
        if table.base_url is not None and not table.base_url.startswith(("http://", "https://")):
            findings.mistake(whole, (*path, "base_url"), "is no web address", "begin it with https://")
        plans.append(
            CarrierPlan(name=name, account=table.account, sender=sender, token=token or "", base_url=table.base_url)
        )
    return tuple(plans)


def _sender(table: CarrierTable, whole: Whole, path: tuple[str, ...], home: str | None, findings: Findings) -> str:
    try:
        return e164(table.sender, home, unusual=table.unusual_number)
    except NumberRefused as refused:
        findings.mistake(whole, (*path, "sender"), refused.problem, continued(refused.remedy))
        return ""


def _fetched(
    table: SecretTable | None,
    folder: Path,
    environ: Mapping[str, str],
    whole: Whole,
    path: tuple[str, ...],
    findings: Findings,
) -> str | None:
    if table is None:
        return None
    try:
        return secret(table, folder, environ)
    except Slip as slip:
        findings.slip(whole, path, slip)
        return None


def without_expiry(plans: Iterable[BrokerPlan], commanding: Container[str]) -> Iterator[str]:
    """Warnings of brokers that may hand a command on late. commanding: names of those by which something is switched.

    MQTT 3.1.1 knows no expiry of a message (MQTT 5.0, 3.3.2.3.3, brought it): what such a broker keeps for a node that
    is away, it keeps for good."""
    for plan in plans:
        if plan.version != 5 and plan.name in commanding:
            yield (
                f"gateway.toml: broker.{plan.name}.version: in MQTT 3.1.1 a command carries no expiry, and only the "
                "node's own look at `seen` keeps a late one from acting; write 5 where the broker speaks it"
            )
