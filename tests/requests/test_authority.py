"""When a lock of commands ends by the installer's word."""

from dataclasses import replace

import pytest

from gateway.requests.authority import proved_again
from gateway.requests.facts import LockLifted
from gateway.requests.state import Requests
from gateway.requests.tries import Tries
from gateway.vocabulary.moments import HOUR, Ms
from tests.requests.fake_world import NOON, PEOPLE, RUTH, TOBIAS


@pytest.mark.parametrize(("after", "lifted"), [(-1, False), (0, False), (1, True), (HOUR, True), (HOUR + 1, False)])
def test_a_lock_is_lifted_by_a_proof_after_it_and_never_by_one_dated_ahead(after: Ms, lifted: bool) -> None:
    state = Requests(tries={TOBIAS.id: Tries(locked=True, locked_at=NOON)})
    people = {**PEOPLE, TOBIAS.id: replace(TOBIAS, proved=NOON + after, proved_by=RUTH.key)}
    facts = [note.fact for note in proved_again(state, people, NOON + HOUR).notes]
    assert facts == ([LockLifted(person=TOBIAS.id, by=RUTH.id)] if lifted else [])
