"""What a call of the carrier must be, and what it says. Pure: the signature check is handed in.

Facts about the calls: the carrier's page on webhook requests (form only, unknown fields come without notice, all are
signed) and its client's source (how the signature is made). A signature does not tell where one field ends and the
next begins, nor when it was made; so what a call says is a hint to look, and the words are taken from the carrier's own
list where that can be had (gateway.service.hooking).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias
from urllib.parse import parse_qsl

from gateway.doors.faces import HOOK_TEXTS, DeliveryWord, HookedText, HookSettings
from gateway.telling.outcomes import code_of_call

FORM = "application/x-www-form-urlencoded"

MOST_FIELDS = 200
"""Fields of one form; the carrier sends some 20 (its page on webhook requests), and more without notice. Our choice."""

LONGEST_WORD = 100
"""Characters of an id, a number, a status or a code; the longest known are 34. Our choice."""

Fields: TypeAlias = Sequence[tuple[str, str]]
SignatureCheck: TypeAlias = Callable[[str, Fields, str], bool]
"""Address as the carrier knows it, all fields, the header's value: whether they belong together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HookCall:
    """A POST as it came. path: one of ours. query: raw. content_types, signatures: the values of these two headers."""

    path: str
    query: bytes
    content_types: tuple[str, ...]
    signatures: tuple[str, ...]
    body: bytes


class CallRefused(Exception):
    """No call of our carrier's. ours: it named our account all the same, so a setting may be wrong."""

    def __init__(self, *, ours: bool = False) -> None:
        super().__init__("refused")
        self.ours = ours


class CallUseless(Exception):
    """Signed by the carrier, but nothing that can be taken: for another number, or without an id."""


def read_call(call: HookCall, settings: HookSettings, is_signed: SignatureCheck) -> HookedText | DeliveryWord:
    """What the call says, once it is known to be the carrier's. Raises CallRefused, CallUseless; anything else that
    it raises (bytes that are no text) means refused, too."""
    if len(call.content_types) != 1 or call.content_types[0].partition(";")[0].strip().lower() != FORM:
        raise CallRefused
    fields = _fields(call.body)
    signature = call.signatures[0] if len(call.signatures) == 1 else ""
    # The configured address, never the Host line or what a proxy adds: whoever calls can write those.
    url = settings.public_url + call.path + (f"?{call.query.decode('ascii')}" if call.query else "")
    if not signature or not is_signed(url, fields, signature):
        raise CallRefused(ours=("AccountSid", settings.account) in fields)
    if _only(fields, "AccountSid") != settings.account:
        raise CallUseless
    return _text(fields, settings) if call.path == HOOK_TEXTS else _word(fields, call.query)


def _fields(body: bytes) -> Fields:
    """Every field in order, empty ones kept and nothing trimmed: all of it is signed. Raises ValueError."""
    return parse_qsl(
        body.decode("ascii"),
        keep_blank_values=True,
        strict_parsing=True,
        encoding="utf-8",
        errors="strict",
        max_num_fields=MOST_FIELDS,
    )


def _text(fields: Fields, settings: HookSettings) -> HookedText:
    if _only(fields, "To") != settings.sender:
        raise CallUseless
    body = _only(fields, "Body", missing="")
    mark = _only(fields, "OptOutType", missing="")[:LONGEST_WORD]  # name and values from memory
    return HookedText(message=_short(fields, "MessageSid"), number=_short(fields, "From"), body=body, mark=mark)


def _word(fields: Fields, query: bytes) -> DeliveryWord:
    asked = parse_qsl(query.decode("ascii"), max_num_fields=MOST_FIELDS)
    if any(name == "CallStatus" for name, _ in fields):  # of a call by voice, which has no code of its own
        status = _short(fields, "CallStatus")
        return DeliveryWord(order=_short(asked, "order"), status=status, code=code_of_call(status))
    return DeliveryWord(
        order=_short(asked, "order"),
        status=_short(fields, "MessageStatus"),
        code=_only(fields, "ErrorCode", missing="")[:LONGEST_WORD],
    )


def _only(fields: Fields, name: str, *, missing: str | None = None) -> str:
    """The one value of a field; one that is repeated could be read in two ways."""
    found = [value for known, value in fields if known == name]
    if not found and missing is not None:
        return missing
    if len(found) != 1:
        raise CallUseless
    return found[0]


def _short(fields: Fields, name: str) -> str:
    found = _only(fields, name)
    if not 0 < len(found) <= LONGEST_WORD:
        raise CallUseless
    return found
