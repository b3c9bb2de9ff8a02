"""Whoever is new gets one text that says what comes and what STOP does; without a consent it waits for one."""

from dataclasses import replace

from gateway.desk.bundle import Bundle
from gateway.desk.regular import NO_CONSENT
from gateway.people.settings import Person
from tests.desk.small_boat import BOAT, RUTH, SHORE, Small, bundle_of, small, starter_bundle

NEW = "id-hanno"


def newcomer(consent: str = "2026-03-01, by word, asked by Ruth Okell") -> Person:
    known = starter_bundle().people["id-tobias"]
    return replace(
        known, id=NEW, key="hanno", name="Hanno Brack", number="+447700900345", boats=(BOAT,), consent=consent
    )


def with_new(fingerprint: str, person: Person) -> Bundle:
    bundle = bundle_of(SHORE)
    return replace(bundle, fingerprint=fingerprint, people={**bundle.people, person.id: person})


def welcomed(boat: Small) -> list[str]:
    return [text.body for text in boat.sent if text.person == NEW]


def test_who_is_new_is_told_once_which_boat_what_comes_and_what_stop_does() -> None:
    boat = small(SHORE)
    boat.uses(with_new("b" * 64, newcomer()))
    (body,) = welcomed(boat)
    for said in ("GREY WAGTAIL", "alarms", "HAVE IT", "STOP ends ALL texts"):
        assert said in body
    boat.uses(with_new("c" * 64, newcomer()))
    boat.restarts()
    assert len(welcomed(boat)) == 1
    assert boat.rebuilt() == boat.bytes()


def test_who_was_there_from_the_first_files_on_is_told_at_the_handing_over() -> None:
    boat = small(SHORE)
    assert boat.sent == []
    boat.uses(replace(bundle_of(SHORE), fingerprint="b" * 64))
    assert boat.sent == []


def test_without_consent_it_is_held_back_with_the_reason_and_goes_once_there_is_one() -> None:
    boat = small(SHORE)
    turn = boat.uses(with_new("b" * 64, newcomer(consent="")))
    assert welcomed(boat) == []
    held = [w.entry.body for w in turn.entries if w.entry.kind == "held-back"]
    assert [(one["person"], one["about"], one["because"]) for one in held] == [(NEW, "welcome", NO_CONSENT)]
    boat.uses(with_new("c" * 64, newcomer()))
    assert len(welcomed(boat)) == 1


def test_it_says_whom_to_ask_where_there_is_room() -> None:
    boat = small(SHORE)
    ruth = boat.desk.bundle.people[RUTH]
    boat.uses(with_new("b" * 64, newcomer()))
    assert welcomed(boat)[0].endswith(f"Ask {ruth.name.split()[0]}")
