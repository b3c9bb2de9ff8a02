"""The carrier's account: read once a day, and told by day to who minds the boats, while little is left on it."""

from dataclasses import replace
from decimal import Decimal

from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import BalanceSeen, InstallationCame, Started, WallClockStepped
from gateway.vocabulary.moments import DAY, HOUR, MINUTE
from tests.desk.small_boat import BEGAN, BOAT, RUTH, SHORE, Small, bundle_of


def with_limit(limit: str = "20") -> Small:
    whole = bundle_of(SHORE)
    carrier = whole.boats[BOAT].carrier
    boat = Small(Desk(replace(whole, balance_low={carrier: Decimal(limit)})), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint="f" * 64, people=tuple(whole.people)))
    boat.take(Started(stopped_at=None))
    boat.now = BEGAN
    return boat


def holds(boat: Small, amount: str) -> None:
    boat.take(BalanceSeen(carrier=boat.desk.bundle.boats[BOAT].carrier, amount=amount, currency="GBP"))


def low(boat: Small) -> list[tuple[str, int]]:
    """Who was told, and when (hours since 03:00)."""
    return [(who, at // HOUR) for who, about, at in boat.told() if about == "balance low"]


def test_little_on_the_account_is_told_to_the_installer_by_day() -> None:
    boat = with_limit()
    holds(boat, "19.99")
    boat.wait(6 * HOUR - MINUTE)
    assert low(boat) == []
    boat.wait(DAY)
    assert low(boat) == [(RUTH, 6)]
    assert boat.sent[-1].body == (
        "Gateway: account of carrier main holds 19.99 GBP, limit 20. Empty it sends no alarm. Fill it up. "
        "Told once a day till then"
    )
    assert boat.rebuilt() == boat.bytes()


def test_each_day_anew_until_it_is_filled_up() -> None:
    boat = with_limit()
    for amount in ("12", "11.5", "200", "199"):
        holds(boat, amount)
        boat.wait(DAY)
    assert low(boat) == [(RUTH, 6), (RUTH, 30)]


def test_as_much_as_the_limit_is_enough_and_a_debt_is_not() -> None:
    boat = with_limit()
    holds(boat, "20.00")
    boat.wait(DAY)
    assert low(boat) == []
    holds(boat, "-3.20")
    boat.wait(DAY)
    assert len(low(boat)) == 1


def test_filled_up_before_the_morning_nobody_hears_of_it() -> None:
    boat = with_limit()
    holds(boat, "3")
    boat.wait(HOUR)
    holds(boat, "300")
    boat.wait(DAY)
    assert low(boat) == []


def test_it_is_told_by_the_day_of_a_clock_that_was_set_right() -> None:
    boat = with_limit()
    holds(boat, "3")
    boat.take(WallClockStepped(by=-4 * HOUR))
    boat.wait(10 * HOUR - MINUTE)
    assert low(boat) == [], "it is 08:59 there"
    boat.wait(2 * MINUTE)
    assert low(boat) == [(RUTH, 10)]
    assert boat.rebuilt() == boat.bytes()


def test_every_reading_stands_in_the_record() -> None:
    boat = with_limit()
    holds(boat, "250.00")
    bodies = [w.entry.body for w in boat.entries if w.entry.kind == "balance-read"]
    assert [(one["amount"], one["currency"], one["tell_at"]) for one in bodies] == [("250.00", "GBP", None)]
