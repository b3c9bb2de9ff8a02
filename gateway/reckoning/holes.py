"""What runs in through a hole below the water (handbook 4.5).

Q = Cd A sqrt(2 g h) (Torricelli). Which Cd is always said: 1 is the ideal upper bound that most printed tables show
(William H. Seward Yacht Club's; Acker Marine Survey), 0.6 a sharp-edged hole (a fluid-dynamics forum; the table of
Ocean Navigator, June 2021). A printed rule "20 D sqrt(H)" is linear in the diameter and wrong but at 1 inch.
"""

from enum import StrEnum
from math import pi, sqrt

from gateway.reckoning.answers import Answer, Reckoned
from gateway.reckoning.asking import Choice, Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import figures
from gateway.reckoning.units import LITRES_PER_US_GALLON, feet, inches

GRAVITY = 9.80665
"""m/s2, standard gravity (3rd CGPM, 1901)."""


class Edge(StrEnum):
    """The hole's edge, which settles Cd."""

    SHARP = "sharp"
    IDEAL = "ideal"

    @property
    def cd(self) -> float:
        """Discharge coefficient: 0.6 for a sharp edge, 1 for the ideal hole."""
        return 0.6 if self is Edge.SHARP else 1.0


HOLE_MM = Quantity(key="hole_mm", unit="mm", words="the hole's diameter", lowest=1, highest=500, also=(inches("hole"),))
DEPTH_M = Quantity(
    key="depth_m",
    unit="m",
    words="its depth below the water outside",
    lowest=0.01,
    highest=10,
    also=(feet("depth"),),
)
EDGE = Choice(key="edge", words="the hole's edge: sharp is Cd 0.6, ideal Cd 1", options=tuple(Edge), usual=Edge.SHARP)


def hole_l_per_min(*, hole_mm: float, depth_m: float, edge: Edge) -> Answer:
    """Inflow, L/min, through a round hole (mm) at a depth (m) below the water outside, air or lower water inside.

    It falls as the water inside rises over the hole. Source: handbook 4.5, module docstring.
    """
    if wrong := out_of_range((HOLE_MM, hole_mm), (DEPTH_M, depth_m)):
        return wrong
    cubic_metres_per_s = edge.cd * pi / 4 * (hole_mm / 1_000) ** 2 * sqrt(2 * GRAVITY * depth_m)
    return _flow(cubic_metres_per_s * 1_000 * 60, "L/min")


def _flow(value: float, unit: str) -> Reckoned:
    """Two figures: Cd is not known better."""
    return Reckoned(value=value, shown=figures(value, 2), unit=unit)


def _at_the_bench(hole_mm: float, depth_m: float, edge: str) -> tuple[Result, ...]:
    chosen = Edge(edge)
    name = f"Inflow with Cd {chosen.cd:g} ({chosen.value})"
    flow = hole_l_per_min(hole_mm=hole_mm, depth_m=depth_m, edge=chosen)
    if not isinstance(flow, Reckoned):
        return (Result(name, flow),)
    return (
        Result(name, flow),
        Result(name, _flow(flow.value * 60, "L/h")),
        Result(name, _flow(flow.value / LITRES_PER_US_GALLON, "US gal/min")),
    )


HOLE = Sum(
    name="hole",
    asks="What runs in through a hole below the water?",
    takes=(HOLE_MM, DEPTH_M, EDGE),
    reckon=_at_the_bench,
    formula="Q = Cd A sqrt(2 g h), g = 9.80665 m/s2",
    source=(
        "handbook 4.5; Torricelli; tables of the William H. Seward Yacht Club (Cd 1) and of Ocean Navigator, June 2021 "
        "(Cd 0.6)"
    ),
    caution="No usual bilge pump keeps up with a failed through-hull. Know where the seacocks and wooden plugs are.",
)
