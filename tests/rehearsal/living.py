"""The starter's GREY WAGTAIL as the desk knows her with everything in order, and the same kept in a store."""

from pathlib import Path

from gateway.boat.directory import Directory, directory_of
from gateway.demo.boat import DemoBoat, Message
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.desk.state import STATE_VERSION
from gateway.desk.turn import Turn
from gateway.doors.faces import Arrived, Batch, ReadingRow, Snapshot
from gateway.doors.store import open_store
from gateway.installation.load import Installation, load
from gateway.installation.starter import lay_down
from gateway.service.arriving import items_of
from gateway.vocabulary.happenings import Happening, InstallationCame, LinkChanged, Started, TextCame
from gateway.vocabulary.moments import MINUTE, SECOND, Ms, from_rfc3339

NOON: Ms = from_rfc3339("2026-03-09T12:00:00Z")
INES, TOBIAS, RUTH, STRANGER = "+447700900123", "+447700900456", "+447700900789", "+447700900999"
SECRETS = {"HEAVINGLINE_CARRIER_TOKEN": "a token"}


def installed(folder: Path, *boats: str) -> Installation:
    """The starter laid down in an empty folder and read. boats: which of its boats, none for all."""
    lay_down(folder, boats or None)
    return load(folder, person_id=lambda key: f"p-{key}", environ=SECRETS)


class Living:
    """A desk from its first start on, and all that it made. now: instant of the last happening."""

    def __init__(self, bundle: Bundle, begin: Ms = NOON) -> None:
        self.desk, self.now, self.turns = Desk(bundle), begin, list[Turn]()
        self.boat = DemoBoat()
        people = tuple(person.id for person in sorted(bundle.people.values(), key=lambda person: person.key))
        self.take(InstallationCame(fingerprint=bundle.fingerprint, people=people))
        self.take(Started(stopped_at=None))
        self.take(LinkChanged(link="broker:quay", up=True))
        self.take(LinkChanged(link="carrier:main", up=True))
        self.hear(MINUTE)

    def take(self, happening: Happening, later: Ms = 1) -> Turn:
        """Have the desk take it so much later."""
        self.now += later
        self.turns.append(self.desk.take(happening, self.now, self.now.to_bytes(32, "big")))
        return self.turns[-1]

    def hear(self, lasting: Ms) -> None:
        """Let the boat say what it has to say for so long."""
        end = self.now + lasting
        while self.now < end:
            for item in items_of("quay", self._directory, [_arrived(m) for m in self.boat.due(self.now)], {}):
                self.take(item.happening)
            self.now = min(end, max(self.now, self.boat.next_due()))

    def writes(self, number: str, body: str) -> Turn:
        """A phone writes, 1 s later."""
        return self.take(TextCame(message=f"SM{self.now}", number=number, body=body, age=0), SECOND)

    def keep(self, store: Path, *, snapshot: bytes | None = None) -> None:
        """Everything so far into a new store, as the service would commit it; no waiting orders."""
        writing = open_store(store)
        rows = [ReadingRow(happening=t.happening, now=t.now, reading=r) for t in self.turns for r in t.readings]
        state = self.desk.state
        kept = Batch(
            readings=rows,
            written=[written for turn in self.turns for written in turn.entries],
            people=[(person.id, person.key, person.number) for person in self.desk.bundle.people.values()],
        )
        writing.commit(kept)
        if snapshot is not None:
            n, happening = state.heads.n, state.happening
            writing.commit(
                Batch(snapshot=Snapshot(n=n, happening=happening, state_version=STATE_VERSION, data=snapshot))
            )
        writing.close()

    @property
    def _directory(self) -> Directory:
        return directory_of(self.desk.bundle.signals.values())


def _arrived(message: Message) -> Arrived:
    topic, payload, _ = message
    return Arrived(generation=1, mid=1, qos=1, topic=topic, payload=payload.encode(), retained=False)


def recorded(folder: Path, begin: Ms = NOON) -> Living:
    """The starter's GREY WAGTAIL alone in `folder`, with a record: all well, an alarm for carbon monoxide that Tobias
    took, was checked and closed, and two texts not understood (one of a stranger)."""
    plan = installed(folder, "grey-wagtail")
    living = Living(plan.bundle, begin)
    living.boat.set("co", True, living.now)
    living.hear(MINUTE)
    living.writes(TOBIAS, "have it")
    living.boat.set("co", False, living.now)
    living.hear(2 * MINUTE)
    living.writes(TOBIAS, "checked")
    living.writes(STRANGER, "=1+1 what is this?")
    living.writes(INES, "what is wrong with her?")
    living.hear(MINUTE)
    return living
