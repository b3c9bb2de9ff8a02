"""The line to the carrier: the client's transport, and what its settings must say before it is used."""

import threading
from email.utils import parsedate_to_datetime
from typing import Any
from urllib.parse import urlsplit, urlunsplit

from twilio.http.http_client import TwilioHttpClient  # type: ignore[import-untyped]
from twilio.rest import Client  # type: ignore[import-untyped]

from gateway.doors.faces import CarrierSettings, DoorTrouble
from gateway.vocabulary.moments import MINUTE, SECOND, Ms, from_datetime

_LOOPBACK = frozenset({"127.0.0.1", "::1", "localhost"})


class Line(TwilioHttpClient):  # type: ignore[misc]
    """The client's transport with the carrier's address put in and two header lines kept, for each thread its own.

    keep: one connection kept open, for polls; else one for each call, for a few texts a day through a router that
    forgets idle ones (common practice). messages, calls: the client's lists. account_balance: what is left on
    the account.
    """

    def __init__(self, settings: CarrierSettings, *, timeout: float, keep: bool) -> None:
        base = urlsplit(settings.base_url or "")
        self._base = (base.scheme, base.netloc) if base.netloc else None
        self._keep, self._kept = keep, threading.local()
        # A proxy named in the environment cannot reach a stand-in on this machine's own loopback.
        proxy = dict.fromkeys(("http", "https", "all")) if base.hostname in _LOOPBACK else None
        super().__init__(pool_connections=keep, timeout=timeout, proxy=proxy)
        client = Client(
            settings.account,
            settings.token,
            http_client=self,
            environment={"none": "1"},  # an empty one would let a stray variable move the account to another host
        )
        self.calls = client.calls
        self.account_balance = client.balance
        self.messages = client.messages  # loads the client's modules now, not in the first worker

    def request(self, method: str, url: str, *args: Any, **kwargs: Any) -> Any:
        """One call. The client builds the carrier's own address; scheme and host are swapped for the base's."""
        if self._base is not None:
            url = urlunsplit((*self._base, *urlsplit(url)[2:]))
        if not self._keep:
            kwargs["headers"] = {**(kwargs.get("headers") or {}), "Connection": "close"}
        response = super().request(method, url, *args, **kwargs)
        self._kept.headers = response.headers
        return response

    @property
    def date(self) -> Ms | None:
        """The carrier's clock in this thread's last answer (Date header, RFC 9110 6.6.1), ms UTC; None when missing."""
        try:
            return from_datetime(parsedate_to_datetime(self._kept.headers["Date"]))
        except (KeyError, ValueError, TypeError):
            return None

    @property
    def retry_after(self) -> Ms | None:
        """How long this thread's last answer asks to wait (Retry-After in seconds, RFC 9110 10.2.3), at most a minute
        (our choice: an alarm goes on by other ways meanwhile)."""
        asked = getattr(self._kept, "headers", {}).get("Retry-After", "")
        return min(int(asked) * SECOND, MINUTE) if asked.isdecimal() else None


def check_settings(settings: CarrierSettings) -> None:
    where = f"carrier {settings.name}"
    if not settings.account or not settings.token:
        raise DoorTrouble(
            where=where, problem="the account or its token is empty", remedy="Set both before starting the gateway"
        )
    if settings.base_url is None:
        return
    base = urlsplit(settings.base_url)
    if base.scheme not in {"http", "https"} or not base.hostname or base.path.strip("/") or base.query:
        raise DoorTrouble(
            where=where,
            problem=f"base_url {settings.base_url!r} is no address",
            remedy="Write scheme, host and port only, such as http://127.0.0.1:8020",
        )
    if base.scheme == "http" and base.hostname not in _LOOPBACK:
        raise DoorTrouble(
            where=where,
            problem=f"base_url {settings.base_url!r} would send the account's token unencrypted",
            remedy="Use https; http is for this machine's own loopback only",
        )
