"""The life of one request to switch something, as a table: every state, every event, decided.

States and events are our own plain words. The table holds two promises by its shape alone: `sent` is reached from
`confirmed` only, and `confirmed` from a wait for a code only (handbook G6), of its person or of a second one; and
nothing leads back to `sent`, so that no command goes out twice (handbook G8). Every other pair stands in `LEFT`: it is
refused and changes nothing.
"""

from collections.abc import Mapping
from enum import StrEnum


class RequestState(StrEnum):
    """Where a request stands."""

    NEW = "new"
    WAITING = "waiting for its code"
    SECOND = "waiting for its second person"  # its own person has confirmed; nothing is switched yet
    CONFIRMED = "confirmed"  # only within one step of the desk: it is sent or refused at once
    SENT = "sent"  # handed over for the broker
    TAKEN = "taken"  # the broker has it
    SEEN = "seen"  # the feedback contact shows it; the measured number is waited for
    # ends
    REFUSED = "refused"
    EXPIRED = "expired"
    VOID = "void"  # too many wrong words, or its person is locked
    WITHDRAWN = "withdrawn"
    REPLACED = "replaced"  # by a newer request of the same person
    LAPSED = "lapsed"  # its equipment or person is no longer in the installation
    NOT_SENT = "not sent"
    PROVED = "proved"
    UNPROVEN = "unproven"


class RequestEvent(StrEnum):
    """What can happen to a request."""

    OFFER = "offer"  # nothing stands against it: caution and code go out
    REFUSE = "refuse"  # something stands against it
    PASS_ON = "pass on"  # the right words, in time, from its person; a second person is asked as well
    CONFIRM = "confirm"  # the right words, in time, from the last person who is asked
    VOID = "void"
    EXPIRE = "expire"
    WITHDRAW = "withdraw"
    REPLACE = "replace"
    LAPSE = "lapse"
    SEND = "send"
    TAKE = "take"  # the broker took it
    NOT_TAKE = "not take"  # the broker did not
    SEE = "see"  # the feedback contact shows the wanted state
    LOSE = "lose"  # and then no longer, or the number that goes with it speaks against it
    PROVE = "prove"
    OVERDUE = "overdue"  # no proof in time
    RESTART = "restart"  # the gateway began anew


S, E = RequestState, RequestEvent

STEPS: Mapping[RequestState, Mapping[RequestEvent, RequestState]] = {
    S.NEW: {E.OFFER: S.WAITING, E.REFUSE: S.REFUSED},
    S.WAITING: {
        E.PASS_ON: S.SECOND,
        E.CONFIRM: S.CONFIRMED,
        E.VOID: S.VOID,
        E.EXPIRE: S.EXPIRED,
        E.WITHDRAW: S.WITHDRAWN,
        E.REPLACE: S.REPLACED,
        E.LAPSE: S.LAPSED,
        E.RESTART: S.WAITING,
    },
    S.SECOND: {
        E.CONFIRM: S.CONFIRMED,
        E.VOID: S.VOID,
        E.EXPIRE: S.EXPIRED,
        E.WITHDRAW: S.WITHDRAWN,
        E.REPLACE: S.REPLACED,
        E.LAPSE: S.LAPSED,
        E.RESTART: S.SECOND,
    },
    S.CONFIRMED: {E.SEND: S.SENT, E.REFUSE: S.REFUSED, E.LAPSE: S.LAPSED, E.RESTART: S.LAPSED},
    S.SENT: {
        E.TAKE: S.TAKEN,
        E.NOT_TAKE: S.NOT_SENT,
        E.SEE: S.SEEN,
        E.OVERDUE: S.UNPROVEN,
        E.LAPSE: S.UNPROVEN,
        E.RESTART: S.UNPROVEN,
    },
    S.TAKEN: {E.SEE: S.SEEN, E.OVERDUE: S.UNPROVEN, E.LAPSE: S.UNPROVEN, E.RESTART: S.UNPROVEN},
    S.SEEN: {
        E.TAKE: S.SEEN,
        E.NOT_TAKE: S.SEEN,  # what was measured outweighs what the broker said
        E.LOSE: S.TAKEN,
        E.PROVE: S.PROVED,
        E.LAPSE: S.UNPROVEN,
        E.RESTART: S.UNPROVEN,
    },
    S.REFUSED: {},
    S.EXPIRED: {},
    S.VOID: {},
    S.WITHDRAWN: {},
    S.REPLACED: {},
    S.LAPSED: {},
    S.NOT_SENT: {},
    S.PROVED: {},
    S.UNPROVEN: {},
}
"""(state, event) -> next state."""

AFTER_SENDING = frozenset({E.SEND, E.TAKE, E.NOT_TAKE, E.SEE, E.LOSE, E.PROVE, E.OVERDUE})
BY_ITS_PERSON = frozenset({E.OFFER, E.PASS_ON, E.CONFIRM, E.VOID, E.EXPIRE, E.WITHDRAW, E.REPLACE})

LEFT: Mapping[RequestState, frozenset[RequestEvent]] = {
    S.NEW: AFTER_SENDING | (BY_ITS_PERSON - {E.OFFER}) | {E.LAPSE, E.RESTART},
    S.WAITING: AFTER_SENDING | {E.OFFER, E.REFUSE},
    S.SECOND: AFTER_SENDING | {E.OFFER, E.PASS_ON, E.REFUSE},
    S.CONFIRMED: (AFTER_SENDING - {E.SEND}) | BY_ITS_PERSON,
    S.SENT: BY_ITS_PERSON | {E.REFUSE, E.SEND, E.LOSE, E.PROVE},
    S.TAKEN: BY_ITS_PERSON | {E.REFUSE, E.SEND, E.TAKE, E.NOT_TAKE, E.LOSE, E.PROVE},
    S.SEEN: BY_ITS_PERSON | {E.REFUSE, E.SEND, E.SEE, E.OVERDUE},
    **dict.fromkeys((state for state, row in STEPS.items() if not row), frozenset(E)),
}
"""What changes nothing in each state, said one by one: a pair that stands in neither table is a gap that a test finds.
A command that is out cannot be taken back by its person; an end has no more steps."""

ENDS = frozenset(state for state, row in STEPS.items() if not row)
"""States that nothing leads out of."""

WITH_A_CODE = frozenset({S.WAITING, S.SECOND})
"""States in which two words are waited for."""

UNDER_WAY = frozenset({S.SENT, S.TAKEN, S.SEEN})
"""States in which a command is out and its result is not known yet."""


def step(state: RequestState, event: RequestEvent) -> RequestState | None:
    """The next state, or None when the step is refused and nothing changes."""
    return STEPS[state].get(event)
