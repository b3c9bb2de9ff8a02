"""Random walks through the room: whatever happens in whatever order, no command goes out without right, code, proof of
the number and interlocks, none twice, none from a lost phone, and a lock holds."""

from dataclasses import replace

import orjson
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from gateway.alarms.aboard import Occupied
from gateway.alarms.settings import Concerns
from gateway.people.settings import Person
from gateway.requests.answers import CautionAndCode
from gateway.requests.facts import CodeMade, CodeSpent, PersonLocked, RequestStep, SecondAsked
from gateway.requests.falling_due import next_due
from gateway.requests.life import RequestEvent, step
from gateway.requests.lost_phones import report_lost
from gateway.requests.number_answers import NumberIsProved, PhoneLostTold, ProveFirst
from gateway.requests.proving_numbers import fell_silent, numbers_in_files
from gateway.requests.run_facts import RunBegan, RunEnded, StopSent
from gateway.requests.settings import GRAVE, Equipment
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from tests.effort import tries
from tests.requests.fake_world import (
    EQUIPMENT,
    FRIDGE,
    GENERATOR,
    INES,
    LIGHTS,
    MARINA,
    PEOPLE,
    RUTH,
    TOBIAS,
    Room,
    room,
)

people = st.sampled_from([INES, INES, TOBIAS, TOBIAS, MARINA])
pieces = st.sampled_from([GENERATOR, FRIDGE, LIGHTS])
ages = st.sampled_from([0] * 12 + [5 * MINUTE, 5 * MINUTE + 1, None])
mostly = st.sampled_from([True] * 5 + [False])


