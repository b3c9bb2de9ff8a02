"""A text goes out in the installer's words; a fold of the record does not hang on them."""

from dataclasses import replace

from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, Started
from gateway.vocabulary.moments import MINUTE
from gateway.wording.own_wording import OwnWording
from tests.desk.small_boat import BEGAN, INES, WATER, Small, bundle_of

OURS = bundle_of(WATER)
TOLD = OwnWording(
    kind="alarm told",
    parts=("{boat}", " reports {what}", " {since}", ", {severity}", ". {caution}", ". To take it: {reply}"),
)
YOURS = OwnWording(
    kind="alarm yours",
    parts=("{boat}", ": {what}", ", number {number}", ", is with you now", ". {caution}", ". {gone}"),
)
OWN = replace(OURS, own_wordings={("en", TOLD.kind): TOLD, ("en", YOURS.kind): YOURS})


def test_an_alarm_and_its_taking_are_told_in_the_installers_words() -> None:
    boat = Small(Desk(OWN), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=OWN.fingerprint, people=tuple(OWN.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.reads("water", "on")
    boat.wait(MINUTE)
    first = next(text for text in boat.sent if text.person == INES)
    assert first.body == "GREY WAGTAIL C14 reports WATER since 02:59. To take it: Reply HAVE IT 1"
    boat.texts(INES, "have it 1")
    answer = boat.sent[-1]
    assert answer.person == INES
    assert answer.body.startswith("GREY WAGTAIL: WATER, number 1, is with you now. Gas smell, smoke, sparks")
    assert boat.rebuilt() == boat.bytes()
    boat.uses(OURS)
    boat.texts(INES, "have it 1")
    assert "is with you now" not in boat.sent[-1].body
