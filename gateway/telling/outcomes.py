"""What each end of a text at the carrier means, and what follows from it: one table, read by all who must act.

Codes and meanings: the carrier's own errors page of each number, unless the row says otherwise. Its OpenAPI description
warns that codes change and that nothing should hang on one: so a code that is not here is treated as the worst that
leaves a person untold (`UNKNOWN`). The waits are the carrier's own where it names any, else common practice.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from gateway.vocabulary.moments import MINUTE, SECOND, Ms


class Way(StrEnum):
    """By what else the same person can be reached, where another text to this number is of no use."""

    TEXT = "text"  # this way is good: nothing says that the next text would not arrive
    VOICE = "voice"  # the number takes calls, not texts
    OTHER = "other"  # nothing reaches this number from here


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One row.

    retry: waits (ms) before the same text is tried again, one for each try; empty: never. for_ever: the last wait is
    repeated until the text is no longer of use. look_first: nobody knows whether the carrier has it, so it is looked up
    before it is repeated. next_person: the next one on the list is told so long (ms) after the first bad word; None:
    this is no reason to. next_way: by what else this person can be reached. tell_installer: it will not mend itself.
    cut_off: the person has opted out and counts as unreachable. meaning: for people; cure: what the installer does.
    """

    meaning: str
    retry: tuple[Ms, ...] = ()
    for_ever: bool = False
    look_first: bool = False
    next_person: Ms | None = 0
    next_way: Way = Way.TEXT
    tell_installer: bool = True
    cut_off: bool = False
    cure: str = "look the code up with the carrier"

    def wait(self, tries: int) -> Ms | None:
        """How long (ms) to wait before the next try after so many tries went wrong (1 or more); None: no more."""
        if tries <= len(self.retry):
            return self.retry[tries - 1]
        return self.retry[-1] if self.for_ever and self.retry else None


NO_ANSWER = "no answer"
"""Our own code: silence, a cut line, an error page, JSON of no known shape; the outcome is unknown."""

NO_CARRIER = "no carrier"
"""Our own code for a text whose carrier is no longer in the installation (it waited from before the change)."""

HELD = "held"
"""Our own code for a text that the carrier put off until morning; it was withdrawn."""

BUSY, NOT_ANSWERED = "busy", "no-answer"
"""The carrier's words for a call that nobody took; they stand for a code, for it gives none."""


def code_of_call(status: str) -> str:
    """What stands for a code where a call has come to this word."""
    return status if status in (BUSY, NOT_ANSWERED) else ""


OPTED_OUT = "21610"
"""The addressee has opted out (or the number has a new holder, by the carrier's messaging guidance)."""

TOO_MANY = "20429"

FOR_NOW = frozenset({NO_ANSWER})
"""Ends that say nothing of the text or its addressee: the same text may go when the carrier is back."""

_LOGIN = Outcome(
    meaning="the carrier does not accept the account's key, or the account is suspended",
    next_way=Way.OTHER,
    cure="check the account and its token with the carrier",
)
_SENDER = Outcome(
    meaning="the gateway's own number may not send texts there",
    next_way=Way.OTHER,
    cure="check the sender number with the carrier",
)
_TRIAL = Outcome(
    meaning="the account is on trial and this number is not verified",
    next_way=Way.OTHER,
    cure="finish the account's registration",
)
_LANDLINE = Outcome(
    meaning="the number is a landline or takes no texts",
    next_way=Way.VOICE,
    cure="ring; put a mobile number in its place",
)
_NO_SUCH = Outcome(meaning="the number is not in use", next_way=Way.OTHER, cure="check the number in people.toml")
_UNREGISTERED = Outcome(
    meaning="the gateway's number is not registered; nothing will ever arrive from it",
    next_way=Way.OTHER,
    cure="finish the sender's registration with the carrier",
)
_QUIET_HOURS = Outcome(
    meaning="the carrier holds texts back at night", cure="switch the carrier's quiet hours off for this account"
)
_SUSPENDED = Outcome(
    meaning="the account was suspended, perhaps for want of credit",
    next_way=Way.OTHER,
    cure="check the account's balance with the carrier",
)
_MADE_BY_MACHINE = Outcome(
    meaning="a text to the gateway was held back by the carrier's filter", next_person=None, cure="ask the carrier why"
)
_HOOK = Outcome(
    meaning="the carrier could not reach the web hook; texts are polled meanwhile",
    next_person=None,
    cure="check the web hook's address and its proxy",
)

_NOBODY_THERE = Outcome(meaning="nobody took the call", tell_installer=False, cure="nothing: the list goes on")

