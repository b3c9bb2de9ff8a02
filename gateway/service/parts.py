"""What a service is made of: the doors to the world, ready made, and its habits."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from gateway.doors.faces import Bus, Carrier, Clock, Inbox, Mail, Store
from gateway.history.settings import USUAL, Keeping
from gateway.service.pace import Pace
from gateway.service.restoring import SNAPSHOT_EVERY
from gateway.vocabulary.happenings import Happening
from gateway.vocabulary.moments import SECOND, Ms

QUIET_COMMIT: Ms = SECOND
"""Readings that made no entry wait this long for company before they are committed (design 3)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """The world, ready made. buses and carriers: by their names in the installation. draw: 32 bytes for a happening.

    topics: what to subscribe to, by broker. client_ids: by broker, for the topics of our own. paces: how often each
    carrier is polled. inboxes: web hooks, by their carriers' names. mail: the mail server, if there is one.
    """

    store: Store
    clock: Clock
    buses: Mapping[str, Bus]
    carriers: Mapping[str, Carrier]
    draw: Callable[[Happening], bytes]
    topics: Mapping[str, Sequence[str]]
    client_ids: Mapping[str, str]
    new_people: Sequence[tuple[str, str, str]] = ()
    paces: Mapping[str, Pace] = field(default_factory=dict)
    inboxes: Mapping[str, Inbox] = field(default_factory=dict)
    keeping: Keeping = USUAL
    mail: Mail | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How the loop behaves; the demo and tests have no time to wait for company.

    poll_every: a fixed time between two polls, in place of each carrier's pace. apart: topics of our own whose payloads
    go to a callback. on_step: called with the name of each tagged step, for
    tests that strike there: before commit, committed, acknowledged, before send, carrier answered, before publish,
    published.
    """

    quiet_commit: Ms = QUIET_COMMIT
    poll_every: Ms | None = None
    snapshot_every: int = SNAPSHOT_EVERY
    apart: Mapping[str, Callable[[bytes], None]] = field(default_factory=dict)
    on_step: Callable[[str], None] = lambda _: None
