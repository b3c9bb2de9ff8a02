"""The carrier is away for the worst hour of a night: the list is gone through meanwhile, each reason is kept, and when
it is back everybody hears what holds then, once, with no heap of old texts.

The desk alone; what the sending does is a model of `gateway.service.sending`: a text is said to be long in going after
a minute, is tried for as long as it is of use, and is then given up.
"""

from dataclasses import dataclass, field

from gateway.telling.outcomes import NO_ANSWER
from gateway.vocabulary.happenings import DeliveryReported, SendAnswered, SendDelayed
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from tests.desk.small_boat import INES, MARINA, SHORE, TOBIAS, WATER, Small, small


@dataclass
class Night:
    """The boat, and a carrier that is up or away. arrived: instant and text, in order."""

    boat: Small = field(default_factory=lambda: small(WATER, SHORE))
    up: bool = True
    read: int = 0
    waiting: dict[str, tuple[SendText, Ms]] = field(default_factory=dict)
    delayed: set[str] = field(default_factory=set)
    arrived: list[tuple[Ms, SendText]] = field(default_factory=list)

    def carry(self) -> None:
        for turn in self.boat.turns[self.read :]:
            self.waiting |= {one.id: (one, turn.now) for one in turn.orders if isinstance(one, SendText)}
        self.read = len(self.boat.turns)
        for order, queued in list(self.waiting.values()):
            age = self.boat.now - queued
            if self.up:
                del self.waiting[order.id]
                self.arrived.append((self.boat.now, order))
                self.boat.take(SendAnswered(order=order.id, accepted=True, message=f"SM{order.id}"))
                self.boat.take(DeliveryReported(order=order.id, status="delivered"))
            elif age > max(order.valid_for, MINUTE):
                del self.waiting[order.id]
                self.boat.take(SendAnswered(order=order.id, accepted=False, code=NO_ANSWER))
            elif age >= MINUTE and order.id not in self.delayed:
                self.delayed.add(order.id)
                self.boat.take(SendDelayed(order=order.id, code=NO_ANSWER))

    def passes(self, length: Ms, *, water: str, shore: str = "on") -> None:
        """The boat reports every 30 s; the carrier is tried every 10 s."""
        for second in range(0, length // SECOND, 10):
            if second % 30 == 0:
                self.boat.reads("water", water)
                self.boat.reads("shore", shore)
            self.boat.wait(10 * SECOND)
            self.carry()

    def heard(self, person: str, since: Ms) -> list[str]:
        return [one.body for at, one in self.arrived if one.person == person and at >= since and not one.spoken]


def worst_hour() -> tuple[Night, Ms]:
    """Away from 03:05 to 04:05: water comes in at 03:10 and stays, shore power goes for twenty minutes."""
    night = Night()
    night.passes(5 * MINUTE, water="off")
    night.up = False
    night.passes(5 * MINUTE, water="off")
    night.passes(20 * MINUTE, water="on", shore="off")
    night.passes(35 * MINUTE, water="on")
    night.up = True
    back = night.boat.now
    night.passes(2 * MINUTE, water="on")
    return night, back


def test_meanwhile_the_list_is_gone_through_and_every_reason_is_kept() -> None:
    night, back = worst_hour()
    assert [at for at, _ in night.arrived if at < back] == []
    queued = [w.entry for w in night.boat.entries if w.entry.kind == "text-queued" and w.entry.now < back]
    told = {str(one.body["person"]) for one in queued if 1 in tuple(one.body["numbers"])}  # type: ignore[arg-type]
    assert told == {INES, TOBIAS, MARINA}
    ends = {str(w.entry.body["order"]) for w in night.boat.entries if w.entry.kind in ("text-delayed", "text-answered")}
    assert {str(one.body["order"]) for one in queued} <= ends


def test_the_second_person_is_not_kept_waiting_for_a_text_that_does_not_go() -> None:
    night, _ = worst_hour()
    first = {
        person: min(
            w.entry.now
            for w in night.boat.entries
            if w.entry.kind == "text-queued" and w.entry.body["person"] == person and not w.entry.body["spoken"]
        )
        for person in (INES, TOBIAS)
    }
    assert first[TOBIAS] - first[INES] <= MINUTE + 30 * SECOND


def test_when_it_is_back_everybody_hears_of_the_water_within_a_minute_and_gets_no_heap() -> None:
    night, back = worst_hour()
    for person in (INES, TOBIAS, MARINA):
        heard = night.heard(person, back)
        water = [at for at, one in night.arrived if one.person == person and "WATER" in one.body.upper()]
        assert min(water) <= back + MINUTE
        assert sum("WATER" in body.upper() for body in heard) <= 2, heard
        assert len(heard) <= 4, heard


def test_what_came_and_went_meanwhile_is_said() -> None:
    night, back = worst_hour()
    said = " ".join(night.heard(INES, back))
    assert "shore" in said.casefold()


def test_the_record_of_that_hour_folds_to_the_same_state() -> None:
    night, _ = worst_hour()
    assert night.boat.rebuilt() == night.boat.bytes()


def test_after_that_it_goes_on_as_if_nothing_had_been() -> None:
    night, _ = worst_hour()
    night.boat.texts(TOBIAS, "have it 1")
    since = night.boat.now
    night.passes(9 * MINUTE, water="on")
    assert not any("HAVE IT" in body for body in night.heard(INES, since))
