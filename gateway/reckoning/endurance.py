"""How long a charged battery carries a steady load (handbook 4.2, Peukert).

t = H (C / (I H))^k: C is the capacity rated at H hours, and k the battery's exponent, from its maker or from two of its
ratings. The form t = C / I^k, which is printed too, is right only with the capacity at 1 A and is not ours. Sources:
a battery retailer's "Math behind the magic" (formula), another's "Peukert's law - how long" (usual exponents: flooded
1.2 to 1.6, AGM 1.05 to 1.15, gel 1.1 to 1.25).
"""

from decimal import Decimal
from math import log

from gateway.reckoning.answers import Answer, NotReckoned, Reckoned, hours
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.charge import CAPACITY_AH
from gateway.reckoning.rounding import nearest

RATED_H = Quantity(
    key="rated_h", unit="h", words="the hours of that rating", lowest=1, highest=100, usual=20
)  # 20 h is the trade's usual rating
PEUKERT_K = Quantity(key="peukert_k", unit="", words="the exponent", lowest=1.0, highest=1.6)
"""1.6 is the most that the source gives for any battery."""
LOAD_A = Quantity(key="load_a", unit="A", words="the load", lowest=0.01, highest=10_000)
FIRST_AH = Quantity(key="first_ah", unit="Ah", words="the first rating's capacity", lowest=1, highest=100_000)
FIRST_H = Quantity(key="first_h", unit="h", words="the first rating's hours", lowest=0.1, highest=200)
SECOND_AH = Quantity(key="second_ah", unit="Ah", words="the second rating's capacity", lowest=1, highest=100_000)
SECOND_H = Quantity(key="second_h", unit="h", words="the second rating's hours", lowest=0.1, highest=200)


def counted_load_a(*, load_a: float, capacity_ah: float, rated_h: float, peukert_k: float) -> float:
    """The load as the battery feels it, A: max(I, I (I H / C)^(k-1)); more than it is above the rated current, never
    less below (handbook 4.3, our rule: never credit more than rated). All inputs more than 0."""
    felt: float = load_a * (load_a * rated_h / capacity_ah) ** (peukert_k - 1)
    return max(load_a, felt)


def endurance_h(*, capacity_ah: float, rated_h: float, peukert_k: float, load_a: float) -> Answer:
    """Hours from full to empty at a steady load. capacity_ah at rated_h (h), load_a in A, peukert_k 1.0 to 1.6.

    Below the rated current C / H it is C / I and no more. Source: handbook 4.2, module docstring.
    """
    if wrong := out_of_range((CAPACITY_AH, capacity_ah), (RATED_H, rated_h), (PEUKERT_K, peukert_k), (LOAD_A, load_a)):
        return wrong
    return hours(
        capacity_ah / counted_load_a(load_a=load_a, capacity_ah=capacity_ah, rated_h=rated_h, peukert_k=peukert_k)
    )


def peukert_exponent(*, first_ah: float, first_h: float, second_ah: float, second_h: float) -> Answer:
    """k = ln(H1/H2) / ln(I2/I1) with I = C/H, from two ratings of one battery; Ah and h. Source: handbook 4.2.

    Refused when the ratings are one and the same or give no exponent between 1.0 and 1.6: then one is misread.
    """
    if wrong := out_of_range((FIRST_AH, first_ah), (FIRST_H, first_h), (SECOND_AH, second_ah), (SECOND_H, second_h)):
        return wrong
    if first_h == second_h:
        return NotReckoned("both ratings are for the same hours; two different ones are needed")
    currents = (second_ah / second_h) / (first_ah / first_h)
    k = log(first_h / second_h) / log(currents) if currents != 1 else float("inf")
    if not PEUKERT_K.holds(round(k, 9)):  # equal capacities give 1 but for the last digit
        return NotReckoned(
            "these two ratings give no exponent between 1.0 and 1.6: look whether both are of one battery, "
            "and whether the longer one has the greater capacity"
        )
    k = min(max(k, PEUKERT_K.lowest), PEUKERT_K.highest)
    return Reckoned(value=k, shown=nearest(k, Decimal("0.01")), unit="")


_SOURCE = (
    "handbook 4.2; battery retailers' 'Math behind the magic' (formula) and 'Peukert's law - how long' "
    "(usual exponents: flooded 1.2-1.6, AGM 1.05-1.15, gel 1.1-1.25)"
)

ENDURANCE = Sum(
    name="endurance",
    asks="How long does a full battery carry a steady load?",
    takes=(CAPACITY_AH, RATED_H, PEUKERT_K, LOAD_A),
    reckon=lambda **given: (Result("From full to empty", endurance_h(**given)),),
    formula="t = H (C / (I H))^k, and never more than C / I",
    source=_SOURCE,
    caution="For a new battery, full, at about 25 C. Old and cold ones give less; emptying wears lead out.",
)

EXPONENT = Sum(
    name="exponent",
    asks="Which exponent follows from two ratings of a battery?",
    takes=(FIRST_AH, FIRST_H, SECOND_AH, SECOND_H),
    reckon=lambda **given: (Result("Exponent k", peukert_exponent(**given)),),
    formula="k = ln(H1 / H2) / ln(I2 / I1), I = C / H",
    source=_SOURCE,
    caution="Both ratings from one data sheet of one battery. The maker's own exponent goes before this one.",
)
