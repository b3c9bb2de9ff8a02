"""A queue in front of the gateway, played message by message: nothing that lay in it for long is ever taken for new.

The queue is that of a broker: first in, first out, over a link that is cut for a while, stalls once, and lets go at its
own speed. How old each message is stands in the test and nowhere else; `BoatsSeen` sees when they arrive.
"""

from collections.abc import Sequence

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from gateway.boat.latest import BoatsSeen, marked
from gateway.boat.settings import Signal
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading
from tests.effort import tries

SHORE = Signal(id="b/shore", boat="b", key="shore", topic="t", report_interval=30 * SECOND)

Cut = tuple[Ms, Ms]
"""From when to when the link carries nothing."""


def arrivals(made: Sequence[Ms], takes: Ms, cuts: Sequence[Cut]) -> list[tuple[Ms, Ms]]:
    """When each message was made and when it arrives: one after the other, each taking so long, none while cut."""
    found, free = [], 0
    for at in made:
        begins = max(at, free)
        for begin, end in cuts:
            if begins < end and begins + takes > begin:
                begins = end
        free = begins + takes
        found.append((at, free))
    return found


def judged(signal: Signal, came: Sequence[tuple[Ms, Ms]]) -> list[tuple[Ms, bool]]:
    """How old each message was when it arrived, and whether it was taken for late."""
    seen, found = BoatsSeen(), []
    for made, at in came:
        raw = Reading(signal=signal.id, grade=Grade.CONTACT, text="on")
        reading = marked(raw, signal, seen.latest.get(signal.id), at, queued=seen.may_be_queued(signal, at))
        seen.absorb(reading, at, signal.boat)
        found.append((at - made, reading.late))
    return found


USUAL = [10 * SECOND, 29 * SECOND, 30 * SECOND, 45 * SECOND, 60 * SECOND]
"""Of a signal that was said to report every 30 s."""


@settings(max_examples=tries(60), deadline=None)
@given(
    usual=st.sampled_from(USUAL),
    faster=st.sampled_from([1.5, 1.6, 2.0, 2.4, 3.0, 5.0, 30.0]),
    silence=st.integers(2 * MINUTE, HOUR),
    stalls=st.lists(st.tuples(st.integers(0, HOUR), st.integers(SECOND, 10 * MINUTE)), max_size=1),
)
@example(usual=30 * SECOND, faster=2.4, silence=HOUR, stalls=[])
@example(usual=60 * SECOND, faster=5.0, silence=HOUR, stalls=[])
def test_nothing_older_than_three_reports_is_taken_for_new_while_the_queue_lets_go_half_as_fast_again(
    usual: Ms, faster: float, silence: Ms, stalls: list[tuple[Ms, Ms]]
) -> None:
    begin = 40 * usual
    cuts, after = [(begin, begin + silence)], begin + silence
    for later, length in stalls:
        cuts.append((after + later, after + later + length))
        after += later + length
    made = range(0, begin + 4 * silence + 4 * HOUR, usual)
    came = judged(SHORE, arrivals(made, int(usual / faster), cuts))
    assert [age for age, late in came if not late and age > SHORE.stale_after] == []
    assert not came[-1][1], "and the doubt ends"


@pytest.mark.parametrize("usual", USUAL)
@pytest.mark.parametrize("away", [2 * MINUTE, HOUR, 12 * HOUR])
def test_a_boat_that_kept_nothing_is_believed_with_its_third_message(usual: Ms, away: Ms) -> None:
    made = [*range(0, 40 * usual, usual), *range(40 * usual + away, 60 * usual + away, usual)]
    late = [late for _, late in judged(SHORE, arrivals(made, 0, []))]
    behind = late[40:]
    assert late[:40] == [False] * 40
    assert behind == ([True] * 2 + [False] * 18 if usual >= 12 * SECOND else [True] * len(behind))


def test_a_burst_of_changes_before_the_silence_does_not_let_its_queue_pass() -> None:
    begin = 40 * 30 * SECOND
    burst = range(begin - 20 * SECOND, begin, SECOND)
    made = sorted([*range(0, begin + 6 * HOUR, 30 * SECOND), *burst])
    came = judged(SHORE, arrivals(made, 15 * SECOND, [(begin, begin + HOUR)]))
    assert [age for age, late in came if not late and age > SHORE.stale_after] == []
