"""From a folder to a service that can run: the installation read, the store opened, the doors made."""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from gateway.doors.bus import MqttBus
from gateway.doors.carrier import TwilioCarrier, signature_check
from gateway.doors.faces import (
    HOOK_REPORTS,
    BrokerSettings,
    Bus,
    CarrierSettings,
    Clock,
    DoorTrouble,
    HookSettings,
    Inbox,
    MailSettings,
    Store,
    StoreOfOthers,
    StoreUnreadable,
)
from gateway.doors.mail import SmtpMail
from gateway.doors.store import open_afresh, open_store
from gateway.installation.load import Installation, load
from gateway.service.pace import pace_of
from gateway.service.parts import Doors, Habits
from gateway.service.running import Service
from gateway.vocabulary.happenings import Happening
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """An installation with its store, ready for the doors. new_people: (random id, key, number) of persons whom the
    store has not met, or knows by another number."""

    installation: Installation
    store: Store
    new_people: tuple[tuple[str, str, str], ...]


def open_installation(
    folder: Path,
    *,
    environ: Mapping[str, str],
    person_id: Callable[[], str],
    now: Callable[[], Ms] | None = None,
) -> Opened:
    """Read the folder and open its store. Raises InstallationRefused, and then nothing was opened; StoreTaken,
    StoreUnreadable or StoreTrouble.

    now: the instant (ms UTC), at which return dates are judged, and under which a damaged store is kept aside, so that
    alarms go on with an empty one; None: dates are taken as they are, and a damaged store is refused. A sound file that
    is not ours, or of a later release, is refused always.
    """
    # Where the store lies stands in the files, and the persons' ids in the store: read once to find the store, then
    # again with the ids.
    read_at = None if now is None else now()
    first = load(folder, person_id=lambda key: key, environ=environ, now=read_at)
    store = _opened(first.store, now)
    try:
        met = store.load("").people
        known = {key: found for found, key, _ in met}
        new: dict[str, str] = {}

        def id_of(key: str) -> str:
            return known.get(key) or new.setdefault(key, person_id())

        installation = load(folder, person_id=id_of, environ=environ, now=read_at)
    except BaseException:
        store.close()
        raise
    people = ((person.id, person.key, person.number) for person in installation.bundle.people.values())
    return Opened(installation=installation, store=store, new_people=tuple(one for one in people if one not in met))


def _opened(path: Path, now: Callable[[], Ms] | None) -> Store:
    store: Store | None = None
    try:
        store = open_store(path)
        store.load("")
        return store
    except StoreOfOthers:
        raise
    except StoreUnreadable as damage:
        if store is not None:
            store.close()
        if now is None:
            raise
        return open_afresh(path, damage.problem, now())


def doors_of(
    opened: Opened,
    clock: Clock,
    draw: Callable[[Happening], bytes],
    woken: Callable[[], None],
    *,
    wrapped: Callable[[MqttBus], Bus] = lambda bus: bus,
) -> Doors:
    """The real doors for an installation. wrapped: what is to stand round each bus (the demo holds messages back)."""
    plan = opened.installation
    buses = {b.name: wrapped(MqttBus(BrokerSettings(**asdict(b)), woken)) for b in plan.brokers}
    reports = {hook.name: hook.public_url + HOOK_REPORTS for hook in plan.hooks}
    carriers = {
        c.name: TwilioCarrier(CarrierSettings(**asdict(c), reports_to=reports.get(c.name))) for c in plan.carriers
    }
    return Doors(
        store=opened.store,
        clock=clock,
        buses=buses,
        carriers=carriers,
        draw=draw,
        topics=plan.topics,
        client_ids={b.name: b.client_id for b in plan.brokers},
        new_people=opened.new_people,
        paces={name: pace_of(poll.idle, poll.fast, hook=name in reports) for name, poll in plan.polls.items()},
        inboxes=_inboxes(plan) if plan.hooks else {},
        keeping=plan.keeping,
        mail=None if plan.mail is None else SmtpMail(MailSettings(**asdict(plan.mail))),
    )


def _inboxes(plan: Installation) -> dict[str, Inbox]:
    """The web hooks. Raises DoorTrouble when the libraries for them are not installed."""
    try:
        from gateway.doors.inbox import WebHook  # noqa: PLC0415  # 0.1 s and some MiB that most installations save
    except ImportError as missing:
        raise DoorTrouble(
            where="web hook",
            problem=f"the library {missing.name} is not installed",
            remedy="Run: pip install 'heavingline[hook]'; or take [carrier.NAME.hook] out of gateway.toml",
        ) from None
    tokens = {carrier.name: carrier.token for carrier in plan.carriers}
    return {hook.name: WebHook(HookSettings(**asdict(hook)), signature_check(tokens[hook.name])) for hook in plan.hooks}


class Woken:
    """A wake-up call that can be handed to doors before the service that it wakes exists."""

    def __init__(self) -> None:
        self._service: Service | None = None

    def __call__(self) -> None:
        if self._service is not None:
            self._service.wake()

    def service(self, opened: Opened, doors: Doors, habits: Habits | None = None) -> Service:
        """Make the service and wake it from now on."""
        self._service = Service(opened.installation.bundle, doors, habits)
        return self._service
