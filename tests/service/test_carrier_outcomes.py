"""Every row of what a carrier may say: through the real client, over HTTP, to the desk and on to the next person.

The rows are written out here again, from the carrier's errors pages and common practice, so that a slip in the table
shows: how often the same text is tried again, whether it is looked up first, whether the next person is told, whether
the installer is.
"""

import asyncio
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from gateway.demo.carrier_form import Complaint
from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import CarrierSettings
from gateway.service.sending import Sending
from gateway.telling.outcomes import BUSY, NO_ANSWER, NO_CARRIER, NOT_ANSWERED, OUTCOMES, outcome_of
from gateway.vocabulary.happenings import DeliveryReported, SendAnswered, SendDelayed
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from tests.desk.small_boat import BEGAN, INES, NUMBER_OF, RUTH, TOBIAS, WATER, WATER_DELAY, Small, small

ACCOUNT, TOKEN, GATEWAY = "AC" + "0" * 32, "a token of the pretend carrier", "+447700900321"


class Leaping:
    """A clock that is moved on by whoever waits."""

    def __init__(self, at: Ms) -> None:
        self.at = at

    def now(self) -> Ms:
        return self.at

    async def sleep(self, length: Ms) -> None:
        self.at += length
        await asyncio.sleep(0)


@dataclass
class Rig:
    """A flooded boat whose first text, to Ines, is on its way to the carrier."""

    stand_in: CarrierStandIn
    carrier: TwilioCarrier
    boat: Small

    @property
    def first(self) -> SendText:
        return next(order for order in self.boat.sent if order.person == INES)

    def sends(self, *, name: str = "main") -> list[SendAnswered | SendDelayed]:
        """The first text is handed over until it has come to its end; what that amounts to is taken in by the desk."""
        clock, came = Leaping(self.boat.now), []

        async def run() -> None:
            sending = Sending({name: self.carrier}, clock, came.append)  # type: ignore[arg-type]
            sending.send(self.first, self.boat.now)
            while sending._tasks:
                await asyncio.sleep(0)
            await sending.close()

        asyncio.run(run())
        for happening in came:
            self.boat.take(happening)
        return came

    def calls(self, method: str) -> int:
        """Calls that concern the first text's addressee."""
        to = NUMBER_OF[INES]
        return sum(c.method == method and bool(c.fields) and c.fields.get("To") == [to] for c in self.stand_in.calls)

    def told(self, person: str, about: str) -> bool:
        return any(who == person and what == about for who, what, _ in self.boat.told())


@pytest.fixture(scope="module")
def carrier_here() -> Iterator[CarrierStandIn]:
    with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=GATEWAY, now=lambda: BEGAN) as server:
        yield server


@pytest.fixture
def rig(carrier_here: CarrierStandIn) -> Rig:
    for queue in (carrier_here.next_answers, carrier_here.next_look_answers, carrier_here.next_refusals):
        queue.clear()
    carrier_here.next_ends.clear()
    carrier_here._calls.clear()
    carrier_here._texts.kept.clear()
    settings = CarrierSettings(name="main", account=ACCOUNT, sender=GATEWAY, token=TOKEN, base_url=carrier_here.url)
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    return Rig(carrier_here, TwilioCarrier(settings, timeout=1.0), boat)


# code, HTTP status, tries again, next person at once or in the end, installer told
REFUSED = [
    ("20003", 401, 0, True, True),
    ("20403", 403, 0, True, True),
    ("20429", 429, 3, True, False),
    ("21211", 400, 0, True, True),
    ("21408", 400, 0, True, True),
    ("21606", 400, 0, True, True),
    ("21659", 400, 0, True, True),
    ("21608", 400, 0, True, True),
    ("572005", 400, 0, True, True),
    ("21610", 400, 0, True, True),
    ("21611", 400, 0, True, True),
    ("21614", 400, 0, True, True),
    ("21635", 400, 0, True, True),
    ("30450", 400, 0, True, True),
    ("90007", 400, 0, True, True),
    ("11200", 400, 0, False, True),  # the carrier's log of the web hook; comes here only if it ever meets a text
    ("11205", 400, 0, False, True),
    ("47110815", 400, 0, True, True),  # a code that nobody knows
]

# code, last word, told once more after (ms, None: not), next person told, installer told
ENDED = [
    ("14107", "failed", None, False, True),
    ("30001", "failed", MINUTE, True, False),
    ("30002", "failed", None, True, True),
    ("30003", "undelivered", 3 * MINUTE, True, False),
    ("30004", "undelivered", None, True, True),
    ("30005", "undelivered", None, True, True),
    ("30006", "undelivered", None, True, True),
    ("30007", "undelivered", None, True, True),
    ("30008", "undelivered", 2 * MINUTE, True, False),
    ("30022", "undelivered", MINUTE, True, True),
    ("30024", "undelivered", None, True, True),
    ("30032", "undelivered", None, True, True),
    ("30034", "undelivered", None, True, True),
    ("30036", "failed", SECOND, True, False),
    ("30038", "failed", None, False, True),
    ("30039", "failed", None, False, True),
    ("30047", "failed", None, True, True),
    ("30450", "failed", None, True, True),
    ("30610", "failed", None, True, True),
    ("21610", "undelivered", None, True, True),
    ("47110816", "undelivered", None, True, True),
]


