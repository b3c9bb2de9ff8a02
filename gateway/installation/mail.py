"""The mail server, by which the installer hears of trouble when texts do not go."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from gateway.installation.findings import Findings
from gateway.installation.gateway_file import GatewayFile
from gateway.installation.hooks import LOOPBACK
from gateway.installation.secrets import secret
from gateway.installation.slips import Slip
from gateway.installation.standards import Whole
from gateway.people.settings import Person, Role

_ADDRESS = re.compile(r"[A-Za-z0-9._%+'-]+@(?!-)[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+")
"""A plain address (a subset of RFC 5321 4.1.2): quoted and accented ones are refused, most servers do the same."""

ADDRESS_REMEDY = 'write one address, such as "ruth@example.org"'


@dataclass(frozen=True, slots=True, kw_only=True)
class MailPlan:
    """One mail server, as the mail door wants it. sender: the address that mails come from. password: the secret
    itself. security: see `faces.MailSettings`."""

    host: str
    port: int
    sender: str
    security: str
    user: str | None
    password: str | None = field(repr=False)
    ca_file: str | None


def is_address(written: str) -> bool:
    """Whether it is a plain mail address."""
    return _ADDRESS.fullmatch(written) is not None and ".." not in written


def mail_plan(
    file: GatewayFile, whole: Whole, folder: Path, environ: Mapping[str, str], findings: Findings
) -> MailPlan | None:
    """The mail server; None when the files name none."""
    table = file.mail
    if table is None:
        return None
    if any(mark in table.host for mark in "/@: "):
        findings.mistake(
            whole, ("mail", "host"), "is more than a host", "write the name alone, the port goes into `port`"
        )
    if not is_address(table.sender):
        findings.mistake(whole, ("mail", "from"), f'is "{table.sender}", which is no mail address', ADDRESS_REMEDY)
    if table.security == "none" and table.host not in LOOPBACK:
        findings.mistake(
            whole,
            ("mail", "security"),
            "would send mails and password unencrypted",
            'write "starttls" or "tls"',
        )
    if (table.user is None) != (table.password_from is None):
        missing, there = ("user", "password_from") if table.user is None else ("password_from", "user")
        findings.mistake(whole, ("mail", missing), f"is missing beside {there}", "write both, or neither")
    ca_file = None if table.ca_file is None else folder / table.ca_file
    if ca_file is not None and not ca_file.is_file():
        findings.mistake(whole, ("mail", "ca_file"), "there is no such file", "write its path from this folder")
    return MailPlan(
        host=table.host,
        port=table.port if table.port is not None else 465 if table.security == "tls" else 587,
        sender=table.sender,
        security=table.security,
        user=table.user,
        password=_password(table.password_from is not None, file, whole, folder, environ, findings),
        ca_file=None if ca_file is None else str(ca_file),
    )


def _password(
    wanted: bool, file: GatewayFile, whole: Whole, folder: Path, environ: Mapping[str, str], findings: Findings
) -> str | None:
    if not wanted or file.mail is None or file.mail.password_from is None:
        return None
    try:
        return secret(file.mail.password_from, folder, environ)
    except Slip as slip:
        findings.slip(whole, ("mail", "password_from"), slip)
        return None


def check_mailed(mailed: bool, people: Iterable[Person], crew: Whole, links: Whole, findings: Findings) -> None:
    """A mail server without an installer's address is of no use, and the other way round. crew: people.toml; links:
    gateway.toml."""
    addressed = [person for person in people if person.mail]
    if mailed and not any(person.role is Role.INSTALLER for person in addressed):
        findings.warn(links, ("mail",), "no installer in people.toml has an address; nothing is mailed to anybody")
    for person in addressed:
        path = ("person", person.key, "mail")
        if person.role is not Role.INSTALLER:
            findings.warn(crew, path, "only an installer gets mail; this address is not used")
        elif not mailed:
            findings.warn(crew, path, "there is no [mail] in gateway.toml; nothing is mailed")
