"""What is seen of a boat at a moment: since when she is silent, and when a verdict may turn by time alone."""

from gateway.boat.latest import BoatsSeen
from gateway.boat.settings import Carries, Signal
from gateway.conditions.past import Past, Pasts
from gateway.conditions.sight import Sight, need_of
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import HasChanged, NoNews, StartedOften

BOAT, T0 = "grey-wagtail", 1_772_334_240_000
PUMP = Signal(id=f"{BOAT}/pump", boat=BOAT, key="pump", topic="t", carries=Carries.CONTACT, report_interval=30 * SECOND)
CHANGED = HasChanged(signal="pump", window=10 * MINUTE)
OFTEN = StartedOften(signal="pump", more_than=1, window=HOUR)


def sight(
    started: Ms = T0, link_up_since: Ms | None = T0, pasts: Pasts | None = None, heard: Ms | None = None
) -> Sight:
    seen = BoatsSeen() if heard is None else BoatsSeen(arrived={PUMP.id: heard}, heard={BOAT: heard})
    return Sight(BOAT, {PUMP.id: PUMP}, seen, Pasts() if pasts is None else pasts, started, link_up_since)


def test_a_silence_beside_other_conditions_counts_from_the_last_of_news_start_and_link() -> None:
    for leaf in (NoNews(signal="pump", lasting=MINUTE), NoNews(signal=None, lasting=MINUTE)):
        assert sight(started=T0 + 2, link_up_since=T0 + 1, heard=T0).silent_since(leaf) == T0 + 2
        assert sight(started=T0, link_up_since=T0 + 1, heard=T0).silent_since(leaf) == T0 + 1
        assert sight(started=T0, link_up_since=T0, heard=T0 + 3).silent_since(leaf) == T0 + 3
        assert sight(link_up_since=None).silent_since(leaf) is None


def kept(leaf: HasChanged | StartedOften, *instants: Ms) -> Pasts:
    return Pasts(past={need_of(leaf, PUMP).key: Past(known_since=T0, instants=list(instants))})


def test_that_nothing_changed_or_started_is_known_when_the_whole_window_has_been_seen() -> None:
    """Also by time alone: `not (heartbeat changed in the last 10 min)` waits for no news."""
    assert sight(pasts=kept(CHANGED)).turns_after(CHANGED, T0) == [T0 + 10 * MINUTE]
    assert sight(pasts=kept(OFTEN)).turns_after(OFTEN, T0) == [T0 + HOUR]


def test_what_changed_or_started_too_often_ceases_when_it_leaves_the_window() -> None:
    changed = sight(pasts=kept(CHANGED, T0 + MINUTE))
    assert changed.turns_after(CHANGED, T0) == [T0 + 10 * MINUTE, T0 + 11 * MINUTE]
    often = sight(pasts=kept(OFTEN, T0 + MINUTE, T0 + 2 * MINUTE, T0 + 3 * MINUTE))
    assert often.turns_after(OFTEN, T0) == [T0 + HOUR, T0 + HOUR + 2 * MINUTE]  # then one is left


def test_a_number_written_with_more_digits_is_no_other_number() -> None:
    volts = Signal(id=f"{BOAT}/volts", boat=BOAT, key="volts", topic="t", unit="V", report_interval=30 * SECOND)
    need, past = need_of(HasChanged(signal="volts"), volts), Past()
    for step, text in enumerate(("12.0", "12.00", "+12", "12.1")):
        assert past.instants == []
        past.take(need, Reading(signal=volts.id, grade=Grade.NUMBER, text=text), T0 + step * SECOND)
    assert past.instants == [T0 + 3 * SECOND]