def test_no_row_of_the_table_is_left_out() -> None:
    tried = {row[0] for row in (*REFUSED, *ENDED)} | {"held", NO_ANSWER, NO_CARRIER, BUSY, NOT_ANSWERED}
    # the last two end a call by voice: tests/desk/test_calls_by_voice.py
    assert set(OUTCOMES) <= tried


@pytest.mark.parametrize(("code", "status", "again", "next_person", "installer"), REFUSED, ids=[r[0] for r in REFUSED])
def test_a_refused_text(rig: Rig, code: str, status: int, again: int, next_person: bool, installer: bool) -> None:
    rig.stand_in.next_refusals.extend([Complaint(code=int(code), message="no", status=status)] * 9)
    end = rig.sends()[-1]
    assert isinstance(end, SendAnswered)
    assert (end.accepted, end.code) == (False, code)
    assert (rig.calls("POST"), rig.calls("GET")) == (1 + again, 0), (
        "never looked up: the carrier has said that it has it not"
    )
    assert rig.told(TOBIAS, "alarm told") is next_person
    assert rig.told(RUTH, "opt-out seen" if code == "21610" else "not reached") is installer
    assert rig.boat.bytes() == rig.boat.rebuilt()


@pytest.mark.parametrize(("code", "word", "once_more", "next_person", "installer"), ENDED, ids=[r[0] for r in ENDED])
def test_a_text_that_was_taken_and_does_not_arrive(
    rig: Rig, code: str, word: str, once_more: int | None, next_person: bool, installer: bool
) -> None:
    rig.stand_in.next_ends.append((word, int(code)))
    (end,) = rig.sends()
    assert isinstance(end, SendAnswered)
    assert end.accepted
    assert rig.carrier.status(end.message) == (word, code)
    rig.boat.take(DeliveryReported(order=end.order, status=word, code=code))
    assert rig.told(TOBIAS, "alarm told") is next_person
    assert rig.told(RUTH, "opt-out seen" if code == "21610" else "not reached") is installer
    began, before = rig.boat.now, len(rig.boat.turns)
    rig.boat.wait(4 * MINUTE)
    again = [at for who, what, at in rig.boat.told(before) if (who, what) == (INES, "alarm told")]
    assert again == ([] if once_more is None else [began - rig.boat.began + once_more])
    assert rig.boat.bytes() == rig.boat.rebuilt()


def test_what_did_not_arrive_twice_is_not_repeated_again_by_that_rule(rig: Rig) -> None:
    for _ in range(3):
        order = [order for order in rig.boat.sent if order.person == INES][-1]
        rig.boat.take(SendAnswered(order=order.id, accepted=True, message="SM" + order.id))
        rig.boat.take(DeliveryReported(order=order.id, status="undelivered", code="30008"))
        rig.boat.wait(2 * MINUTE)
    assert sum(order.person == INES for order in rig.boat.sent) == 2


def test_no_answer_is_looked_up_before_each_repeat_and_the_next_person_told_after_a_minute(rig: Rig) -> None:
    rig.stand_in.next_answers.extend([Misbehaviour.BAD_GATEWAY] * 99)
    rig.stand_in.next_look_answers.extend([None, None] * 99)
    *delays, end = rig.sends()
    assert isinstance(end, SendAnswered)
    assert (end.accepted, end.code) == (False, NO_ANSWER)
    assert delays == [SendDelayed(order=rig.first.id, code=NO_ANSWER)]
    assert rig.calls("GET") == 2 * (rig.calls("POST") - 1), "each repeat after a look, with the date filter and without"
    assert rig.told(TOBIAS, "alarm told")
    assert not rig.told(RUTH, "not reached")
    assert outcome_of(NO_ANSWER).retry == (5 * SECOND, 15 * SECOND, 45 * SECOND)


def test_a_text_that_the_carrier_holds_until_morning_is_withdrawn_and_goes_to_the_next_person(rig: Rig) -> None:
    rig.stand_in.next_answers.append(Misbehaviour.HELD)
    (end,) = rig.sends()
    assert isinstance(end, SendAnswered)
    assert (end.accepted, end.code) == (False, "held")
    assert rig.stand_in._texts.kept[-1].status == "canceled"
    assert rig.told(TOBIAS, "alarm told")
    assert rig.told(RUTH, "not reached")


def test_a_queue_that_is_full_at_once_is_tried_once_more_while_the_next_person_is_told(rig: Rig) -> None:
    rig.stand_in.next_answers.extend([Misbehaviour.FAILED_AT_ONCE])
    delay, end = rig.sends()
    assert delay == SendDelayed(order=rig.first.id, code="30001")
    assert isinstance(end, SendAnswered)
    assert end.accepted
    assert rig.told(TOBIAS, "alarm told")


def test_a_text_whose_carrier_has_left_the_installation_goes_to_the_next_person_and_the_installer(rig: Rig) -> None:
    (end,) = rig.sends(name="another")
    assert isinstance(end, SendAnswered)
    assert (end.accepted, end.code) == (False, NO_CARRIER)
    assert rig.told(TOBIAS, "alarm told")
    assert rig.told(RUTH, "not reached")
