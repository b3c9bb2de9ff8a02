"""What must be known of a whole record before any of it can be replayed."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from gateway.desk.facts import InstallationUsed, ReadingsDropped
from gateway.rehearsal.recorded import facts_of
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import Ms


@dataclass(slots=True)
class Survey:
    """first, last: instants of the first and last entry (ms UTC), None in an empty record. used: which files came into
    use when, by their fingerprint. kept_from: readings taken before this instant were dropped, 0 when none were."""

    first: Ms | None = None
    last: Ms | None = None
    used: list[tuple[Ms, str]] = field(default_factory=list)
    kept_from: Ms = 0

    def one_set_of_files(self, since: Ms, until: Ms, fingerprint: str) -> bool:
        """Whether nothing but these files was in use from an instant up to another."""
        before = [used for at, used in self.used if at < since]
        return {*before[-1:], *(used for at, used in self.used if since <= at < until)} == {fingerprint}


def survey(entries: Iterable[Written]) -> Survey:
    """Go through all entries, oldest first."""
    found = Survey()
    for fact, written in facts_of(entries):
        now = written.entry.now
        found.first, found.last = now if found.first is None else found.first, now
        match fact:
            case InstallationUsed(fingerprint=fingerprint):
                found.used.append((now, fingerprint))
            case ReadingsDropped(before=before):
                found.kept_from = max(found.kept_from, before)
    return found
