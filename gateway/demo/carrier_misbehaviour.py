"""The wrong answers of the pretend carrier: what a carrier, a marina network and a bad line do to a call.

Error codes are the carrier's; its error JSON has code, message, more_info and status (its OpenAPI description).
"""

import json
from dataclasses import dataclass, replace
from enum import StrEnum

from gateway.demo.carrier_form import Complaint


class Misbehaviour(StrEnum):
    """Ways of answering one call wrongly. "After acting" means that the text was taken all the same."""

    SILENT = "silent"  # until the caller hangs up or the stand-in closes
    SILENT_AFTER_ACTING = "silent after acting"
    CUT = "cut"
    CUT_AFTER_ACTING = "cut after acting"
    LOGIN_PAGE = "log-in page"  # a marina network's page, 200 and HTML
    PORTAL_REFUSAL = "portal refusal"  # the same network's 403 and HTML
    PORTAL_REDIRECT = "portal redirect"  # the same network's 302
    ODD_JSON = "odd JSON"  # 201 and JSON that is no text
    SERVER_ERROR = "server error"  # 500 in the carrier's JSON
    SERVER_ERROR_AFTER_ACTING = "server error after acting"
    BAD_GATEWAY = "bad gateway"  # 502 and HTML
    TOO_MANY = "too many"  # 429 in the carrier's JSON
    TOO_MANY_FOR_NOW = "too many for now"  # the same, with a time to wait
    SLOW = "slow"  # right, but late
    UNDATED = "undated"  # right, but without a Date header
    HELD = "held"  # right, but put off until morning
    FAILED_AT_ONCE = "failed at once"  # 201, and the text has failed already


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """What goes back. body: text. content: its media type. headers: more header lines. dated: with a Date header."""

    status: int
    body: str
    content: str = "application/json"
    headers: tuple[tuple[str, str], ...] = ()
    dated: bool = True


def refusal(complaint: Complaint) -> Reply:
    """A complaint as the carrier writes it."""
    body = {
        "code": complaint.code,
        "message": complaint.message,
        "more_info": f"https://www.twilio.com/docs/errors/{complaint.code}",
        "status": complaint.status,
    }
    login = (("WWW-Authenticate", 'Basic realm="carrier stand-in"'),) if complaint.status == 401 else ()
    return Reply(status=complaint.status, body=json.dumps(body), headers=login)


ACTING = frozenset(
    {
        None,
        Misbehaviour.SLOW,
        Misbehaviour.HELD,
        Misbehaviour.FAILED_AT_ONCE,
        Misbehaviour.UNDATED,
        Misbehaviour.SILENT_AFTER_ACTING,
        Misbehaviour.CUT_AFTER_ACTING,
        Misbehaviour.SERVER_ERROR_AFTER_ACTING,
    }
)
"""Where the call is carried out, whatever is answered. None: the right answer."""

FIRST_STATUS: dict[Misbehaviour | None, str] = {Misbehaviour.HELD: "scheduled", Misbehaviour.FAILED_AT_ONCE: "failed"}
"""The first word on a text taken in one of these ways; ``queued`` otherwise."""

SILENT = frozenset({Misbehaviour.SILENT, Misbehaviour.SILENT_AFTER_ACTING})
CUT = frozenset({Misbehaviour.CUT, Misbehaviour.CUT_AFTER_ACTING})

_PORTAL = "<!doctype html><title>Marina guest network</title><p>Please log in to go on.</p>"
_TOO_MANY = refusal(Complaint(code=20429, message="Too many requests", status=429))
_BROKEN = refusal(Complaint(code=20500, message="Internal server error", status=500))

WRONG_REPLIES = {
    Misbehaviour.LOGIN_PAGE: Reply(status=200, body=_PORTAL, content="text/html"),
    Misbehaviour.PORTAL_REFUSAL: Reply(status=403, body=_PORTAL, content="text/html"),
    Misbehaviour.PORTAL_REDIRECT: Reply(
        status=302, body="", content="text/html", headers=(("Location", "http://portal.invalid/login"),)
    ),
    Misbehaviour.ODD_JSON: Reply(status=201, body='["welcome"]'),
    Misbehaviour.SERVER_ERROR: _BROKEN,
    Misbehaviour.SERVER_ERROR_AFTER_ACTING: _BROKEN,
    Misbehaviour.BAD_GATEWAY: Reply(status=502, body="<h1>Bad gateway</h1>", content="text/html"),
    Misbehaviour.TOO_MANY: _TOO_MANY,
    Misbehaviour.TOO_MANY_FOR_NOW: replace(_TOO_MANY, headers=(("Retry-After", "7"),)),
}
