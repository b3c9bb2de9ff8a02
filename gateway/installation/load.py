"""From a folder of files to one installation, or to every mistake in it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from gateway.desk.bundle import Bundle
from gateway.history.settings import Keeping
from gateway.installation.boats import Ashore, Fitted, build_boat
from gateway.installation.callout_file import CalloutFile
from gateway.installation.callouts import read_callouts
from gateway.installation.covering import called
from gateway.installation.findings import Findings
from gateway.installation.fleet import dropped_by, places_in, scene_of, speech_of
from gateway.installation.folder import Folder, fingerprint, read_folder
from gateway.installation.gateway_file import GatewayFile
from gateway.installation.hooks import HookPlan, PollPlan, hooks, polls
from gateway.installation.link_supply import LinkSupply, link_supply
from gateway.installation.links import BrokerPlan, CarrierPlan, brokers, carriers
from gateway.installation.mail import MailPlan, check_mailed, mail_plan
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.own_wordings import own_wordings
from gateway.installation.own_wordings_fit import check_fit
from gateway.installation.paper_file import PAPER_FILE, PaperFile, paper_lists
from gateway.installation.papers_asked import check_papers
from gateway.installation.people import build_people, home_country
from gateway.installation.people_file import PeopleFile
from gateway.installation.prices import Price, least_balance
from gateway.installation.roster import build_roster
from gateway.installation.second_persons import check_second_persons
from gateway.installation.shape import M, shaped
from gateway.installation.standard_chain import chain_of, lists_of_standards, names_of
from gateway.installation.standards import Whole, check_standard
from gateway.installation.topics import check_filters, check_overlaps, check_topics, topics_by_broker
from gateway.installation.uses import check_used
from gateway.installation.wording_file import WordingFile
from gateway.people.settings import Person, Role
from gateway.requests.paper_lists import PaperList
from gateway.telling.settings import CallOutList, Pacing
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """All that the files of one folder say.

    bundle: for the desk. brokers, carriers: for the doors, with their secrets. store: where the store's file lies.
    topics: to subscribe to, by broker's name. warnings: what deserves a second look. files: names and fingerprinted
    bytes' places below the folder. standards: by boat, the standard it is built on. left_out: by boat, the ids that
    its files drop from the standard. places: file and line by kind ("alarm",
    "equipment") and id. no_gas_aboard: by boat, why no detector of gas is asked for, "" when one is. hooks: where
    carriers call us. polls: how often each carrier is polled, by its name.
    keeping: how long what is kept. mail: the mail server, if there is one. supplies: what feeds each
    boat's link ashore. prices: of one part of a text, by carrier's name, where gateway.toml has it.
    """

    bundle: Bundle
    brokers: tuple[BrokerPlan, ...]
    carriers: tuple[CarrierPlan, ...]
    store: Path
    topics: Mapping[str, tuple[str, ...]]
    warnings: tuple[str, ...]
    files: tuple[str, ...]
    standards: Mapping[str, str | None]
    left_out: Mapping[str, tuple[str, ...]]
    keeping: Keeping
    places: Mapping[tuple[str, str], str]
    no_gas_aboard: Mapping[str, str]
    hooks: tuple[HookPlan, ...]
    mail: MailPlan | None
    polls: Mapping[str, PollPlan]
    supplies: tuple[LinkSupply, ...]
    prices: Mapping[str, Price]

    @property
    def mailed_to(self) -> tuple[str, ...]:
        """Names of those who hear of the gateway's trouble by mail."""
        people = self.bundle.people.values() if self.bundle.mailed else ()
        return tuple(person.name for person in people if person.mail and person.role is Role.INSTALLER)


def topics(installation: Installation) -> Mapping[str, tuple[str, ...]]:
    """The topics to subscribe to, by broker's name, each once and in order."""
    return installation.topics


