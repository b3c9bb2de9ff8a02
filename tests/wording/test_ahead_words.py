"""What a sum says inside an alarm's text: beside the alarm's own value, and never the same number twice."""

from collections.abc import Callable

import pytest

from gateway.reckoning.own_sums import Reckons
from gateway.telling.notices import AlarmTold, Situation
from gateway.telling.situation import Ahead
from gateway.wording.ahead_words import ahead_sentence
from gateway.wording.clocks import clock
from gateway.wording.scene import Scene

INES, GREY = "id-ines", "grey-wagtail"
COOLS = Ahead(sum=f"{GREY}/cabin", reckons=Reckons.FROST, says={"rate": "falling 1.9 C/h", "left": "about 3 h"})


def forms(scene: Scene, ahead: Ahead, measured: str) -> tuple[str, ...]:
    return ahead_sentence(ahead, clock(scene, GREY, INES), measured).forms


@pytest.mark.parametrize("measured", ["falling 2.1 C/h", "3.2 C", ""])
def test_a_rate_stands_before_what_follows_from_it(scene: Scene, measured: str) -> None:
    assert forms(scene, COOLS, measured) == (
        ". Cabin: falling 1.9 C/h, 0 C in about 3 h",
        ". Cabin: 0 C in about 3 h",
        "",
    )


def test_a_rate_that_the_alarm_itself_says_is_not_said_again(scene: Scene) -> None:
    assert forms(scene, COOLS, "falling 1.9 C/h") == (". Cabin: 0 C in about 3 h", "")


def test_a_sum_that_says_nothing_but_that_rate_is_left_out(scene: Scene) -> None:
    rate_alone = Ahead(sum=COOLS.sum, reckons=Reckons.FROST, says={"rate": "rising 1.9 C/h"})
    assert forms(scene, rate_alone, "rising 1.9 C/h") == ("",)


def test_a_distance_that_the_alarm_itself_says_is_not_said_again_and_another_one_is(scene: Scene) -> None:
    off = Ahead(sum=f"{GREY}/place", reckons=Reckons.DRIFT, says={"off": "about 62 m", "out": "11 m/min"})
    assert forms(scene, off, "62 m off") == (". Place: 11 m/min further out", "")
    assert forms(scene, off, "40 m off")[0] == ". Place: about 62 m from her place, 11 m/min further out"


def test_of_a_tank_the_hours_left_are_given_up_last(scene: Scene) -> None:
    rises = {"rate": "rising 7.0 %/h", "flow": "about 28 L/h", "until": "100%", "left": "about 2 h 45 min"}
    tank = Ahead(sum=f"{GREY}/grey-water", reckons=Reckons.TANK, says=rises)
    assert forms(scene, tank, "80.1 %") == (
        ". Grey water: rising 7.0 %/h (about 28 L/h), 100% in about 2 h 45 min",
        ". Grey water: rising 7.0 %/h, 100% in about 2 h 45 min",
        ". Grey water: 100% in about 2 h 45 min",
        "",
    )


@pytest.mark.parametrize(
    ("key", "standard", "said_of_it"),
    [
        ("quiet", "EN-50291", "CO: 35 ppm or more for 5 min: an EN-50291 detector may still be quiet"),
        ("must", "UL-2034", "CO: 35 ppm or more for 5 min: a UL-2034 detector must have alarmed"),
    ],
)
def test_a_level_beside_its_alarm_is_never_spoken_of_as_if_it_were_low(
    scene: Scene, key: str, standard: str, said_of_it: str
) -> None:
    ahead = Ahead(sum=f"{GREY}/co", reckons=Reckons.CO, says={"level": "35 ppm", "held": "5 min", key: standard})
    said = forms(scene, ahead, "35 ppm")
    assert said[0] == f". {said_of_it}"
    assert not any("all-clear" in form for form in said)


@pytest.mark.parametrize(
    ("gone", "cabin"), [(None, "Cabin: 0 C in about 3 h."), ("02:00", "Cabin: falling 1.9 C/h, 0 C in about 3 h.")]
)
def test_what_is_over_has_no_value_of_its_own_so_its_rate_is_said(
    said: Callable[..., str],
    situation: Callable[..., Situation],
    at: Callable[..., int],
    gone: str | None,
    cabin: str,
) -> None:
    over = situation("silent", 3, "01:05", "falling 1.9 C/h", ahead=COOLS, gone=None if gone is None else at(gone))
    assert cabin in said(AlarmTold(person=INES, boat=GREY, situations=(over,), others=(), again=False))


@pytest.mark.parametrize(("key", "does"), [("wet", "gets wet"), ("near", "may get wet"), ("dry", "stays dry")])
def test_beside_a_dew_point_it_is_said_what_the_surface_does(scene: Scene, key: str, does: str) -> None:
    dew = Ahead(sum=f"{GREY}/dew", reckons=Reckons.DEW, says={"point": "about 8.0 C", "surface": "7.7 C", key: "yes"})
    assert forms(scene, dew, "")[0] == f". Dew: dew point about 8.0 C, 7.7 C surface {does}"
