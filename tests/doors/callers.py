"""A carrier that calls a web hook, and others who try to: the signature made independently of any library of ours."""

import asyncio
import base64
import hashlib
import hmac
from collections.abc import AsyncIterator, Callable, Mapping, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from urllib.parse import urlencode

from gateway.doors.carrier import signature_check
from gateway.doors.faces import DeliveryWord, HookedText, HookSettings
from gateway.doors.inbox import WebHook

TOKEN, ACCOUNT, SENDER = "a pretend token", "AC" + "1" * 32, "+447700900321"
INES = "+447700900123"
PUBLIC = "https://texts.example.org"
FORM = "application/x-www-form-urlencoded"
Pairs = Sequence[tuple[str, str]]


def signature(url: str, fields: Pairs, token: str = TOKEN) -> str:
    """HMAC-SHA1 with the token over the address, then each name and value sorted by name, in base64 (the carrier's
    page on the security of its calls)."""
    said = url + "".join(name + value for name, value in sorted(fields))
    return base64.b64encode(hmac.new(token.encode(), said.encode(), hashlib.sha1).digest()).decode()


def text_fields(message: str = "SM1", body: str = "status", number: str = INES) -> list[tuple[str, str]]:
    """The fields of a call about a text to us, blank ones included."""
    return [
        ("ToCountry", "GB"),
        ("ToState", ""),
        ("MessageSid", message),
        ("NumMedia", "0"),
        ("FromCity", ""),
        ("Body", body),
        ("From", number),
        ("To", SENDER),
        ("AccountSid", ACCOUNT),
    ]


def report_fields(status: str, code: str | None = None, message: str = "SM9") -> list[tuple[str, str]]:
    """The fields of a call about what became of a text of ours."""
    fields = [("MessageSid", message), ("MessageStatus", status), ("AccountSid", ACCOUNT), ("To", INES)]
    return fields if code is None else [*fields, ("ErrorCode", code)]


def call_fields(status: str, message: str = "CA9") -> list[tuple[str, str]]:
    """The fields of a call about what became of a call by voice of ours."""
    return [
        ("CallSid", message),
        ("CallStatus", status),
        ("AccountSid", ACCOUNT),
        ("To", INES),
        ("Direction", "outbound-api"),
    ]


async def call(
    port: int,
    path: str,
    body: bytes,
    headers: Mapping[str, str],
    *,
    method: str = "POST",
    more: Sequence[str] = (),
) -> tuple[int, bytes]:
    """One HTTP call on loopback; status and body of the answer."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    try:
        lines = [
            f"{method} {path} HTTP/1.1",
            *(["Host: x"] if "Host" not in headers else []),
            *(f"{name}: {value}" for name, value in headers.items()),
            *more,
        ]
        if "Content-Length" not in headers:
            lines.append(f"Content-Length: {len(body)}")
        writer.write("\r\n".join([*lines, "Connection: close", "", ""]).encode("latin-1") + body)
        answer = await asyncio.wait_for(reader.read(), 15)
    finally:
        writer.close()
    head, _, said = answer.partition(b"\r\n\r\n")
    return int(head.split()[1]), said


async def signed_call(port: int, path: str, fields: Pairs, *, public: str = PUBLIC) -> tuple[int, bytes]:
    """A call as the carrier makes it, through a proxy that keeps the path."""
    headers = {
        "Host": "127.0.0.1",
        "Content-Type": FORM,
        "X-Twilio-Signature": signature(public + path, fields),
        "I-Twilio-Idempotency-Token": "a-retry-has-the-same",
    }
    return await call(port, path, urlencode(fields).encode(), headers)


@dataclass
class Taker:
    """Takes what a hook brings. answer: what it says of each; wait: holds every answer back until it is set."""

    answer: Callable[[], bool] = lambda: True
    texts: list[HookedText] = field(default_factory=list)
    words: list[DeliveryWord] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    wait: asyncio.Event | None = None

    async def text(self, text: HookedText) -> bool:
        self.texts.append(text)
        if self.wait is not None:
            await self.wait.wait()
        return self.answer()

    async def word(self, word: DeliveryWord) -> bool:
        self.words.append(word)
        return self.answer()

    def doubted(self, detail: str) -> None:
        self.doubts.append(detail)


def hook_settings(public_url: str = PUBLIC, port: int = 0) -> HookSettings:
    return HookSettings(name="main", host="127.0.0.1", port=port, public_url=public_url, account=ACCOUNT, sender=SENDER)


@asynccontextmanager
async def hook(taker: Taker, public_url: str = PUBLIC) -> AsyncIterator[WebHook]:
    """An opened web hook; closed at the end."""
    one = WebHook(hook_settings(public_url), signature_check(TOKEN))
    await one.open(taker)
    try:
        yield one
    finally:
        await one.close()
