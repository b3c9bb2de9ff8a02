"""Two gateways with one client id are recognised and stop tearing at each other."""

import asyncio

from hypothesis import given
from hypothesis import strategies as st

from gateway.doors.bus.patience import CUTS_TO_SUSPECT, Ended, Patience, Waits
from tests.doors.brokers import Ear, settings
from tests.doors.conftest import Place

CUT = Ended(detail="cut", lived=0.5, cut=True)
REFUSED = Ended(detail="refused")
STEADY = Ended(detail="cut", lived=3600.0, cut=True)


def test_the_same_client_id_used_twice_is_said_to_both(place: Place) -> None:
    patience = Patience(first=0.01, longest=0.05)

    async def run() -> None:
        chosen = settings(place.port, client_id=place.name, version=place.version)
        one, other = Ear(chosen, patience), Ear(chosen, patience)
        await one.bus.open(["alarm"])
        await other.bus.open(["alarm"])
        for ear in (one, other):
            change = await ear.told(up=False, having=f"client id '{place.name}'")
            assert "give every gateway a client_id of its own" in change.detail
        await one.bus.close()
        await other.bus.close()

    asyncio.run(run())


def test_the_broker_naming_the_take_over_is_enough() -> None:
    waits = Waits(Patience())
    waits.after(Ended(detail="taken over", lived=0.5, cut=True, taken_over=True))
    assert "another client has connected with our client id 'gw'" in waits.suspicion("gw")


def test_one_cut_is_a_restart_and_several_soon_after_the_welcome_are_suspicious() -> None:
    waits = Waits(Patience())
    for _ in range(CUTS_TO_SUSPECT - 1):
        waits.after(CUT)
        assert waits.suspicion("gw") == ""
    waits.after(CUT)
    assert "may be using our client id 'gw'" in waits.suspicion("gw")
    waits.after(STEADY)
    assert waits.suspicion("gw") == ""


def test_a_broker_that_is_away_raises_no_suspicion() -> None:
    waits = Waits(Patience())
    for _ in range(50):
        waits.after(REFUSED)
    assert waits.suspicion("gw") == ""


def test_the_waits_double_from_one_second_to_thirty_and_begin_anew_after_a_steady_connection() -> None:
    waits = Waits(Patience())
    assert [waits.after(REFUSED) for _ in range(7)] == [1, 2, 4, 8, 16, 30, 30]
    assert waits.after(CUT) == 30  # a short connection is no reason to hurry: two clients with one id would
    assert waits.after(STEADY) == 1


@given(st.lists(st.sampled_from([CUT, REFUSED, STEADY])))
def test_every_wait_is_between_the_first_and_the_longest(ends: list[Ended]) -> None:
    patience = Patience(first=1.0, longest=30.0)
    waits = Waits(patience)
    for end in ends:
        assert patience.first <= waits.after(end) <= patience.longest
