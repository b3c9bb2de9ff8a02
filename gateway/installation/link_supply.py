"""What feeds the boat's link ashore, what of it dies with shore power, and how long the bank carries it. Pure.

A boat that falls silent with her shore lead cannot tell that it has gone: silence is then the only alarm, ten minutes
later. (Design: the gateway and all that it speaks through have a supply of their own with ride-through, handbook 1.)
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from gateway.installation.boats import Fitted
from gateway.installation.supply_file import BankTable, Feeds, SupplyTable, SupplyTables
from gateway.reckoning.answers import NoEnd, NotReckoned, Reckoned
from gateway.reckoning.endurance import endurance_h
from gateway.reckoning.limit_ahead import NO_LOAD_A, time_to_limit_h

CHAIN = ("router", "modem", "broker", "gateway")
"""What stands between a sensor and a phone."""

FULL = 100

LEAST_A = NO_LOAD_A + 0.01
"""The sum of handbook 4.3 takes 0.5 A for no load; so little is reckoned as a little more here, which promises less
(our choice: a small bank is empty after a week of it)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkSupply:
    """One boat. dies: of the chain, what dies with shore power. unsaid: of which nobody has said what feeds it. amps:
    standing current from the house bank, A. lasts: in words, how long the bank carries it, "" when it draws nothing."""

    boat: str
    dies: tuple[str, ...]
    unsaid: tuple[str, ...]
    amps: float
    lasts: str


def link_supply(boat: Fitted) -> LinkSupply:
    """What boat.toml says of it."""
    tables = _supply(boat)
    fed = {name: table for name, table in tables.items() if table is not None}
    amps = sum(float(table.amps) for table in fed.values() if table.fed_by is Feeds.HOUSE)
    return LinkSupply(
        boat=boat.boat.key,
        dies=tuple(name for name, table in fed.items() if table.fed_by is Feeds.SHORE),
        unsaid=tuple(name for name in CHAIN if name not in fed),
        amps=amps,
        lasts=_lasts(boat.bank, amps) if amps else "",
    )


def looks(found: LinkSupply) -> Iterator[str]:
    """What deserves a second look, each with its file."""
    file = f"boats/{found.boat}/boat.toml"
    if found.unsaid:
        names = _joined(found.unsaid)
        yield (
            f"{file}: supply: nobody has said what feeds {names}; write [supply.{found.unsaid[0]}] with fed_by "
            f"({', '.join(feeds.value for feeds in Feeds)}) and amps"
        )
    if found.dies:
        yield (
            f"{file}: supply: {_joined(found.dies)} dies with shore power, so no alarm of its loss leaves the boat; "
            "feed it from the house bank or a battery of its own"
        )


def supply_lines(rows: tuple[LinkSupply, ...]) -> Iterator[str]:
    """For the sheet; nothing where nobody has said anything."""
    said = [row for row in rows if row.amps]
    if said:
        yield "What the link draws from the house bank when all is quiet:"
        for row in said:
            yield f"  {row.boat}: {row.amps:g} A; {row.lasts}"
        yield ""


def _supply(boat: Fitted) -> Mapping[str, SupplyTable | None]:
    tables = boat.supply or SupplyTables()
    return {name: getattr(tables, name) for name in CHAIN}


def _lasts(bank: BankTable | None, amps: float) -> str:
    """By the sums of handbook 4.2 and 4.3, from full, with nothing else on."""
    if bank is None:
        return "how long is not known: write [bank] with capacity, rated_hours, peukert and limit"
    rating = {
        "capacity_ah": float(bank.capacity),
        "rated_h": float(bank.rated_hours),
        "peukert_k": float(bank.peukert),
    }
    down = time_to_limit_h(**rating, charge_percent=FULL, limit_percent=float(bank.limit), load_a=max(amps, LEAST_A))
    empty = endurance_h(**rating, load_a=amps)
    return f"from full to {bank.limit:f}% {_said(down)}, to empty {_said(empty)}, with nothing else on"


def _said(answer: Reckoned | NoEnd | NotReckoned) -> str:
    if isinstance(answer, Reckoned):
        return f"in {answer.said}"
    return "in more than 240 h" if isinstance(answer, NoEnd) else f"(not reckoned: {answer.because})"


def _joined(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
