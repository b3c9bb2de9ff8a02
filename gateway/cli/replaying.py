"""`heavingline replay`: what the record would have led to, by the same files or by others. Sends and writes nothing."""

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import click

from gateway.cli.masking import Masks
from gateway.cli.reading_logbook import WrongUse, said_trouble, store_path
from gateway.cli.replay_words import Heading, as_json, in_words
from gateway.cli.shell import ShellVariables
from gateway.cli.time_given import instant
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.desk.snapshots import SnapshotUnreadable, state_of
from gateway.desk.state import STATE_VERSION, State
from gateway.doors.faces import StoreUnreadable
from gateway.doors.store import StoreReader, open_reader
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.rehearsal.recorded import Taken, taken
from gateway.rehearsal.replaying import Replay, before
from gateway.rehearsal.side_by_side import side_by_side
from gateway.rehearsal.surveying import Survey, survey
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import Ms, rfc3339

FIRST = "the beginning of the record"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked for. since, until: as typed. other: another installation's folder, None for the same."""

    since: str
    until: str
    other: Path | None


def replay_record(folder: Path, asked: Asked, *, as_object: bool) -> int:
    """Replay and print; 0 when the record was replayed as it was or with other files, 1 when it should have been the
    same and was not, or for trouble; 2 for wrong use."""
    with said_trouble() as ended:
        try:
            with open_reader(store_path(folder)) as reader:
                ended.code = _replayed(reader, folder, asked, as_object)
        except InstallationRefused as refused:
            click.echo(str(refused), err=True)
            ended.code = 1
    return ended.code


def _replayed(reader: StoreReader, folder: Path, asked: Asked, as_object: bool) -> int:
    store = store_path(folder)
    masks, names = Masks(), dict[str, str]()
    found = survey(_learning(reader.written(), masks, names))
    if found.first is None or found.last is None:
        raise WrongUse(f"{store}: nothing is recorded in it yet, so there is nothing to replay.")
    bundle = _bundle(reader, folder if asked.other is None else asked.other)
    _must_know_the_boats(reader, bundle, asked.other or folder)
    zones = {boat.zone for boat in bundle.boats.values()}
    zone = zones.pop() if len(zones) == 1 else None
    since, until = instant("--from", asked.since, zone), instant("--to", asked.until, zone)
    last = reader.load(STATE_VERSION).last_now or found.last
    begins = _begins(since, until, found, last)
    own = asked.other is None and found.one_set_of_files(begins, until, bundle.fingerprint)
    desk, record, where_from = _desk_before(reader, bundle, begins, found.kept_from)
    replay = Replay(desk, own)
    replay.begin(begins - 1)
    ends = min(until, last + 1)
    replay.run(_up_to(record, until), ends)
    if not replay.taken:
        raise WrongUse(
            f"--from {asked.since} --to {asked.until}: nothing was recorded then. "
            f"The record goes from {rfc3339(found.first)} to {rfc3339(last)}."
        )
    heading = Heading(
        other=None if asked.other is None else str(asked.other),
        own=own,
        since=since,
        begins=begins,
        until=until,
        where_from=where_from,
        taken=replay.taken,
        exact=replay.exact,
        different=replay.different,
        unheard=tuple(sorted(set(bundle.signals) - set(replay.desk.state.seen.latest))),
    )
    names |= {person.id: person.name for person in bundle.people.values()}
    beside = side_by_side(replay.was, replay.would, replay.different)
    if as_object:
        click.echo(as_json(heading, beside, bundle, names, masks))
    else:
        for line in in_words(heading, beside, bundle, names, masks):
            click.echo(line)
    return 1 if own and replay.different is not None else 0


def _learning(entries: Iterable[Written], masks: Masks, names: dict[str, str]) -> Iterator[Written]:
    """Pass entries on; learn the codes and the names that stand in their sealed parts."""
    for written in entries:
        contents = [part.content for part in written.parts if part is not None]
        masks.learn(contents)
        if written.entry.kind == "installation-used":
            names |= {str(content["id"]): str(content["name"]) for content in contents if isinstance(content, dict)}
        yield written


def _bundle(reader: StoreReader, folder: Path) -> Bundle:
    """The settings of a folder, persons by their ids in the record. Raises InstallationRefused."""
    known = {key: person for person, key, _ in reader.load(STATE_VERSION).people}

    def id_of(key: str) -> str:
        return known.get(key, key)

    shell = ShellVariables(os.environ)
    return load(folder, person_id=id_of, environ=shell).bundle


def _must_know_the_boats(reader: StoreReader, bundle: Bundle, folder: Path) -> None:
    chains = {str(head.chain) for head in reader.heads()} - {"installation"}
    if chains and not chains & set(bundle.boats):
        raise WrongUse(
            f"{folder}: the record is of {', '.join(sorted(chains))}, and this installation has none of them (it has "
            f"{', '.join(sorted(bundle.boats))}). Name a folder with the same boats, such as a copy with another limit."
        )


def _begins(since: Ms, until: Ms, found: Survey, last: Ms) -> Ms:
    """From when on there is something to replay. Raises WrongUse when there is nothing."""
    if since >= until:
        raise WrongUse("--from is not before --to. Name the earlier instant first; --to itself is not included.")
    if since > last or until <= (found.first or 0):
        raise WrongUse(
            f"Nothing is recorded then. The record goes from {rfc3339(found.first or 0)} to {rfc3339(last)}: name "
            "instants within it."
        )
    if until <= found.kept_from:
        raise WrongUse(
            f"Readings taken before {rfc3339(found.kept_from)} are no longer kept, so nothing before that can be "
            "replayed. Name a later --to; what was told then stands in `heavingline logbook show`."
        )
    return max(since, found.kept_from)


def _desk_before(reader: StoreReader, bundle: Bundle, begins: Ms, kept_from: Ms) -> tuple[Desk, Iterator[Taken], str]:
    """The desk as it stood before an instant, the happenings from then on, and where its state was taken from."""
    left = reader.load(STATE_VERSION)
    try:
        state = state_of(left.snapshot.data) if left.snapshot is not None else None
    except SnapshotUnreadable:
        state = None
    if state is not None and state.now < begins:
        rows = ((row.happening, row.now, row.reading) for row in left.readings)
        record, said = taken(left.entries, rows), f"the state that was kept at {rfc3339(state.now)}"
    else:
        rows = ((row.happening, row.now, row.reading) for row in reader.readings())
        record, said, state = taken(reader.written(), rows), FIRST, State()
    desk = Desk(bundle, state)
    try:
        first = before(record, desk, begins, kept_from if said == FIRST else 0)
    except (ValueError, TypeError, KeyError) as unfit:
        raise StoreUnreadable(
            where="replay",
            problem=f"what stands in it cannot be taken up ({unfit})",
            remedy="Look at it with `heavingline logbook verify`",
        ) from None
    if desk.state.now and said == FIRST:
        said = f"the record from its beginning on, up to {rfc3339(desk.state.now)}"
        said += ", without the readings that are no longer kept" if kept_from else ""
    return desk, _with(first, record), said


def _with(first: Taken | None, rest: Iterator[Taken]) -> Iterator[Taken]:
    if first is not None:
        yield first
        yield from rest


def _up_to(record: Iterable[Taken], until: Ms) -> Iterator[Taken]:
    for one in record:
        if one.now >= until:
            return
        yield one