class AnyOrder(RuleBasedStateMachine):
    """What the world and the people may do, in any order."""

    @initialize()
    def begin(self) -> None:
        self.one: Room = room()
        self.one.equipment[GENERATOR.id] = replace(GENERATOR, permitted=None)  # so that it is not night half the time
        self.one.equipment[LIGHTS.id] = replace(LIGHTS, second_persons={"on": (INES.key, TOBIAS.key)})
        self.codes: list[tuple[Person, CautionAndCode]] = []
        self.void: set[int] = set()  # places among the codes
        self.proofs: list[tuple[Person, ProveFirst]] = []
        self.proved = {INES.id, TOBIAS.id, RUTH.id, MARINA.id}
        self.lost: set[str] = set()
        self.locks: dict[str, Ms] = {}
        self.seen_facts = 0

    # ------------------------------------------------ the people

    @rule(who=people, piece=pieces, first=st.booleans(), minutes=st.sampled_from([None, 2, 60, 300]), age=ages)
    def ask(self, who: Person, piece: Equipment, first: bool, minutes: int | None, age: Ms | None) -> None:
        answer = self.one.ask(piece, piece.pair[not first], minutes=minutes, who=who, age=age)
        if isinstance(answer, CautionAndCode):
            assert who is not MARINA
            assert age is not None
            assert age <= 5 * MINUTE
            assert not self.locked(who)
            assert who.id not in self.lost
            assert not first or who.id in self.proved
            self.codes.append((who, answer))
        elif isinstance(answer, ProveFirst):
            assert first
            assert who.id not in self.proved | self.lost
            self.proofs.append((who, answer))

    @precondition(lambda self: self.codes)
    @rule(data=st.data(), who=people, own=mostly, newest=mostly, age=ages)
    def go(self, data: st.DataObject, who: Person, own: bool, newest: bool, age: Ms | None) -> None:
        """Any code ever made comes back, mostly the newest, mostly from its own person, as often as it likes."""
        person, code = self.codes[-1] if newest else data.draw(st.sampled_from(self.codes))
        sender = person if own else who
        before, told = len(self.one.orders), len(self.one.told)
        good = self.good(sender, person, code, age)
        fits = self.fits(code)
        self.one.go(code.words, who=sender, age=age, patient=False)
        went = len(self.one.orders) - before
        for asked in self.one.told[told:]:
            if isinstance(asked, CautionAndCode):
                self.codes.append((PEOPLE[asked.person], asked))
        assert went in (0, 1)
        if went:
            assert good
            assert fits
            body = orjson.loads(self.one.orders[-1].payload)
            piece = EQUIPMENT[code.equipment]
            assert (body["do"], self.one.orders[-1].topic) == (code.action, piece.topic)

    @rule(
        data=st.data(),
        who=people,
        piece=pieces,
        before=st.sampled_from(["", "", "", "number", "silence", "lost"]),
        between=st.sampled_from(["", "", "", "", "LOCAL", "hatch", "gas", "silent", "wait", "wrong", "number", "lost"]),
    )
    def ask_and_go(self, data: st.DataObject, who: Person, piece: Equipment, before: str, between: str) -> None:
        """The usual way, with something before it and in between at times."""
        self.about_the_phone(who, before)
        running = self.one.world.values[piece.feedback].reading.text == "on"
        self.ask(who, piece, not running, None, 0)
        match between:
            case "LOCAL":
                self.selector("LOCAL")
            case "hatch":
                self.somebody(True)
            case "gas":
                self.alarm(Concerns.GAS, True)
            case "silent":
                self.reach(True, True)
            case "wait":
                self.wait(10 * MINUTE, True)
            case "wrong":
                self.guess(who)
        self.about_the_phone(who, between)
        if self.codes:
            self.go(data, self.codes[-1][0], True, True, 0)

    @rule(data=st.data(), who=st.sampled_from([INES, TOBIAS]))
    def both_words(self, data: st.DataObject, who: Person) -> None:
        """What needs two persons, asked and confirmed straight on as far as it goes."""
        self.ask(who, LIGHTS, True, None, 0)
        for _ in range(2):
            if self.codes:
                self.go(data, self.codes[-1][0], True, True, 0)

    @rule(who=people, spared=mostly)
    def guess(self, who: Person, spared: bool = False) -> None:
        if spared:
            return  # else everybody is locked most of the time
        before = len(self.one.orders)
        self.one.go(("sofa", "kettle"), who=who, patient=False)
        assert len(self.one.orders) == before

    # ------------------------------------------------ whose number it is

    @precondition(lambda self: self.proofs)
    @rule(data=st.data(), who=people, own=mostly, newest=mostly, age=ages)
    def prove(self, data: st.DataObject, who: Person, own: bool, newest: bool, age: Ms | None) -> None:
        """Any words of a proof ever sent come back; they never switch anything."""
        person, asked = self.proofs[-1] if newest else data.draw(st.sampled_from(self.proofs))
        sender, before, now = person if own else who, len(self.one.orders), self.one.world.now
        may = sender is person and age is not None and age <= 5 * MINUTE and now - age <= asked.expires
        may &= asked is [mine for one, mine in self.proofs if one is person][-1]
        may &= not self.locked(sender) and sender.id not in self.lost
        answers = self.one.prove(asked.words, who=sender, age=age)
        if any(isinstance(answer, NumberIsProved) for answer in answers):
            assert may
            self.proved.add(sender.id)
        assert len(self.one.orders) == before

    def about_the_phone(self, who: Person, what: str) -> None:
        match what:
            case "number":
                self.another_number(who)
            case "silence":
                self.long_silence(who)
            case "lost":
                self.phone_lost(who, RUTH)

    @rule(who=people)
    def another_number(self, who: Person) -> None:
        self.one.take(numbers_in_files(self.one.state, PEOPLE, (who.id,), self.one.world.now))
        self.proved.discard(who.id)
        self.lost.discard(who.id)
        self.all_void(who)

    @rule(who=people, by=st.sampled_from([INES, TOBIAS, RUTH, MARINA]))
    def phone_lost(self, who: Person, by: Person) -> None:
        answers = self.one.take(report_lost(self.one.state, by, who, PEOPLE))
        if isinstance(answers[0], PhoneLostTold):
            assert by.id not in self.lost, "a lost phone reports no other"
            self.lost.add(who.id)
            self.proved.discard(who.id)
            self.all_void(who)
        assert not {INES.id, TOBIAS.id, RUTH.id} <= self.lost, "somebody is left who may command"

    @rule(who=people)
    def installer_makes_sure(self, who: Person) -> None:
        self.one.wait(1)
        sure = replace(who, proved=self.one.world.now, proved_by=RUTH.key)
        self.one.take(numbers_in_files(self.one.state, {**PEOPLE, who.id: sure}, (), self.one.world.now))
        self.proved.add(who.id)
        self.lost.discard(who.id)

    @rule(who=people)
    def long_silence(self, who: Person) -> None:
        """Nobody writes for 61 days; this person is the first to."""
        self.one.wait(61 * DAY)
        self.one.take(fell_silent(self.one.state, who, self.one.world.now))
        self.proved.discard(who.id)

    def all_void(self, who: Person) -> None:
        self.void |= {place for place, (person, _) in enumerate(self.codes) if person is who}
        self.proofs = [(person, asked) for person, asked in self.proofs if person is not who]

    @precondition(lambda self: self.codes)
    @rule(data=st.data())
    def drop(self, data: st.DataObject) -> None:
        person, code = data.draw(st.sampled_from(self.codes))
        self.one.drop(code.words, who=person)

    # ------------------------------------------------ the world

    @rule(
        span=st.sampled_from([1, SECOND, 20 * SECOND, MINUTE, 10 * MINUTE, 31 * MINUTE, 2 * HOUR]), fresh=st.booleans()
    )
    def wait(self, span: Ms, fresh: bool) -> None:
        self.one.wait(span, fresh=fresh)

    @rule(what=st.sampled_from(["LOCAL", "REMOTE"]))
    def selector(self, what: str) -> None:
        self.one.report(selector=what)

    @rule(piece=pieces, on=st.booleans())
    def contact(self, piece: Equipment, on: bool) -> None:
        self.one.wait(1)
        self.one.hear({piece.feedback.partition("/")[2]: "on" if on else "off"})

    @rule(aboard=mostly)
    def somebody(self, aboard: bool) -> None:
        self.one.world.somebody = Occupied(self.one.world.now, "hatch") if aboard else None

    @rule(concerns=st.sampled_from([Concerns.GAS, Concerns.FIRE, Concerns.CO]), on=st.booleans())
    def alarm(self, concerns: Concerns, on: bool) -> None:
        self.one.world.alarms.pop(concerns, None)
        if on:
            self.one.world.alarms[concerns] = 7

    @rule(link=st.booleans(), silent=st.booleans())
    def reach(self, link: bool, silent: bool) -> None:
        self.one.world.link = link
        self.one.world.silent = self.one.world.now if silent else None

    @rule()
    def all_is_well_again(self) -> None:
        self.one.world.alarms.clear()
        self.one.world.somebody = None
        self.one.world.link, self.one.world.silent = True, None
        self.one.report(selector="REMOTE")
        self.one.wait(10 * MINUTE)

    @precondition(lambda self: self.one.orders)
    @rule(done=mostly)
    def the_node_obeys(self, done: bool) -> None:
        """The contact follows the newest command, or does not."""
        order = self.one.orders[-1]
        piece = next(known for known in EQUIPMENT.values() if known.topic == order.topic)
        on = (orjson.loads(order.payload)["do"] == piece.pair[0]) is done
        self.contact(piece, on)

    @precondition(lambda self: self.one.orders)
    @rule(data=st.data(), taken=st.booleans())
    def broker(self, data: st.DataObject, taken: bool) -> None:
        self.one.broker(taken=taken, order=data.draw(st.sampled_from([order.id for order in self.one.orders])))

    @rule()
    def restart(self) -> None:
        before = len(self.one.orders)
        self.one.restart()
        assert len(self.one.orders) == before

    # ------------------------------------------------ what the model knows

    def locked(self, person: Person) -> bool:
        return self.one.world.now < self.locks.get(person.id, 0)

    def good(self, sender: Person, person: Person, code: CautionAndCode, age: Ms | None) -> bool:
        """Whether this code may act now as far as person, age, time and lock go."""
        return (
            sender is person
            and age is not None
            and age <= 5 * MINUTE
            and self.one.world.now - age <= code.expires
            and not self.locked(sender)
            and sender.id not in self.lost
            and (code.action != EQUIPMENT[code.equipment].pair[0] or sender.id in self.proved)
            and next(place for place, (_, mine) in enumerate(self.codes) if mine is code) not in self.void
            and code is [mine for who, mine in self.codes if who is person and mine.who == code.who][-1]
        )

    def fits(self, code: CautionAndCode) -> bool:
        """Whether the plainest interlocks, looked at by this test itself, allow it."""
        world, piece = self.one.world, EQUIPMENT[code.equipment]
        if Concerns.GAS in world.alarms or Concerns.FIRE in world.alarms or not world.link or world.silent is not None:
            return False
        contact = world.values[piece.feedback]
        if world.now - contact.arrived > 90 * SECOND:
            return False
        if code.action == piece.pair[0] and piece.sort in GRAVE:
            selector = world.values[f"{piece.boat}/selector"]
            fresh = world.now - selector.arrived <= 90 * SECOND
            if not fresh or selector.reading.text != "REMOTE" or world.somebody is not None:
                return False
        return not (code.action == piece.pair[0] and Concerns.CO in world.alarms)

    # ------------------------------------------------ what always holds

    @invariant()
    def every_order_has_one_reason_and_none_goes_twice(self) -> None:
        facts = self.one.facts
        by_request = [f.order for f in facts if isinstance(f, RequestStep) and f.event is RequestEvent.SEND]
        by_run = [f.order for f in facts if isinstance(f, StopSent)]
        assert [order.id for order in self.one.orders] == [*sorted(by_request + by_run, key=self.place)]
        assert len(set(by_request + by_run)) == len(by_request + by_run)

    def place(self, order: str) -> int:
        return [known.id for known in self.one.orders].index(order)

    @invariant()
    def every_request_walks_the_table_and_is_sent_once_with_one_code(self) -> None:
        stands: dict[str, object] = {}
        for fact in self.one.facts:
            if isinstance(fact, RequestStep):
                assert stands.get(fact.request, "new") == fact.before
                assert step(fact.before, fact.event) is fact.after
                stands[fact.request] = fact.after
        made = [fact.request for fact in self.one.facts if isinstance(fact, CodeMade)]
        sent = [f.request for f in self.one.facts if isinstance(f, RequestStep) and f.event is RequestEvent.SEND]
        assert len(set(made)) == len(made)
        assert len(set(sent)) == len(sent)
        assert set(sent) <= set(made)

    @invariant()
    def what_needs_two_persons_is_never_sent_on_the_word_of_one(self) -> None:
        spent = {
            (f.request, f.person) for f in self.one.facts if isinstance(f, CodeSpent) and f.trouble == "used already"
        }
        seconds = {f.request: f.person for f in self.one.facts if isinstance(f, SecondAsked)}
        for fact in self.one.facts:
            if isinstance(fact, RequestStep) and fact.event is RequestEvent.SEND:
                assert (fact.request in seconds) is ((fact.equipment, fact.action) == (LIGHTS.id, "on"))
                words_of = {fact.person, seconds.get(fact.request, fact.person)}
                assert len(words_of) == 1 + (fact.request in seconds)
                assert {(fact.request, person) for person in words_of} <= spent

    @invariant()
    def a_stop_is_sent_for_a_run_only_and_ten_times_at_most(self) -> None:
        tries: dict[str, int] = {}
        for fact in self.one.facts:
            if isinstance(fact, RunBegan):
                assert fact.equipment not in tries, "a run that stands is never replaced"
                tries[fact.equipment] = 0
            elif isinstance(fact, StopSent):
                tries[fact.equipment] += 1
                assert tries[fact.equipment] == fact.number <= 10
            elif isinstance(fact, RunEnded):
                del tries[fact.equipment]
        assert set(tries) == set(self.one.state.runs)

    @invariant()
    def locks_are_kept(self) -> None:
        for fact in self.one.facts[self.seen_facts :]:
            if isinstance(fact, PersonLocked):
                self.locks[fact.person] = fact.until if fact.until is not None else 10**15
        self.seen_facts = len(self.one.facts)

    @invariant()
    def what_is_due_lies_ahead_or_can_be_done(self) -> None:
        self.one.due()
        due = next_due(self.one.state)
        assert due is None or due > self.one.world.now


TestAnyOrder = AnyOrder.TestCase
TestAnyOrder.settings = settings(
    max_examples=tries(60), stateful_step_count=60, deadline=None, suppress_health_check=list(HealthCheck)
)
