"""The store beside a simple model: after any row of commits, failures and restarts both hold the same."""

import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from gateway.doors.faces import Batch, ReadingRow, Settled, Snapshot, StoreTrouble
from gateway.doors.store import open_reader, open_store
from gateway.logbook.chains import Heads, heads_of, heads_plain, link
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading
from tests.effort import tries

BOATS = st.sampled_from(["grey-wagtail", "salt-harrier", "installation"])
TEXT = SendText(
    id="", carrier="main", person="p", number="+447700900123", body="b", priority=Priority.ALARM, valid_for=1
)


class StoreBesideModel(RuleBasedStateMachine):
    """One batch a step; every field of it is drawn."""

    @initialize()
    def new(self) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "store.db"
        self.store = open_store(self.path)
        self.heads, self.now, self.happening, self.texts = Heads(), 0, 0, 0
        self.written: list[Written] = []
        self.rows: list[ReadingRow] = []
        self.waiting: dict[str, SendText] = {}
        self.seen: set[str] = set()
        self.snapshot: Snapshot | None = None

    def drawn(self, boats: list[str], chains: list[str], texts: int, settle: int, snapshot: bool) -> Batch:
        self.now += 1
        self.happening += 1
        rows = [
            ReadingRow(
                happening=self.happening,
                now=self.now,
                reading=Reading(signal=f"{boat}/s", grade=Grade.WORD, text=str(place)),
            )
            for place, boat in enumerate(boats)
        ]
        written = [
            link(
                self.heads,
                chain=chain,
                now=self.now,
                happening=self.happening,
                kind="k",
                version=1,
                body={"place": place},
                parts=[SealedPart(salt="00" * 16, content=place)] * (place % 2),
            )
            for place, chain in enumerate(chains)
        ]
        queued = [replace(TEXT, id=f"t{self.texts + i}") for i in range(texts)]
        self.texts += texts
        return Batch(
            readings=rows,
            written=written,
            texts=queued,
            settled=[
                Settled(order=order, outcome="accepted", message=f"M{order}") for order in [*self.waiting][:settle]
            ],
            seen=[(f"m{self.happening}", self.now)],
            snapshot=Snapshot(n=self.heads.n, happening=self.happening, state_version="1", data=b"{}")
            if snapshot
            else None,
        )

    @rule(
        boats=st.lists(BOATS, max_size=4),
        chains=st.lists(BOATS, max_size=4),
        texts=st.integers(0, 2),
        settle=st.integers(0, 2),
        snapshot=st.booleans(),
    )
    def commit(self, boats: list[str], chains: list[str], texts: int, settle: int, snapshot: bool) -> None:
        batch = self.drawn(boats, chains, texts, settle, snapshot)
        self.store.commit(batch)
        self.written += batch.written
        self.rows += batch.readings
        self.waiting.update({text.id: text for text in batch.texts})
        for settled in batch.settled:
            del self.waiting[settled.order]
        self.seen.update(message for message, _ in batch.seen)
        self.snapshot = batch.snapshot or self.snapshot

    @rule(boats=st.lists(BOATS, max_size=4), chains=st.lists(BOATS, max_size=4), settle=st.integers(0, 2))
    def fail(self, boats: list[str], chains: list[str], settle: int) -> None:
        kept = heads_plain(self.heads)
        batch = self.drawn(boats, chains, 1, settle, True)
        with pytest.raises(StoreTrouble):
            self.store.commit(replace(batch, texts=[*batch.texts, *batch.texts]))  # one id twice: refused at the end
        self.heads = heads_of(kept)

    @rule()
    def start_again(self) -> None:
        self.store.close()
        self.store = open_store(self.path)

    @invariant()
    def both_hold_the_same(self) -> None:
        loaded = self.store.load("1")
        n, happening = (self.snapshot.n, self.snapshot.happening) if self.snapshot else (0, -1)
        assert loaded.snapshot == self.snapshot
        assert list(loaded.entries) == self.written[n:]
        assert list(loaded.readings) == [row for row in self.rows if row.happening > happening]
        assert {text.order.id: text.order for text in loaded.open_texts} == self.waiting
        messages = [f"m{i}" for i in range(self.happening + 1)]
        assert self.store.has_seen(messages) == self.seen

    def teardown(self) -> None:
        self.store.close()
        with open_reader(self.path) as reader:
            report = verify(reader)
        assert (report.ok, report.entries, report.readings) == (True, len(self.written), len(self.rows))
        self.folder.cleanup()


StoreBesideModel.TestCase.settings = settings(max_examples=tries(15), stateful_step_count=15, deadline=None)
TestStoreBesideModel = StoreBesideModel.TestCase