OUTCOMES: Mapping[str, Outcome] = {
    "20003": _LOGIN,
    "20403": _SUSPENDED,
    # Its page: not processed, safe to repeat after 1, 2, 4 s.
    TOO_MANY: Outcome(
        meaning="too many requests at once",
        retry=(SECOND, 2 * SECOND, 4 * SECOND),
        next_person=7 * SECOND,
        tell_installer=False,
    ),
    "21211": Outcome(
        meaning="the number is no telephone number", next_way=Way.OTHER, cure="mend the number in people.toml"
    ),
    "21408": Outcome(
        meaning="texts to that country are not switched on",
        next_way=Way.OTHER,
        cure="switch the country on with the carrier",
    ),
    "21606": _SENDER,
    "21659": _SENDER,
    "21608": _TRIAL,
    "572005": _TRIAL,
    OPTED_OUT: Outcome(
        meaning="the phone has opted out of texts from the gateway",
        next_way=Way.OTHER,
        cut_off=True,
        cure="ask the person to text START from that phone",
    ),
    "21611": Outcome(
        meaning="hours of texts are waiting on this sender already", cure="look in the record for what sends so many"
    ),
    "21614": _LANDLINE,
    "21635": _LANDLINE,
    # More than 30 replies between two numbers under 30 s apart: another text would only feed the loop.
    "14107": Outcome(
        meaning="too many answers to one number; two machines may be talking",
        next_person=None,
        cure="look in the record who answers whom",
    ),
    "30001": Outcome(meaning="the carrier's queue is full", retry=(MINUTE,), tell_installer=False),
    "30002": _SUSPENDED,
    # 2 to 5 min by its page: the shorter half, an alarm is waiting.
    "30003": Outcome(meaning="the phone is off or has no service", retry=(3 * MINUTE,), tell_installer=False),
    "30004": Outcome(
        meaning="the phone refuses texts from the gateway",  # meaning from memory
        next_way=Way.OTHER,
        cure="ask the person to take the gateway's number off the phone's list of blocked ones",
    ),
    "30005": _NO_SUCH,  # meaning from memory
    "30006": _LANDLINE,
    "30007": Outcome(
        meaning="the text was filtered because of what it says", cure="ask the carrier why; mind links and odd names"
    ),
    "30008": Outcome(meaning="it did not arrive, and nobody says why", retry=(2 * MINUTE,), tell_installer=False),
    "30022": Outcome(
        meaning="more texts than the registration allows", retry=(MINUTE,), cure="ask the carrier for a higher rate"
    ),
    "30024": Outcome(
        meaning="the gateway's number is not set up with that phone's network",
        next_way=Way.OTHER,
        cure="check the sender's registration with the carrier",
    ),
    "30032": _UNREGISTERED,
    "30034": _UNREGISTERED,
    # Asked for again by the list itself, with what holds by then.
    "30036": Outcome(
        meaning="it waited at the carrier for longer than it was of use", retry=(SECOND,), tell_installer=False
    ),
    "30038": _MADE_BY_MACHINE,
    "30039": _MADE_BY_MACHINE,
    "30450": Outcome(
        meaning="the carrier takes our texts for a fraud on its prices", cure="clear it up with the carrier"
    ),
    "30610": _QUIET_HOURS,
    "30047": _QUIET_HOURS,
    HELD: _QUIET_HOURS,
    **dict.fromkeys((BUSY, NOT_ANSWERED), _NOBODY_THERE),
    "90007": Outcome(
        meaning="the gateway gave a time that the carrier does not take", cure="report it: a fault of the gateway"
    ),
    "11200": _HOOK,
    "11205": _HOOK,
    NO_CARRIER: Outcome(
        meaning="its carrier is no longer in gateway.toml", next_way=Way.OTHER, cure="check the carrier of each boat"
    ),
    # Common practice; a marina network is often back within a minute.
    NO_ANSWER: Outcome(
        meaning="the carrier gave no answer",
        retry=(5 * SECOND, 15 * SECOND, 45 * SECOND),
        for_ever=True,
        look_first=True,
        next_person=MINUTE,
        tell_installer=False,
        cure="look at the gateway's link to the internet",
    ),
}
"""By the carrier's code as text, and our own words where it has none."""

UNKNOWN = Outcome(meaning="the carrier gives a code that is not known here")
"""Any other code: not delivered, go on to the next person, tell the installer."""

TOO_MANY_STATUS = "429"
"""The same without a word of the carrier's own (RFC 6585 4: sent too many requests in a given time)."""


def outcome_of(code: str) -> Outcome:
    """What a code means; `UNKNOWN` for one that is not in the table."""
    return OUTCOMES[TOO_MANY] if code == TOO_MANY_STATUS else OUTCOMES.get(code, UNKNOWN)
