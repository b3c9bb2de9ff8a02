"""What is answered to a text that cannot be carried out as it is: the next try must be the right one."""

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, Started
from tests.desk.small_boat import BEGAN, TOBIAS, Small, starter_bundle, with_salt_harrier


def quay(bundle: Bundle) -> Small:
    """A desk that has just started."""
    boat = Small(Desk(bundle), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def of_two_boats() -> Small:
    return quay(with_salt_harrier(starter_bundle(), TOBIAS))


def answer(boat: Small, person: str, body: str) -> str:
    """The one text that is answered."""
    before = len(boat.sent)
    boat.texts(person, body)
    (text,) = boat.sent[before:]
    assert text.person == person
    return text.body


def test_a_stop_with_a_time_is_offered_with_the_boat_that_was_named_in_front_or_behind() -> None:
    for body in ("grey wagtail generator stop for 2 h", "generator stop for 2 h on grey wagtail"):
        assert answer(of_two_boats(), TOBIAS, body).endswith("Reply GREY WAGTAIL GENERATOR STOP")


def test_whoever_has_one_boat_need_not_name_it() -> None:
    assert answer(quay(starter_bundle()), TOBIAS, "grey wagtail generator stop for 2 h").endswith(
        "Reply GENERATOR STOP"
    )


def test_a_wrong_action_is_offered_both_right_ones_with_the_boat_that_was_named() -> None:
    asked = answer(of_two_boats(), TOBIAS, "grey wagtail generator open")
    assert "Did you mean GREY WAGTAIL GENERATOR START or GREY WAGTAIL GENERATOR STOP?" in asked
