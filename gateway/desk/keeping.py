"""What becomes of the record itself: restored from a backup, replaced because it was damaged, thinned by age."""

from gateway.desk.facts import PartsErased, ReadingsDropped, StoreReplaced, StoreRestored
from gateway.desk.turn import Recorder
from gateway.people.settings import Role
from gateway.telling.trouble_notices import RecordReplaced
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import DamageFound, PartsExpired, ReadingsExpired, RestoreFound
from gateway.vocabulary.orders import DropReadings, EraseParts


def restored(rec: Recorder, happening: RestoreFound) -> None:
    """The store was laid in place from a backup: the first entry says so. The time since is blind time, and told by
    the start that follows."""
    rec.note(INSTALLATION, StoreRestored(backup_at=happening.backup_at, backup_n=happening.backup_n))


def replaced(rec: Recorder, happening: DamageFound) -> None:
    """The store was damaged and has been put aside: told to owner and installer, because what was known is not."""
    rec.note(INSTALLATION, StoreReplaced(kept_as=happening.kept_as, problem=happening.problem))
    for person in rec.bundle.with_role(Role.OWNER, Role.INSTALLER):
        rec.tell(RecordReplaced(person=person))


def readings_expired(rec: Recorder, happening: ReadingsExpired) -> None:
    """Readings have been kept for long enough: recorded first, dropped afterwards."""
    fact = ReadingsDropped(
        before=happening.before,
        hours=happening.hours,
        count=happening.readings,
        size=happening.size,
        because=happening.because,
    )
    rec.note(INSTALLATION, fact)
    rec.orders.append(DropReadings(before=happening.before))


def parts_expired(rec: Recorder, happening: PartsExpired) -> None:
    """Sealed parts have been kept for long enough: recorded first, erased afterwards."""
    rec.note(INSTALLATION, PartsErased(before=happening.before, count=happening.parts))
    rec.orders.append(EraseParts(before=happening.before))
