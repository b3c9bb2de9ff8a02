"""An installer's own wording: its parts in its order, what gives way first, and when it is gone round."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from gateway.telling.notices import AlarmGone, AlarmTaken, AlarmTold, Situation
from gateway.wording.own_kinds import WORDABLE
from gateway.wording.own_wording import OwnWording, OwnWordingTooLong
from gateway.wording.say import say
from gateway.wording.scene import Scene

GREY = "grey-wagtail"
INES, TOBIAS = "id-ines", "id-tobias"
Told = Callable[..., Situation]


def wording(kind: str, *parts: str, gives_way: tuple[str, ...] = ()) -> OwnWording:
    return OwnWording(kind=kind, parts=parts, gives_way=gives_way)


def worded(scene: Scene, own: OwnWording, language: str = "en", *, strict: bool = False) -> Scene:
    return replace(scene, own_wordings={(language, own.kind): own}, strict=strict)


SHORT = wording(
    "alarm told",
    "{boat}",
    " reports {what}",
    " ({severity})",
    " {since}",
    ": {value}",
    ". {caution}",
    ". Ring Ruth when unsure",
    ". To take it: HAVE IT {number}",
    gives_way=(". Ring Ruth when unsure",),
)


def test_a_text_goes_out_in_the_installers_words_and_order(scene: Scene, situation: Told) -> None:
    low = AlarmTold(person=INES, boat=GREY, situations=(situation("house-low", 17, "02:00", "11.9 V"),), others=())
    assert say(low, worded(scene, SHORT)) == (
        "GREY WAGTAIL C14 reports house bank low (warning) since 03:00: 11.9 V (below 12.0 V). Ring Ruth when unsure. "
        "To take it: HAVE IT 17"
    )


def test_a_part_whose_place_has_nothing_to_say_goes_with_its_words(scene: Scene, situation: Told) -> None:
    high = AlarmTold(person=INES, boat=GREY, situations=(situation("bilge-high", 14, "02:04", "on"),), others=())
    assert say(high, worded(scene, SHORT)) == (
        "GREY WAGTAIL C14 reports BILGE HIGH WATER since 03:04. Ring Ruth when unsure. To take it: HAVE IT 14"
    )


def test_what_keeps_from_harm_comes_where_the_installer_put_it(scene: Scene, situation: Told) -> None:
    gas = AlarmTold(person=INES, boat=GREY, situations=(situation("gas", 19, "02:04", "on"),), others=())
    assert ". No switches, no flame, no phone aboard. Ring Ruth" in say(gas, worded(scene, SHORT))


def test_parts_give_way_in_the_order_named_before_any_other(scene: Scene, situation: Told) -> None:
    long = ". This boat is moored fore and aft, her lines are in the starboard locker"
    own = replace(SHORT, parts=(*SHORT.parts[:-1], long, SHORT.parts[-1]), gives_way=(long, ". Ring Ruth when unsure"))
    low = AlarmTold(person=INES, boat=GREY, situations=(situation("house-low", 17, "02:00", "11.9 V"),), others=())
    text = say(low, worded(scene, own))
    assert "lines" not in text
    assert "Ring Ruth" in text
    other = replace(own, gives_way=(". Ring Ruth when unsure", ": {value}"))
    text = say(low, worded(scene, other))
    assert "lines" in text
    assert "Ring Ruth" not in text
    assert "11.9" not in text


def test_what_must_be_said_is_shortened_at_most_even_when_it_is_to_give_way(scene: Scene, situation: Told) -> None:
    filler = ". " + "look twice " * 8 + "aft"
    own = wording(
        "alarm gone", "{boat}", ": {what}", " {over}", ". {caution}", ". {ends}", filler, gives_way=("{boat}",)
    )
    gone = AlarmGone(
        person=INES, boat=GREY, situation=situation("shore-lost", 15, "01:10"), latched=False, holder=TOBIAS
    )
    text = say(gone, worded(scene, own))
    assert text.startswith("WAGTAIL: shore power lost now OK since")


@pytest.mark.parametrize("aside", range(0, 150, 10))
def test_what_keeps_from_harm_stays_however_little_room_is_left_for_it(
    scene: Scene, situation: Told, aside: int
) -> None:
    filler = f". {'x' * aside}"
    caution = ". {caution}"
    own = replace(SHORT, parts=(*SHORT.parts[:-2], filler, SHORT.parts[-1]), gives_way=(caution,))
    gas = AlarmTold(person=INES, boat=GREY, situations=(situation("gas", 19, "02:04", "on"),), others=())
    text = say(gas, worded(scene, own))
    assert "no flame" in text
    assert "HAVE IT 19" in text


def test_a_wording_is_for_its_language_only_and_others_stay_ours(scene: Scene, situation: Told) -> None:
    people = {**scene.people, INES: replace(scene.people[INES], language="de")}
    german = replace(scene, people=people)
    low = AlarmTold(person=INES, boat=GREY, situations=(situation("house-low", 17, "02:00", "11.9 V"),), others=())
    assert say(low, worded(german, SHORT)) == say(low, german)
    own = wording("alarm told", "{boat}", " - {what}", " ({severity})", " {since}", ". {caution}", ". Bitte {number}")
    assert (
        say(low, worded(german, own, "de")) == "GREY WAGTAIL C14 - Bordbatterie schwach (Warnung) seit 03:00. Bitte 17"
    )


def test_one_that_does_not_fit_is_gone_round_live_and_told_while_files_are_read(scene: Scene, situation: Told) -> None:
    own = wording("alarm taken", "{boat}", " {what}", " {number}", " {holder}", " goes and looks" * 10)
    taken = AlarmTaken(person=INES, boat=GREY, situation=situation("shore-lost", 15, "01:10"), holder=TOBIAS)
    assert say(taken, worded(scene, own)) == say(taken, scene)
    with pytest.raises(OwnWordingTooLong) as long:
        say(taken, worded(scene, own, strict=True))
    assert long.value.shortest.startswith("WAGTAIL shore power lost 15 Tobias goes and looks")


@pytest.mark.parametrize("kind", WORDABLE)
def test_every_kind_asks_for_the_boat_and_for_what_it_is_about(kind: str) -> None:
    asked = {place for group in WORDABLE[kind].must for place in group}
    assert "boat" in asked
    assert asked & {"what", "thing", "not"}
    assert asked <= WORDABLE[kind].places.keys()
