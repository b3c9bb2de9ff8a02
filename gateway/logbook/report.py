"""What a verification found, as values and in plain words."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Bad:
    """Something that disagrees. n: number of the entry, None when it belongs to no entry (a reading of an hour that
    is not closed yet). chain: its chain or boat, "" when not known. what: in plain words."""

    n: int | None
    chain: str
    what: str

    def __str__(self) -> str:
        place = f"entry {self.n}" if self.n is not None else "no entry"
        return f"{place}{f' ({self.chain})' if self.chain else ''}: {self.what}"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainSeen:
    """One chain. entries: how many. end: its end value ``PLACE:HASH``, to be published outside.

    agrees: None when no end value from outside was given; else whether it stands in the chain. against: in words.
    """

    chain: str
    entries: int
    end: str
    parts_kept: int
    parts_erased: int
    agrees: bool | None
    against: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursSeen:
    """Closed hours of one boat's readings: kept as recorded, changed, no longer kept; readings not in a closed hour."""

    boat: str
    kept: int
    changed: int
    no_longer_kept: int
    readings_not_closed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """A whole verification. ok: the store could be read and nothing disagrees.

    unreadable: what the file said when it could not be read to its end, else "". bad: how many things disagree;
    first_bad: the first of them by number of entry. What stands here beside a trouble is what was seen up to it.
    """

    ok: bool
    unreadable: str
    first_bad: Bad | None
    bad: int
    entries: int
    readings: int
    chains: tuple[ChainSeen, ...]
    hours: tuple[HoursSeen, ...]


def sentences(report: Report) -> tuple[str, ...]:
    """The report for a person: the finding first, then what was seen, then what could not be seen."""
    return (*_finding(report), *_seen(report), *_unseen(report))


def _finding(report: Report) -> list[str]:
    if report.unreadable:
        said = [f"The store cannot be read: {report.unreadable}"]
    elif report.ok:
        said = [f"In order: {_number(report.entries, 'entry', 'entries')}, nothing disagrees."]
    else:
        said = [f"NOT in order: {_number(report.bad, 'thing disagrees', 'things disagree')}."]
    if report.first_bad is not None:
        said.append(f"First: {report.first_bad}")
    return said


def _seen(report: Report) -> list[str]:
    said = []
    for chain in report.chains:
        parts = f"{chain.parts_kept} sealed parts kept, {chain.parts_erased} erased"
        said.append(f"{chain.chain}: {_number(chain.entries, 'entry', 'entries')}, {parts}, end value {chain.end}")
        said.append(f"{chain.chain}: {chain.against}")
    for boat in report.hours:
        said.append(
            f"{boat.boat}: hours of readings: {boat.kept} kept as recorded, {boat.changed} changed, "
            f"{boat.no_longer_kept} no longer kept"
        )
    return said


def _unseen(report: Report) -> list[str]:
    said = []
    if any(chain.agrees is None for chain in report.chains):
        said.append(
            "Not seen: whether a chain was cut off at its end or rewritten as a whole. "
            "Only an end value published outside (mail, text, paper) shows that."
        )
    if any(chain.parts_erased for chain in report.chains):
        said.append("Not seen: what erased sealed parts held.")
    if any(boat.no_longer_kept for boat in report.hours):
        said.append("Not seen: readings of hours that are no longer kept.")
    if any(boat.readings_not_closed for boat in report.hours):
        said.append("Not seen: whether readings of hours not closed yet were changed on purpose; accidents would show.")
    return said


def _number(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"
