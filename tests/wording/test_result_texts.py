"""The texts of what was measured after an order, word for word."""

from collections.abc import Callable

from gateway.requests.answers import NotProved, NotSent, Proved, StopTrouble
from gateway.vocabulary.moments import SECOND, Ms

GREY, TOBIAS = "grey-wagtail", "id-tobias"
GENERATOR, REFRIGERATION = f"{GREY}/generator", f"{GREY}/refrigeration"

Said = Callable[..., str]
At = Callable[..., Ms]


def test_a_start_that_was_proved_says_what_was_measured_and_when_it_ends(said: Said, at: At) -> None:
    done = Proved(
        person=TOBIAS,
        boat=GREY,
        equipment=GENERATOR,
        action="start",
        measured="231 V",
        after=14 * SECOND,
        stops_at=at("09:01"),
    )
    assert said(done, "07:02") == "GREY WAGTAIL: generator running, 231 V after 14 s. Stops by itself 10:01"


def test_the_end_of_a_timed_run_is_told_when_it_was_seen(said: Said) -> None:
    done = Proved(
        person=TOBIAS, boat=GREY, equipment=GENERATOR, action="stop", measured="", after=40 * SECOND, ended=True
    )
    assert said(done, "09:02") == "GREY WAGTAIL: generator stopped at the end of its time, seen after 40 s"


def test_a_load_that_is_off_for_a_time_says_when_it_comes_on(said: Said, at: At) -> None:
    done = Proved(
        person=TOBIAS,
        boat=GREY,
        equipment=REFRIGERATION,
        action="off",
        measured="",
        after=2 * SECOND,
        stops_at=at("17:00"),
    )
    assert said(done, "09:02") == "GREY WAGTAIL: refrigeration off, seen after 2 s. On again by itself 18:00"


def test_an_order_without_proof_is_not_sent_again_and_not_to_be_relied_on(said: Said) -> None:
    def unproved(equipment: str, action: str, measured: str, restarted: bool = False) -> NotProved:
        return NotProved(
            person=TOBIAS,
            boat=GREY,
            equipment=equipment,
            action=action,
            waited=90 * SECOND,
            measured=measured,
            restarted=restarted,
        )

    assert said(unproved(GENERATOR, "start", "0 V")) == (
        "GREY WAGTAIL: generator: no proof that it started, waited 90 s, it shows 0 V. It may run: CO KILLS. "
        "Not sent again. Look before you rely on it"
    )
    assert said(unproved(REFRIGERATION, "off", "on")) == (
        "GREY WAGTAIL: refrigeration: no proof that it went off, waited 90 s, it shows on. "
        "Not sent again. Look before you rely on it"
    )
    assert said(unproved(REFRIGERATION, "on", "", restarted=True)) == (
        "GREY WAGTAIL: refrigeration: no proof that it went on, waited 90 s. The gateway restarted meanwhile. "
        "Not sent again. Look before you rely on it"
    )


def test_an_engine_that_was_not_proved_stopped_may_still_run(said: Said) -> None:
    unproved = NotProved(
        person=TOBIAS, boat=GREY, equipment=GENERATOR, action="stop", waited=90 * SECOND, measured="on"
    )
    assert "It may run: CO KILLS" in said(unproved)


def test_an_order_that_could_not_leave_switched_nothing(said: Said) -> None:
    assert said(NotSent(person=TOBIAS, boat=GREY, equipment=GENERATOR, action="start")) == (
        "GREY WAGTAIL: generator NOT started: the order could not leave. Nothing was switched, it is not sent again. "
        "Ask anew once the link is back"
    )


def test_a_stop_that_is_due_and_not_proved_is_told_with_its_tries(said: Said) -> None:
    def trouble(tries: int, held_by: int | None = None, given_up: bool = False) -> StopTrouble:
        return StopTrouble(
            person=TOBIAS,
            boat=GREY,
            equipment=GENERATOR,
            action="stop",
            tries=tries,
            held_by=held_by,
            given_up=given_up,
        )

    assert said(trouble(3)) == (
        "GREY WAGTAIL: time is up, generator NOT proved stopped after 3 tries. It is tried again every minute. "
        "It may still run: CO KILLS, mind the exhaust"
    )
    assert said(trouble(10, given_up=True)) == (
        "GREY WAGTAIL: time is up, generator NOT proved stopped after 10 tries. No more tries. "
        "It may still run: CO KILLS, mind the exhaust. Somebody must see to it"
    )
    assert said(trouble(0, held_by=21)) == (
        "WAGTAIL: time is up, generator NOT proved stopped. Order HELD by gas or fire alarm 21: switching can spark. "
        "It may still run: CO KILLS. Keep away from the boat"
    )


def test_a_load_that_does_not_come_on_again_is_no_matter_of_exhaust(said: Said) -> None:
    trouble = StopTrouble(person=TOBIAS, boat=GREY, equipment=REFRIGERATION, action="on", tries=1)
    assert said(trouble) == (
        "GREY WAGTAIL: time is up, refrigeration NOT proved on after 1 try. It is tried again every minute"
    )


def test_a_stop_that_cannot_reach_the_boat_waits_and_says_so(said: Said) -> None:
    trouble = StopTrouble(person=TOBIAS, boat=GREY, equipment=GENERATOR, action="stop", tries=0, unreachable=True)
    assert said(trouble) == (
        "GREY WAGTAIL: time is up, generator NOT proved stopped. "
        "The boat can't be reached: the order waits and goes out once it is heard. It may still run: CO KILLS"
    )
