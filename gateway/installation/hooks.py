"""Web hooks: where a carrier calls us, when there is a public address; and how often it is polled."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import SplitResult, urlsplit

from gateway.installation.findings import Findings
from gateway.installation.gateway_file import GatewayFile
from gateway.installation.links import CarrierPlan
from gateway.installation.slips import Slip
from gateway.installation.standards import Whole
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class HookPlan:
    """One web hook, as the inbox door wants it. name, account, sender: the carrier's. public_url: without a slash at
    its end."""

    name: str
    host: str
    port: int
    public_url: str
    account: str
    sender: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PollPlan:
    """How often a carrier is polled. None: nothing was said."""

    idle: Ms | None
    fast: Ms | None


LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})

_LISTEN = re.compile(r"(?P<host>\[[0-9a-fA-F:]+\]|[0-9A-Za-z.-]+):(?P<port>\d{1,5})")
_HOST = re.compile(r"(?!-)[a-z0-9-]+(\.[a-z0-9-]+)*")


def hooks(file: GatewayFile, whole: Whole, carriers: Sequence[CarrierPlan], findings: Findings) -> tuple[HookPlan, ...]:
    """All web hooks, in order of the carriers. Two never listen at one place."""
    plans = []
    taken: dict[tuple[str, int], str] = {}
    for carrier in carriers:
        table, path = file.carrier[carrier.name].hook, ("carrier", carrier.name, "hook")
        if table is None:
            continue
        try:
            host, port = _listen(table.listen)
        except Slip as slip:
            findings.slip(whole, (*path, "listen"), slip)
            host, port = "", 0
        try:
            public_url = _public(table.public_url)
        except Slip as slip:
            findings.slip(whole, (*path, "public_url"), slip)
            continue
        other = taken.setdefault((host, port), carrier.name) if port else carrier.name
        if other != carrier.name:
            findings.mistake(whole, (*path, "listen"), f'is also where "{other}" listens', "give one another port")
        if host and host not in LOOPBACK:
            findings.warn(
                whole, (*path, "listen"), "others on the network reach it, and nothing there is encrypted; put a proxy "
                "with TLS before it, and let it listen on 127.0.0.1 if both run on this machine"
            )  # fmt: skip
        plans.append(
            HookPlan(
                name=carrier.name,
                host=host,
                port=port,
                public_url=public_url,
                account=carrier.account,
                sender=carrier.sender,
            )
        )
    return tuple(plans)


def polls(file: GatewayFile, whole: Whole, findings: Findings) -> Mapping[str, PollPlan]:
    """How often each carrier is polled, by its name."""
    plans = {}
    for name, table in file.carrier.items():
        idle, fast = table.poll.idle, table.poll.fast
        if idle is not None and fast is not None and fast > idle:
            findings.mistake(
                whole, ("carrier", name, "poll", "fast"), "is slower than idle", "write a shorter time or a longer idle"
            )  # fmt: skip
        plans[name] = PollPlan(idle=idle, fast=fast)
    return plans


def _listen(written: str) -> tuple[str, int]:
    found = _LISTEN.fullmatch(written)
    if found is None or not 1 <= int(found["port"]) <= 65535:
        raise Slip(f'is "{written}", which is no place to listen at', 'write an address and a port: "127.0.0.1:8080"')
    return found["host"].strip("[]"), int(found["port"])


def _public(written: str) -> str:
    """The address in the form in which it is signed. Refused is what the carrier or its signature cannot do: a host in
    capitals, with an underscore, of bare IPv6, with user and password; a query or fragment (measured, and the
    carrier's OpenAPI description)."""
    remedy = 'write the address that the carrier is given, without /texts: "https://texts.example.org"'
    try:
        read = urlsplit(written)
        host = read.netloc if read.port is None else read.netloc.rpartition(":")[0]
    except ValueError:
        raise Slip("is no web address", remedy) from None
    if read.scheme not in ("https", "http") or not host:
        raise Slip("is no web address", remedy)
    if _HOST.fullmatch(host) is None:
        raise Slip(f'has the host "{host}", for which no signature would fit', "write a plain name in small letters")
    if read.query or read.fragment or "?" in written or "#" in written:
        raise Slip("holds a query or a fragment", remedy)
    if read.scheme == "http" and host not in LOOPBACK:
        raise Slip("would bring texts unencrypted", "begin it with https://, and let a proxy with TLS hear there")
    return _without_slash(read)


def _without_slash(read: SplitResult) -> str:
    return f"{read.scheme}://{read.netloc}{read.path.rstrip('/')}"
