"""Every notice and every answer has words, a kind of its own, and one part."""

from dataclasses import replace
from typing import get_args

from gateway.requests.answers import Answer
from gateway.telling.notices import Notice, NotRead, StatusAnswer, StatusLine, VisitAnswer
from gateway.telling.pacing import NOT_READ
from gateway.wording.alphabet import parts, septets
from gateway.wording.say import WORDINGS, kind_of, say
from gateway.wording.scene import Scene

EVERY = (*get_args(Notice), *get_args(Answer))


def test_every_notice_and_every_answer_has_words_and_a_kind_of_its_own() -> None:
    assert set(WORDINGS) == set(EVERY)
    assert len({kind for kind, _ in WORDINGS.values()}) == len(EVERY)


def test_the_kind_of_a_text_is_plain_words(scene: Scene) -> None:
    assert kind_of(VisitAnswer(person="id-ines", boat="grey-wagtail", begun=True)) == "visit noted"
    assert kind_of(NotRead(person="id-ines", boat="", why="empty", nearest=())) == NOT_READ
    assert say(NotRead(person="id-ines", boat="", why="a reason of tomorrow", nearest=()), scene).startswith(
        "Not under"
    )


def test_a_text_holds_160_septets_and_not_one_more(scene: Scene) -> None:
    # CHK-45 of the handbook: 160 septets are one part, 161 are two.
    lines = (StatusLine(signal="grey-wagtail/note", measured="v", age=None),)
    lengths_seen = set()
    for extra in range(120):
        boat = replace(scene.boats["grey-wagtail"], name="B" * (20 + extra))
        answer = StatusAnswer(person="id-ines", boat="grey-wagtail", situations=(), lines=lines)
        text = say(answer, replace(scene, boats={boat.key: boat}))
        lengths_seen.add(septets(text))
        assert parts(text) == 1
    assert 160 in lengths_seen
    assert parts("a" * 161) == 2
