"""A boat's own sums in texts: reckoned from fresh data or not at all, each to be reckoned again by hand."""

import json
from collections.abc import Mapping
from dataclasses import replace

import pytest

from gateway.boat.decoding import decode
from gateway.boat.directory import directory_of
from gateway.desk.ahead import ahead
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.telling.situation import Ahead
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started, TextCame
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from gateway.vocabulary.orders import SendText
from gateway.wording.alphabet import parts
from tests.desk.small_boat import BOAT, NUMBER_OF, TOBIAS, Small


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    folder = tmp_path_factory.mktemp("whole") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard("12", "agm"))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    return load(folder, person_id=lambda key: f"id-{key}", environ=environ).bundle


class Afloat:
    """The desk of the whole boat, and nodes that say what stands in `now` every 30 s."""

    def __init__(self, bundle: Bundle) -> None:
        self.bundle = bundle
        self.small = Small(Desk(bundle))
        self.topics = directory_of(bundle.signals.values())
        self.says: dict[str, str] = dict.fromkeys(("detector/co", "detector/fire", "detector/gas", "bilge/high"), "off")
        self.says |= {"ac/shore": "on", "detector/co-level": "0", "detector/gas-level": "0"}
        self.says |= {"engine/room-temperature": "20"}
        for happening in (
            InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)),
            Started(stopped_at=None),
            LinkChanged(link="carrier:main", up=True),
            LinkChanged(link="broker:quay", up=True, memory_kept=True),
        ):
            self.small.take(happening)

    def say(self, topic: str, payload: str) -> None:
        readings = decode(self.topics.by_topic[f"{BOAT}/{topic}"], payload.encode(), retained=False)
        self.small.take(ReadingsCame(readings=readings))

    def live(self, seconds: int) -> None:
        for _step in range(seconds // 30):
            for topic, payload in self.says.items():
                self.say(topic, payload)
            self.small.wait(30 * SECOND)

    def cycle(self, on: int, off: int) -> None:
        """One cycle of the bilge pump, seconds: a change is said at once, as contacts do."""
        for state, seconds in (("on", on), ("off", off)):
            if not seconds:
                continue
            self.says["bilge/pump"] = state
            self.say("bilge/pump", state)
            self.live(seconds)

    def ahead(self, key: str) -> Ahead:
        return ahead(self.small.desk.state, self.bundle, self.bundle.sums[f"{BOAT}/{key}"], self.small.now)

    @property
    def texts(self) -> list[str]:
        return [order.body for turn in self.small.turns for order in turn.orders if isinstance(order, SendText)]

    def asked(self, body: str) -> str:
        before = len(self.texts)
        self.small.take(TextCame(message=f"m{before}", number=NUMBER_OF[TOBIAS], body=body, age=0))
        return self.texts[before]


@pytest.fixture
def afloat(bundle: Bundle) -> Afloat:
    return Afloat(bundle)


def says(found: Ahead) -> Mapping[str, str]:
    assert not found.missing, found.missing
    return found.says


def test_inflow_is_the_pumps_flow_by_its_part_of_the_time(afloat: Afloat) -> None:
    for _ in range(4):
        afloat.cycle(60, 600)
    afloat.cycle(60, 30)
    # handbook 4.4, CHK-15: 1800 L/h x 60 / 660 = 163.6 L/h; 60 L to high water take 0.37 h. The desk's clock moves on
    # with each message, so the margin is a hair under 11.
    assert says(afloat.ahead("bilge")) == {"inflow": "about 160 L/h", "margin": "10.9", "high": "about 15 min"}
    text = afloat.asked("status bilge pump")
    assert "about 160 L/h come in, its pump moves 10.9 times that" in text
    assert parts(text) == 1


@pytest.mark.long
def test_the_alarms_own_text_says_it_in_one_part(afloat: Afloat) -> None:
    for _ in range(5):
        afloat.cycle(30, 390)  # each below three times its usual 15 s; 1800 L/h x 30 / 420 = 128.6 L/h
    [told] = [text for text in afloat.texts if "STARTS OFTEN" in text.upper()][:1]
    assert "about 130 L/h come in" in told
    assert parts(told) == 1


def test_a_run_that_outlasts_those_before_is_of_another_inflow_which_nobody_knows_yet(afloat: Afloat) -> None:
    """Handbook 4.4: V = 163.6 L/h x 600 s = 27.3 L; a run of 120 s that has not emptied it tells of 1800 L/h less
    27.3 L / 120 s, so of 980 L/h at least, or of a stuck float. The 160 L/h before it would comfort without ground."""
    for _ in range(4):
        afloat.cycle(60, 600)
    afloat.cycle(90, 0)
    assert says(afloat.ahead("bilge"))["inflow"] == "about 160 L/h"
    afloat.live(30)
    assert afloat.ahead("bilge").missing == "this run of its pump is longer than those before"


def test_a_pump_without_a_pause_no_longer_keeps_up(afloat: Afloat) -> None:
    afloat.cycle(60, 600)
    afloat.cycle(300, 0)
    assert says(afloat.ahead("bilge")) == {"floods": "pump no longer keeps up: 5 min without a pause"}


@pytest.mark.long
def test_one_run_alone_makes_no_inflow(afloat: Afloat) -> None:
    afloat.cycle(0, 600)
    afloat.cycle(60, 600)
    assert afloat.ahead("bilge").missing == "only one run of its pump seen"


@pytest.mark.long
def test_a_pump_that_has_not_run_for_hours_is_said_so(afloat: Afloat) -> None:
    afloat.cycle(0, 2 * 3600 + 60)
    assert says(afloat.ahead("bilge")) == {"quiet": "2 h"}
    assert "come in" not in afloat.asked("status")


@pytest.mark.long
def test_what_is_old_is_not_reckoned_from(afloat: Afloat) -> None:
    for _ in range(3):
        afloat.cycle(60, 600)
    del afloat.says["bilge/pump"]
    afloat.live(240)
    assert afloat.ahead("bilge").missing == "no fresh bilge pump"


def test_a_figure_that_nobody_has_written_is_said_to_be_missing(bundle: Bundle) -> None:
    own = bundle.sums[f"{BOAT}/bilge"]
    afloat = Afloat(replace(bundle, sums={own.id: replace(own, figures={})}))
    afloat.cycle(60, 600)
    assert afloat.ahead("bilge").missing == "its pump's flow is not given"


@pytest.mark.long
def test_a_falling_tank_says_when_it_is_empty(afloat: Afloat) -> None:
    for step in range(120):
        afloat.says["tank/water"] = f"{62 - 4 * step / 120:.4f}"  # 4 % an hour, from 62 to 58 %
        afloat.live(30)
    # 58.03 % at 4 % an hour: 14.5 h, shown as whole hours
    assert says(afloat.ahead("fresh-water")) == {"rate": "falling 4.0 %/h", "until": "0%", "left": "about 14 h"}


@pytest.mark.long
def test_a_tank_that_only_sloshes_is_steady(afloat: Afloat) -> None:
    for step in range(120):
        afloat.says["tank/water"] = str(60 + step % 2)
        afloat.live(30)
    assert says(afloat.ahead("fresh-water")) == {"steady": "steady"}


def test_a_few_minutes_make_no_rate(afloat: Afloat) -> None:
    afloat.says["tank/water"] = "60"
    afloat.live(600)
    assert afloat.ahead("fresh-water").missing == "too few fresh values for a rate"


def test_the_generators_fuel_is_hours_down_to_its_reserve(afloat: Afloat) -> None:
    afloat.says["tank/fuel"] = "45"
    afloat.live(60)
    # handbook 4.6, CHK-19: 300 L, 45 %, reserve 15 %, 3 L/h: 30 h
    assert says(afloat.ahead("generator-fuel")) == {"left": "about 30 h", "until": "15%"}
    assert "about 30 h of running" in afloat.asked("status fuel")


def test_the_fridges_clock_starts_when_it_is_not_supplied(afloat: Afloat) -> None:
    afloat.says |= {"cold/fridge": "4.0", "node/refrigeration/state": json.dumps({"running": "on", "count": 1})}
    afloat.live(600)
    assert says(afloat.ahead("fridge")) == {"well": "4.0 C"}
    off_at = afloat.small.now
    afloat.says["node/refrigeration/state"] = json.dumps({"running": "off", "count": 2})
    afloat.live(600)
    found = afloat.ahead("fridge")
    assert says(found) == {"rule": "4 h limit", "past": ""}
    assert found.at == pytest.approx(off_at + 4 * HOUR, abs=5 * SECOND)


@pytest.mark.long
def test_two_hours_above_4_4_c_come_first(afloat: Afloat) -> None:
    afloat.says |= {"cold/fridge": "7", "node/refrigeration/state": json.dumps({"running": "on", "count": 1})}
    afloat.live(3 * 3600)
    found = afloat.ahead("fridge")
    assert says(found) == {"rule": "2 h above 4.4 C", "past": "past"}
    assert found.at == pytest.approx(afloat.small.now - HOUR, abs=6 * MINUTE)


@pytest.mark.long
def test_a_level_of_carbon_monoxide_says_what_a_detector_must_have_done(afloat: Afloat) -> None:
    afloat.live(3600)
    afloat.says["detector/co-level"] = "60"
    afloat.live(30 * 60)
    assert says(afloat.ahead("co"))["quiet"] == "EN-50291"
    afloat.live(70 * 60)
    found = says(afloat.ahead("co"))  # handbook 4.8: 50 ppm must alarm within 90 min
    assert found["must"] == "EN-50291"
    assert "well" not in found


def test_a_little_carbon_monoxide_is_no_all_clear(afloat: Afloat) -> None:
    afloat.says["detector/co-level"] = "12"
    afloat.live(600)
    assert says(afloat.ahead("co")) == {"level": "12 ppm", "low": "30 ppm"}
    assert "all-clear" in afloat.asked("status co level")


def test_drift_is_distance_and_rate(afloat: Afloat) -> None:
    for step in range(10):  # 0.0001 degrees of latitude are 11.12 m: one in 30 s is 22.2 m/min
        afloat.says["position"] = json.dumps({"latitude": 50.0010 + step * 0.0001, "longitude": -5.0005})
        afloat.live(30)
    assert says(afloat.ahead("place")) == {"off": "about 100 m", "out": "22 m/min"}


def test_a_boat_in_her_place_does_not_move_off(afloat: Afloat) -> None:
    for step in range(10):
        afloat.says["position"] = json.dumps({"latitude": 50.0010 + (step % 2) * 0.00002, "longitude": -5.0005})
        afloat.live(30)
    found = says(afloat.ahead("place"))
    assert found["still"] == "not moving off"


def test_a_receiver_without_a_fix_says_no_distance(afloat: Afloat) -> None:
    """Some give 0, 0 before they have one: that is no place 5,600 km away (handbook 4.9, ours)."""
    for _ in range(10):
        afloat.says["position"] = json.dumps({"latitude": 50.0010, "longitude": -5.0005})
        afloat.live(30)
    afloat.say("position", '{"latitude": 0, "longitude": 0}')
    assert afloat.ahead("place").missing == "no usable fix"


def test_the_dew_point_is_said(afloat: Afloat) -> None:
    afloat.says |= {"cabin/temperature": "20", "cabin/humidity": "50"}
    afloat.live(60)
    assert says(afloat.ahead("dew")) == {"point": "about 9.5 C"}  # handbook 4.10, CHK-23: 9.26 C, half degrees, up


@pytest.mark.parametrize(("water", "does"), [("9.2", "wet"), ("9.3", "near"), ("9.7", "near"), ("9.8", "dry")])
def test_beside_the_dew_point_the_surface_is_looked_at(bundle: Bundle, water: str, does: str) -> None:
    """CHK-23: 20 C and 50 % make 9.26 C; half a degree is not known (our choice)."""
    dew = bundle.sums[f"{BOAT}/dew"]
    beside = replace(dew, signals={**dew.signals, "surface": f"{BOAT}/engine-room"})
    afloat = Afloat(replace(bundle, sums={**bundle.sums, dew.id: beside}))
    afloat.says |= {"cabin/temperature": "20", "cabin/humidity": "50", "engine/room-temperature": water}
    afloat.live(60)
    assert says(afloat.ahead("dew")) == {"point": "about 9.5 C", "surface": f"{water} C", does: "yes"}


def test_a_level_that_is_older_than_one_report_leaves_less_time(afloat: Afloat) -> None:
    """Handbook 4.6: 40.1 % that fall at 20 % an hour are 2.00 h; 31 s after the last report they are 1.99 h."""
    for step in range(41):
        afloat.says["tank/water"] = f"{53.433 - step / 3:.3f}"
        afloat.live(60) if step < 40 else afloat.say("tank/water", "40.1")
    assert says(afloat.ahead("fresh-water"))["left"] == "about 2 h"
    afloat.small.wait(31 * SECOND)
    assert says(afloat.ahead("fresh-water"))["left"] == "about 1 h 45 min"


@pytest.mark.long
def test_cooling_says_when_it_freezes(afloat: Afloat) -> None:
    for step in range(120):
        afloat.says["cabin/temperature"] = f"{5 - 1.5 * step / 120:.4f}"
        afloat.live(30)
    # 3.51 C at 1.5 C an hour: 2.34 h, shown as quarters
    assert says(afloat.ahead("cabin")) == {"rate": "falling 1.5 C/h", "left": "about 2 h 15 min"}
    afloat.says["cabin/temperature"] = "-1"
    afloat.live(30)
    assert says(afloat.ahead("cabin")) == {"frozen": "-1 C"}


def test_after_a_restart_the_sums_say_the_same(afloat: Afloat) -> None:
    for _ in range(3):
        afloat.cycle(60, 600)
    before = afloat.ahead("bilge")
    assert before.says["inflow"] == "about 160 L/h"
    afloat.small.take(Started(stopped_at=afloat.small.now))
    afloat.small.take(LinkChanged(link="broker:quay", up=True, memory_kept=True))
    afloat.cycle(60, 600)
    assert says(afloat.ahead("bilge"))["inflow"] in ("about 160 L/h", "about 170 L/h")


def test_a_question_after_carbon_monoxide_names_the_alarm_of_the_measured_level_beside_a_quiet_detector(
    afloat: Afloat,
) -> None:
    afloat.live(60)
    assert "No alarm is open on it" in afloat.asked("status co")
    afloat.says["detector/co-level"] = "55"
    afloat.live(6 * 60)
    text = afloat.asked("status co")
    assert "CO not signalling" in text
    assert "CO level 55 ppm" in text
    assert "Open: 1 CO gas raised" in text


def test_a_question_after_a_detector_names_every_alarm_of_its_hazard_whatever_that_rests_on(afloat: Afloat) -> None:
    afloat.says["engine/room-temperature"] = "95"
    afloat.live(120)
    text = afloat.asked("status fire")
    assert "not signalling" in text
    assert "engine space at 90 C" in text.replace("ENGINE SPACE AT 90 C", "engine space at 90 C")
    assert "No alarm is open" not in text
