"""A pretend carrier: a real HTTP server on loopback that speaks the carrier's messages resource, well or badly.

It takes API version 2010-04-01 as the carrier's OpenAPI description has it: create, list with filters and pages, fetch,
cancel, and what is left on the account. Nothing ever leaves the machine. Its clock is handed in, so dates and the Date
header follow quick time; its ids are counted, so two runs are the same.
"""

import base64
import hmac
import json
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from types import TracebackType
from typing import Self
from urllib.parse import urlencode

from gateway.demo.carrier_calls import CarrierCalls, RungCall
from gateway.demo.carrier_form import (
    LONGEST_VALIDITY,
    PARAMETER_WRONG,
    Complaint,
    Form,
    complaint_about,
    complaint_about_filters,
    complaint_about_update,
)
from gateway.demo.carrier_http import CarrierHttp
from gateway.demo.carrier_misbehaviour import (
    ACTING,
    CUT,
    FIRST_STATUS,
    SILENT,
    WRONG_REPLIES,
    Misbehaviour,
    Reply,
    refusal,
)
from gateway.demo.carrier_texts import API_VERSION, CarrierText, CarrierTexts
from gateway.vocabulary.moments import SECOND, Ms

CALLS_REMEMBERED = 1_000  # our choice: far more than a test makes, little enough for a demo left running
STOP_CHECKED_EVERY = 0.01  # seconds between two looks of the server at whether it should stop; our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class SentText:
    """A text that the carrier took from the gateway. at: ms UTC. valid_for: ms. intent: "" when none was given."""

    message: str
    number: str
    body: str
    at: Ms
    valid_for: Ms
    intent: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One call that came in. path: without its query. fields: form or query as sent, None when unreadable.
    status: of the reply, None when there was none."""

    method: str
    path: str
    fields: Form | None
    status: int | None


class CarrierStandIn:
    """The pretend carrier. Safe to use from any thread; `now` is called from the server's threads.

    account, token: what the gateway must log in with. own_number: the account's number, E.164. slow_for: seconds.
    next_answers: how the next creates are answered, first one first, then rightly again; next_look_answers: the same
    for lists, fetches and cancels. None in a queue is a right answer. answers_to: by number (E.164), how the next
    create to it is answered, whatever else goes out meanwhile. next_refusals: complaints with which the next
    good creates are refused. next_ends: the last word (status, error code) on each of the next texts taken.
    funds: what is said to be left on the account.
    """

    def __init__(
        self,
        *,
        account: str,
        token: str,
        own_number: str,
        now: Callable[[], Ms],
        port: int = 0,
        slow_for: float = 0.2,
    ) -> None:
        self._now, self._slow_for = now, slow_for
        self._login = "Basic " + base64.b64encode(f"{account}:{token}".encode()).decode()
        self._texts = CarrierTexts(account, own_number)
        self._base = f"/{API_VERSION}/Accounts/{account}/Messages"
        self._calls_base = f"/{API_VERSION}/Accounts/{account}/Calls"
        self._balance_path, self._account = f"/{API_VERSION}/Accounts/{account}/Balance.json", account
        self.funds: dict[str, object] = {"balance": "250.00", "currency": "GBP"}
        self._rung = CarrierCalls(account, own_number, self._texts.phones_off)
        self.next_call_ends = self._rung.next_ends
        self.next_answers: deque[Misbehaviour | None] = deque()
        self.next_look_answers: deque[Misbehaviour | None] = deque()
        self.answers_to: dict[str, Misbehaviour] = {}
        self.next_refusals: deque[Complaint] = deque()
        self.next_ends = self._texts.next_ends
        self._sent: list[SentText] = []
        self._calls: deque[Call] = deque(maxlen=CALLS_REMEMBERED)
        self._listeners: list[Callable[[SentText], None]] = []
        self._open = 0
        self._lock = threading.Lock()
        self._closing = threading.Event()
        self._server = CarrierHttp(port, self, now)
        self._thread = threading.Thread(
            target=self._server.serve_forever, args=(STOP_CHECKED_EVERY,), name="carrier stand-in", daemon=True
        )
        self._thread.start()

    # ------------------------------------------------------------ for the demo and the tests

    @property
    def url(self) -> str:
        """Where it listens: ``http://127.0.0.1:PORT``."""
        return f"http://127.0.0.1:{self._server.server_port}"

    @property
    def sent(self) -> tuple[SentText, ...]:
        """Every text taken from the gateway that is on its way to a phone, in order."""
        with self._lock:
            return tuple(self._sent)

    @property
    def rung(self) -> tuple[RungCall, ...]:
        """Every call by voice that the gateway had made, in order."""
        with self._lock:
            return tuple(self._rung.kept)

    @property
    def calls(self) -> tuple[Call, ...]:
        """The last thousand calls, in the order in which they were answered; there before the caller has its answer."""
        with self._lock:
            return tuple(self._calls)

    @property
    def connections(self) -> int:
        """How many connections were opened to it so far."""
        return self._server.accepted

    def quiet(self) -> bool:
        """Whether no call is open: every one that came has had its answer written, or its caller has hung up."""
        with self._lock:
            return self._open == 0

    def on_sent(self, listener: Callable[[SentText], None]) -> None:
        """Call `listener` with each text taken, in a thread of the server and before the gateway has its answer."""
        with self._lock:
            self._listeners.append(listener)

    def text_in(self, number: str, body: str, at: Ms, *, hook_after: Ms | None = 0) -> str:
        """A phone texts the gateway; the text's id. at: its own time, ms UTC. hook_after: ms from then to date_sent
        (which the carrier sets when it calls a web hook), None: no date_sent.

        A whole-message opt-out word blocks texts to that phone with error 21610 until it texts an opt-in word.
        """
        with self._lock:
            return self._texts.receive(number, body, at, hook_after=hook_after).message

    def phone_off(self, number: str, *, off: bool = True) -> None:
        """From now on texts to this phone end undelivered (error 30003), or arrive again."""
        with self._lock:
            (self._texts.phones_off.add if off else self._texts.phones_off.discard)(number)

    def close(self) -> None:
        """Hang up on everybody and stop; done when every thread has ended."""
        self._closing.set()
        self._server.shutdown()
        self._thread.join()
        self._server.hang_up()
        self._server.server_close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # ------------------------------------------------------------ for the server's threads

    def begin(self, method: str, path: str) -> Misbehaviour | None:
        """A call came; how it is to be answered."""
        with self._lock:
            self._open += 1
            queue = self.next_answers if self._creates(method, path) else self.next_look_answers
            return queue.popleft() if queue else None

    def answered(self, method: str, path: str, fields: Form | None, status: int | None) -> None:
        """The answer is about to go out; status None: nothing is said."""
        with self._lock:
            self._calls.append(Call(method=method, path=path, fields=fields, status=status))

    def end(self) -> None:
        """The call is over."""
        with self._lock:
            self._open -= 1

    def answer(self, method: str, path: str, fields: Form | None, login: str, odd: Misbehaviour | None) -> Reply | None:
        """The answer to a call, after acting on it where that is meant; None: say nothing."""
        if fields and self._creates(method, path):
            odd = self.answers_to.pop(fields.get("To", [""])[0], odd)
        right = self._act(method, path, fields, login, FIRST_STATUS.get(odd, "queued")) if odd in ACTING else None
        if odd in SILENT or odd in CUT:
            return None
        if odd is Misbehaviour.SLOW:
            self._closing.wait(self._slow_for)
        if odd is Misbehaviour.UNDATED and right is not None:
            return replace(right, dated=False)
        return right if odd is None or odd not in WRONG_REPLIES else WRONG_REPLIES[odd]

    def _creates(self, method: str, path: str) -> bool:
        return method == "POST" and path in (f"{self._base}.json", f"{self._calls_base}.json")

    def _act(self, method: str, path: str, fields: Form | None, login: str, status: str) -> Reply:
        if not hmac.compare_digest(login.encode(), self._login.encode()):
            return refusal(Complaint(code=20003, message="Authenticate", status=401))
        if fields is None:
            return refusal(Complaint(code=PARAMETER_WRONG, message="The form or query cannot be read"))
        if method == "GET" and path == self._balance_path:
            return Reply(status=200, body=json.dumps({"account_sid": self._account, **self.funds}))
        if path.startswith(self._calls_base):
            return self._voice(method, path, fields)
        if self._creates(method, path):
            return self._create(fields, status)
        if method == "GET" and path == f"{self._base}.json":
            return self._list(fields)
        message = path.removeprefix(f"{self._base}/").removesuffix(".json")
        if method == "GET" and path == f"{self._base}/{message}.json":
            with self._lock:
                return self._shown(200, self._texts.fetch(message, self._now()))
        if method == "POST" and path == f"{self._base}/{message}.json":
            return self._cancel(message, fields)
        return refusal(Complaint(code=20404, message=f"{method} {path} is not known here", status=404))

    def _voice(self, method: str, path: str, fields: Form) -> Reply:
        call = path.removeprefix(f"{self._calls_base}/").removesuffix(".json")
        with self._lock:
            if method == "POST" and path == f"{self._calls_base}.json":
                if self.next_refusals:
                    return refusal(self.next_refusals.popleft())
                return self._call_shown(201, self._rung.create(fields, self._now()))
            if method == "GET" and path == f"{self._calls_base}.json":
                found = self._rung.page(fields)
                if isinstance(found, Complaint):
                    return refusal(found)
                page = {"calls": [self._rung.as_json(one) for one in found], "next_page_uri": None}
                return Reply(status=200, body=json.dumps(page))
            if method == "GET":
                return self._call_shown(200, self._rung.fetch(call))
        return refusal(Complaint(code=20404, message=f"{method} {path} is not known here", status=404))

    def _call_shown(self, status: int, outcome: RungCall | Complaint) -> Reply:
        if isinstance(outcome, Complaint):
            return refusal(outcome)
        return Reply(status=status, body=json.dumps(self._rung.as_json(outcome)))

    def _create(self, form: Form, status: str) -> Reply:
        if complaint := complaint_about(form):
            return refusal(complaint)
        if self.next_refusals:
            return refusal(self.next_refusals.popleft())
        with self._lock:
            outcome = self._texts.create(form, self._now(), status=status)
            reply = self._shown(201, outcome)
            sent = self._remember(outcome, form) if isinstance(outcome, CarrierText) and status == "queued" else None
            listeners = tuple(self._listeners) if sent else ()
        for listener in listeners:
            if sent:
                listener(sent)
        return reply

    def _remember(self, text: CarrierText, form: Form) -> SentText:
        sent = SentText(
            message=text.message,
            number=text.to,
            body=text.body,
            at=text.created,
            valid_for=int(form.get("ValidityPeriod", [str(LONGEST_VALIDITY)])[0]) * SECOND,
            intent=form.get("MessageIntent", [""])[0],
        )
        self._sent.append(sent)
        return sent

    def _cancel(self, message: str, form: Form) -> Reply:
        if complaint := complaint_about_update(form):
            return refusal(complaint)
        with self._lock:
            return self._shown(200, self._texts.cancel(message, self._now()))

    def _shown(self, status: int, outcome: CarrierText | Complaint) -> Reply:
        if isinstance(outcome, Complaint):
            return refusal(outcome)
        return Reply(status=status, body=json.dumps(self._texts.as_json(outcome)))

    def _list(self, filters: Form) -> Reply:
        if complaint := complaint_about_filters(filters):
            return refusal(complaint)
        with self._lock:
            texts, number, size, more = self._texts.page(filters)
            messages = [self._texts.as_json(text) for text in texts]
        start = number * size
        body = {
            "messages": messages,
            "page": number,
            "page_size": size,
            "start": start,
            "end": start + len(messages) - 1 if messages else start,
            "uri": self._page_uri(filters, number, size),
            "first_page_uri": self._page_uri(filters, 0, size),
            "previous_page_uri": self._page_uri(filters, number - 1, size) if number else None,
            "next_page_uri": self._page_uri(filters, number + 1, size) if more else None,
        }
        return Reply(status=200, body=json.dumps(body))

    def _page_uri(self, filters: Form, page: int, size: int) -> str:
        kept = {name: values[0] for name, values in filters.items()}
        return f"{self._base}.json?{urlencode(kept | {'PageSize': str(size), 'Page': str(page)})}"