def load(
    folder: Path, *, person_id: Callable[[str], str], environ: Mapping[str, str], now: Ms | None = None
) -> Installation:
    """The installation in the folder. Raises InstallationRefused with every mistake; then nothing was loaded.

    person_id: the random id of a person's key. environ: the variables in which secrets may lie.
    now: the instant (ms UTC) at which return dates are judged; None: they are taken as they are.
    """
    findings = Findings()
    read = read_folder(folder, findings, now)
    links = _file(GatewayFile, "gateway.toml", read, findings)
    crew = _file(PeopleFile, "people.toml", read, findings)
    lists = _file(CalloutFile, "callout.toml", read, findings)
    _standards(read, findings)

    home = home_country(*crew, findings) if crew else None
    broker_plans = brokers(*links, folder, environ, findings) if links else ()
    carrier_plans = carriers(*links, folder, environ, home, findings) if links else ()
    mail = mail_plan(*links, folder, environ, findings) if links else None
    hook_plans = hooks(*links, carrier_plans, findings) if links else ()
    poll_plans = polls(*links, findings) if links else {}
    named = Ashore(
        brokers=frozenset(links[0].broker) if links else None,
        carriers=frozenset(links[0].carrier) if links else None,
        callouts=dict.fromkeys(lists[0].list, _UNBUILT) if lists else None,
    )
    fleet = tuple(boat for key in read.boats if (boat := build_boat(key, read, named, findings)))
    check_topics(fleet, findings)
    check_filters(fleet, findings)
    check_overlaps(fleet, {plan.name: (plan.host, plan.port) for plan in broker_plans}, findings)
    for boat in fleet:
        check_used(boat, findings)
    people = _people(crew, home, read, fleet, person_id, findings)
    roster = build_roster(*crew, people, findings) if crew and people is not None else ()
    written = read_callouts(*lists, people, findings) if lists else {}
    callouts, of_point = (
        called(fleet, written, people, lists[1], findings, roster, lists_of_standards(read))
        if people is not None and lists
        else ({}, {})
    )
    if people is not None:
        check_second_persons(fleet, people, findings)
    papers = _papers(folder, read, people, findings)
    check_papers(fleet, people or {}, papers, findings)
    speech = speech_of(fleet, tuple((people or {}).values()), findings)
    sound = not findings.mistakes
    words = _file(WordingFile, "wording.toml", read, findings) if "wording.toml" in read.documents else None
    own = own_wordings(*words, findings) if words else {}
    if words and people is not None and sound:
        check_fit(own, scene_of(fleet, people), words[1], findings)
    if people is not None and crew and links:
        check_mailed(mail is not None, people.values(), crew[1], links[1], findings)
    if findings.mistakes or speech is None or people is None or links is None:
        raise InstallationRefused(findings.mistakes)
    return Installation(
        bundle=Bundle(
            fingerprint=fingerprint(read.documents.values()),
            boats={boat.boat.key: boat.boat for boat in fleet},
            signals={signal.id: signal for boat in fleet for signal in boat.signals.values() if signal},
            points={
                point.id: replace(point, callout=of_point[point.id]) for boat in fleet for point in boat.points.values()
            },
            people={person.id: person for person in people.values()},
            callouts=callouts,
            equipment={piece.id: piece for boat in fleet for piece in boat.equipment.values() if piece},
            pacing=Pacing(**links[0].pacing.model_dump()),
            read_text=speech.reader.read,
            phrase=speech.phrase,
            code_words=speech.code_words,
            paper_lists=papers,
            mailed=mail is not None,
            roster=roster,
            sums={one.id: one for boat in fleet for one in boat.sums.values() if one},
            readers={key: reader.read for key, reader in speech.readers.items()},
            own_wordings=own,
            balance_low={
                name: least_balance(table.balance_low, table.price_per_part, links[0].pacing.boat_a_day)
                for name, table in links[0].carrier.items()
            },
        ),
        brokers=broker_plans,
        carriers=carrier_plans,
        store=folder / links[0].store,
        topics=topics_by_broker(fleet),
        warnings=tuple(dict.fromkeys(findings.warnings)),
        files=tuple(sorted(read.documents)),
        standards={boat.boat.key: boat.standard for boat in fleet},
        keeping=Keeping(**links[0].keeping.model_dump()),
        left_out={boat.boat.key: dropped_by(boat) for boat in fleet},
        places={place: where for boat in fleet for place, where in places_in(boat)},
        no_gas_aboard={boat.boat.key: str(boat.file.values.get("no_gas_aboard", "")) for boat in fleet},
        hooks=hook_plans,
        mail=mail,
        polls=poll_plans,
        supplies=tuple(link_supply(boat) for boat in fleet),
        prices={
            name: table.price_per_part for name, table in links[0].carrier.items() if table.price_per_part is not None
        },
    )


_UNBUILT = CallOutList(key="", steps=(), repeat=None)
"""Stands for a list of which only the name is known yet: boats name lists, lists name people, people name boats."""


def _papers(
    folder: Path, read: Folder, people: Mapping[str, Person] | None, findings: Findings
) -> Mapping[str, PaperList]:
    """The lists on paper by the persons' random ids; none without the file."""
    file = _file(PaperFile, PAPER_FILE, read, findings)
    return {} if file is None or people is None else paper_lists(*file, folder, people, findings)


def _file(model: type[M], name: str, read: Folder, findings: Findings) -> tuple[M, Whole] | None:
    document = read.get(name)
    if document is None:
        return None
    whole = Whole(document=document)
    file = shaped(model, document.values, whole, (), findings)
    return None if file is None else (file, whole)


def _standards(read: Folder, findings: Findings) -> None:
    for name in names_of(read):
        chain = chain_of(name, read, findings)
        if chain is not None:
            check_standard(chain, findings)


def _people(
    crew: tuple[PeopleFile, Whole] | None,
    home: str | None,
    read: Folder,
    fleet: tuple[Fitted, ...],
    person_id: Callable[[str], str],
    findings: Findings,
) -> dict[str, Person] | None:
    """Persons by key. A boat whose files are at fault still counts as a boat, without known equipment."""
    if crew is None:
        return None
    fitted = {boat.boat.key: boat.equipment for boat in fleet}
    switchable = {key: fitted.get(key) for key in read.boats}
    return build_people(*crew, home, switchable, person_id, findings)
