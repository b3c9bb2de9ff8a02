"""What comes regularly: the round, the weekly word, the digest of cautions; and what holds them back."""

from dataclasses import replace
from decimal import Decimal

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.people.regular import Regular, Wish
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, Started
from gateway.vocabulary.moments import DAY, HOUR, MINUTE
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact, IsNumber, Than
from tests.desk.small_boat import BEGAN, INES, SHORE, TOBIAS, WATER, Small, bundle_of, point, with_salt_harrier

ROUND = Wish(kind=Regular.ROUND, minute=8 * 60)
WEEKLY = Wish(kind=Regular.WEEKLY, minute=18 * 60, weekday=6)
DIGEST = Wish(kind=Regular.DIGEST, minute=8 * 60)

SLIGHT = point(
    "fuel",
    when=IsNumber(signal="volts", than=Than.BELOW, limit=Decimal("12.0"), unit="V"),
    priority=Priority.CAUTION,
    name="Fuel low",
)
HATCH = point("hatch", when=IsContact(signal="hatch", wanted=True), priority=Priority.CAUTION)


def wishing(bundle: Bundle, person: str, *wishes: Wish, consent: str = "2026-03-01, in writing") -> Bundle:
    one = replace(bundle.people[person], wishes=wishes, consent=consent)
    return replace(bundle, people={**bundle.people, person: one})


def living(bundle: Bundle) -> Small:
    """A desk with these files that has just started, at 03:00 on a Sunday."""
    boat = Small(Desk(bundle), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def told(boat: Small, about: str) -> list[tuple[str, str, int]]:
    """Person, words, hours since 03:00 of every text of that kind."""
    kinds = {w.entry.body["order"]: w.entry.body["about"] for w in boat.entries if w.entry.kind == "text-queued"}
    return [
        (order.person, order.body, (turn.now - boat.began) // HOUR)
        for turn in boat.turns
        for order in turn.orders
        if isinstance(order, SendText) and kinds[order.id] == about
    ]


def test_nobody_gets_a_round_who_does_not_wish_it() -> None:
    boat = living(bundle_of(WATER, SHORE))
    boat.wait(3 * DAY)
    assert boat.sent == []


def test_the_round_names_every_boat_worst_first_each_morning() -> None:
    bundle = wishing(with_salt_harrier(bundle_of(WATER, SHORE), TOBIAS), TOBIAS, ROUND)
    boat = living(bundle)
    boat.keeps_reading("water", "on", MINUTE)
    boat.texts(TOBIAS, "have it 1")
    boat.wait(30 * HOUR)
    rounds = told(boat, "round")
    assert [(who, hour) for who, _, hour in rounds] == [(TOBIAS, 5), (TOBIAS, 29)]
    assert rounds[0][1] == ("Round 08:00, 2 boats: GREY WAGTAIL last heard 03:00, 1 WATER; SALT HARRIER never heard")
    assert boat.rebuilt() == boat.bytes()


def test_the_weekly_word_comes_on_its_day_and_says_that_no_practice_is_on_record() -> None:
    boat = living(wishing(bundle_of(WATER, SHORE), INES, WEEKLY))
    boat.wait(8 * DAY)
    words = told(boat, "weekly")
    assert [hour for *_, hour in words] == [15, 15 + 7 * 24]
    assert "2 alarm points watched. Last practice alarm: none on record" in words[0][1]
    assert "safe" not in words[0][1].casefold()


def test_the_weekly_word_says_when_somebody_last_had_a_practice_alarm_and_no_other_end_of_one_counts() -> None:
    bundle = wishing(bundle_of(WATER, SHORE), INES, WEEKLY)
    agreed = {key: replace(one, consent="2026-02-01, by word") for key, one in bundle.people.items()}
    boat = living(replace(bundle, people=agreed))
    for ends in ("have it", "practice over"):
        boat.texts(INES, "practice shore")
        boat.wait(MINUTE)
        boat.texts(INES, ends)
        boat.wait(2 * DAY)
    boat.wait(8 * DAY)
    assert "Last practice alarm: 1 Mar 03:01" in told(boat, "weekly")[-1][1]
    assert boat.rebuilt() == boat.bytes()


def test_cautions_wait_for_the_digest_and_what_came_and_went_is_said() -> None:
    boat = living(wishing(bundle_of(SLIGHT, HATCH), INES, DIGEST))
    boat.reads("volts", "11.8")
    boat.reads("hatch", "on")
    boat.wait(MINUTE)
    boat.reads("hatch", "off")
    boat.wait(10 * HOUR)
    mine = [one for one in told(boat, "digest") if one[0] == INES]
    assert [hour for *_, hour in mine] == [5]
    assert "2 cautions" in mine[0][1]
    assert "1 fuel low since 03:00" in mine[0][1]
    assert "2 hatch, came and went" in mine[0][1]
    assert [one for one in told(boat, "alarm told") if one[0] == INES] == []
    assert boat.rebuilt() == boat.bytes()


def test_an_empty_digest_is_not_sent() -> None:
    boat = living(wishing(bundle_of(SLIGHT), INES, DIGEST))
    boat.wait(2 * DAY)
    assert told(boat, "digest") == []


def test_without_consent_digest_and_round_are_held_back_with_the_reason_and_alarms_are_not() -> None:
    boat = living(wishing(bundle_of(SLIGHT, WATER), INES, DIGEST, ROUND, consent=""))
    boat.reads("volts", "11.8")
    boat.keeps_reading("water", "on", MINUTE)
    boat.wait(6 * HOUR)
    assert told(boat, "digest") == told(boat, "round") == []
    assert INES in {who for who, *_ in told(boat, "alarm told")}
    held = [w.entry.body for w in boat.entries if w.entry.kind == "held-back"]
    reasons = {(one["about"], one["because"]) for one in held if one["person"] == INES}
    assert ("digest", "no consent to be texted is written down") in reasons
    assert ("round", "no consent to be texted is written down") in reasons


def test_a_round_that_fell_due_while_the_gateway_did_not_run_waits_for_the_next_morning() -> None:
    boat = living(wishing(bundle_of(WATER), TOBIAS, ROUND))
    boat.wait(HOUR)
    boat.restarts(after=14 * HOUR)
    boat.wait(15 * HOUR)
    assert [hour for *_, hour in told(boat, "round")] == [29]


def test_a_time_that_was_changed_in_the_files_holds_from_then_on() -> None:
    boat = living(wishing(bundle_of(WATER), TOBIAS, ROUND))
    boat.uses(wishing(bundle_of(WATER), TOBIAS, replace(ROUND, minute=10 * 60)))
    boat.wait(20 * HOUR)
    assert [hour for *_, hour in told(boat, "round")] == [7]


def test_who_wishes_it_no_longer_gets_no_more() -> None:
    boat = living(wishing(bundle_of(WATER), TOBIAS, ROUND))
    boat.uses(bundle_of(WATER))
    boat.wait(2 * DAY)
    assert told(boat, "round") == []
