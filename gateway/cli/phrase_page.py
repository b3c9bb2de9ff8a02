"""`heavingline phrases`: what each person may text, as a page to print."""

import os
from html import escape
from pathlib import Path

import click

from gateway.cli.phrase_page_words import PAGE_WORDS
from gateway.cli.shell import ShellVariables
from gateway.desk.bundle import Bundle
from gateway.desk.phrases import EVERYBODY, commanders, duty_phrases, kept_phrases, may_put_aside, switches
from gateway.desk.practising import may_practise
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.people.settings import Person
from grammar.languages import LANGUAGES
from grammar.meanings import (
    HandOver,
    Note,
    PhoneLost,
    Practice,
    PracticeOver,
    PutBack,
    QuietAlarm,
    RemoveAlarm,
    Request,
    ShelveAlarm,
    TakeOver,
    UnshelveAlarm,
)
from grammar.notes import WORDS as NOTE_WORDS
from grammar.phrases import say

EXAMPLE = 14
"""The alarm number in the printed examples; the text that tells an alarm names its own."""

_PUT_ASIDE: tuple[Request, ...] = (
    ShelveAlarm(alarm=EXAMPLE, minutes=60),
    UnshelveAlarm(alarm=EXAMPLE),
    RemoveAlarm(alarm=EXAMPLE, days=1),
    PutBack(alarm=EXAMPLE),
)

_HOLDING: tuple[Request, ...] = (
    TakeOver(alarm=EXAMPLE),
    HandOver(alarm=EXAMPLE),
    QuietAlarm(alarm=EXAMPLE, minutes=120),
)

_STYLE = "body{font:12pt sans-serif;margin:2cm}section{break-after:page}li{margin:.3em 0}code{font-weight:bold}"


def write_page(folder: Path, who: str | None, out: Path) -> int:
    """Write the page of one person (key), or of everybody, into a new file; 0 when written."""
    try:
        bundle = load(folder, person_id=str, environ=ShellVariables(os.environ)).bundle
    except InstallationRefused as refused:
        click.echo(str(refused), err=True)
        return 1
    people = [person for person in bundle.people.values() if who in (None, person.key)]
    if not people:
        known = ", ".join(sorted(person.key for person in bundle.people.values()))
        click.echo(f"nobody has the key {who}; write one of {known}", err=True)
        return 2
    try:
        with out.open("x", encoding="utf-8") as file:
            file.write(page(bundle, people))
    except FileExistsError:
        click.echo(f"{out} is there already; name a new file", err=True)
        return 1
    click.echo(f"{out} is written. Print it; nothing was sent.")
    return 0


def page(bundle: Bundle, people: list[Person]) -> str:
    """The page as HTML, one sheet a person, in the words of that person's language."""
    sheets = "".join(_sheet(bundle, person) for person in people)
    title = "What can be texted"
    return f'<!doctype html><meta charset="utf-8"><title>{title}</title><style>{_STYLE}</style>{sheets}\n'


def phrases_of(bundle: Bundle, person: Person, boat: str) -> list[str]:
    """The printed phrases of this person about this boat, in capitals; with several boats each names its boat."""
    printed = LANGUAGES[person.language].printed
    status = printed.get("status", "status")
    said = [printed.get(phrase, phrase) for phrase in (*EVERYBODY, "phrases")]
    said += [f"{status} {piece.called(person.language)}" for piece in bundle.equipment.values() if piece.boat == boat]
    said += [
        f"{piece.called(person.language)} {printed.get(action, action)}"
        for piece, action in switches(bundle, person, boat)
    ]
    said += [printed.get(phrase, phrase) for phrase in kept_phrases(person)]
    said += [printed.get(phrase, phrase) for phrase in duty_phrases(bundle, person, boat)]
    remark = Note(alarm=EXAMPLE, words=PAGE_WORDS[person.language].remark)
    said += [say(request, {}, printed) for request in _HOLDING]
    said.append(say(remark, {}, {"note": NOTE_WORDS[person.language]}))
    if may_put_aside(bundle, person, boat):
        said += [say(request, {}, printed) for request in _PUT_ASIDE]
    if person.id in may_practise(bundle, boat):
        example = next((point.name for point in bundle.points.values() if point.boat == boat), "")
        said += [say(request, {}, printed) for request in (Practice(words=example), PracticeOver()) if example]
    said += [say(PhoneLost(person=one.key), {}, printed) for one in commanders(bundle, boat)]
    front = f"{bundle.boats[boat].short_name} " if len(person.boats) > 1 else ""
    return [f"{front}{phrase}".upper() for phrase in said]


def _sheet(bundle: Bundle, person: Person) -> str:
    """One person's sheet: what cuts that phone off stands first, where it is read."""
    words = PAGE_WORDS[person.language]
    paper = [
        piece.called(person.language)
        for piece in bundle.equipment.values()
        if piece.paper_line and person.may(piece.boat, piece.key, piece.pair[0])
    ]
    parts = [
        f'<section lang="{person.language}"><h1>{escape(person.name)}</h1><p><strong>{escape(words.stop)}</strong></p>'
    ]
    parts.append(f"<p>{escape(words.how)}</p>")
    if paper:
        parts.append(f"<p>{escape(words.paper.format(things=', '.join(dict.fromkeys(paper))))}</p>")
    for boat in person.boats:
        items = "".join(f"<li><code>{escape(phrase)}</code></li>" for phrase in phrases_of(bundle, person, boat))
        parts.append(f"<h2>{escape(bundle.boats[boat].name)}</h2><ul>{items}</ul>")
    return "".join([*parts, "</section>"])
