"""How long a generating set may try to start (handbook 4.6).

A cycle is about 15 s of cranking and 15 s of rest (NFPA 110-2002, 5.6.4.2); three tries, none longer than 15 s (UFGS
16263A, 2.11.2); behind the last the set's own controller locks until a person resets it there. The gateway asks that
controller to start and never works the starter itself.
"""

from decimal import Decimal

from gateway.reckoning.answers import Answer, Reckoned
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import up

TRIES = Quantity(key="tries", unit="", words="the number of tries", lowest=1, highest=3, usual=3, whole=True)
"""Never more than three: cranking on floods a raw-water set through its exhaust (handbook 4.6, common practice)."""
CRANK_S = Quantity(key="crank_s", unit="s", words="the length of each try", lowest=1, highest=15, usual=15)
REST_S = Quantity(key="rest_s", unit="s", words="the rest between tries", lowest=15, highest=120, usual=15)


def start_takes_at_most_s(*, tries: float, crank_s: float, rest_s: float) -> Answer:
    """Seconds from the first crank to the lock-out: tries x crank + (tries - 1) x rest. Source: handbook 4.6."""
    if wrong := out_of_range((TRIES, tries), (CRANK_S, crank_s), (REST_S, rest_s)):
        return wrong
    seconds = tries * crank_s + (tries - 1) * rest_s
    return Reckoned(value=seconds, shown=up(seconds, Decimal(1)), unit="s")


CRANKING = Sum(
    name="cranking",
    asks="How long from the first crank until the set gives up?",
    takes=(TRIES, CRANK_S, REST_S),
    reckon=lambda **given: (Result("Until the lock-out", start_takes_at_most_s(**given)),),
    formula="tries x crank + (tries - 1) x rest",
    source="handbook 4.6; NFPA 110-2002, 5.6.4.2; UFGS 16263A, 2.11.2",
    caution="After the lock-out no further try from afar: a person looks at the set first. Preheating comes on top.",
)
