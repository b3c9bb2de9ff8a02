"""The reader of texts, made from the boats' and the equipment's names, and what is offered by phrase."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from gateway.alarms.settings import Point
from gateway.boat.settings import Boat
from gateway.installation.findings import Findings, Placed
from gateway.installation.names import as_texted, plain
from gateway.people.settings import Person
from gateway.requests.settings import REST_ONLY, Equipment, Sort
from grammar.code_words import drawable
from grammar.languages import LANGUAGES
from grammar.meanings import NotUnderstood, Request, Switch
from grammar.phrases import say
from grammar.texts import TextReader

_NEVER_OFFERED = frozenset({Sort.ENGINE, Sort.HEAT})
"""Design rule 10: engines and heaters are never offered unasked."""

FEWEST_CODE_WORDS = 1_025
"""Two different words in order from at least so many give 20 bits (NIST SP 800-63B 5.1.3.2; handbook CHK-25)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Speech:
    """reader: of texts. readers: of other languages. code_words: the words that codes are drawn from. called: language
    -> key of each equipment -> the name that is printed."""

    reader: TextReader
    readers: Mapping[str, TextReader]
    code_words: tuple[str, ...]
    called: Mapping[str, Mapping[str, str]]

    def phrase(self, language: str, request: Request) -> str:
        """What is printed for a request in a person's language. Raises KeyError for equipment that is not here."""
        return say(request, self.called[language], LANGUAGES[language].printed)


def make_speech(
    boats: Mapping[str, Boat],
    equipment: Mapping[str, tuple[Equipment, Placed]],
    boat_files: Mapping[str, Placed],
    subjects: tuple[str, ...],
    people: Sequence[Person],
    findings: Findings,
) -> Speech:
    """The reader over all boats. subjects: what signals may be called. people: whom a text may name, each with a
    language. equipment:
    by id, each with where it was written. The same words must mean the same key and the same pair of actions on
    every boat, because one text is read before it is known which boat it means."""
    phrases = _phrases_in("en", equipment.values(), findings)
    called: dict[str, str] = {}
    for key, boat in boats.items():
        for name in (boat.name, boat.short_name, *boat.spoken_names):
            other_boat = called.setdefault(plain(name), key)
            if other_boat != key:
                findings.mistake(
                    boat_files[key],
                    (),
                    f'the name "{name}" is also that of the boat "{other_boat}"',
                    "give each boat its own names",
                )
            called |= {texted: called.get(texted, key) for texted in as_texted(name)}
        called.setdefault(plain(key), key)
    named = {name: boat_files[key] for name, key in called.items()}
    persons = tuple(called_persons(people).items())
    rest_only = frozenset(piece.key for piece, _ in equipment.values() if piece.sort in REST_ONLY)
    reader, problems = _checked_reader(
        tuple(called.items()), tuple(phrases.items()), subjects, "en", persons, rest_only
    )
    _self_check(problems, reader.warnings(), equipment, named, findings)
    readers: dict[str, TextReader] = {}
    for language in sorted({person.language for person in people} & LANGUAGES.keys() - {"en"}):
        own = tuple(_phrases_in(language, equipment.values(), findings).items())
        readers[language], problems = _checked_reader(
            tuple(called.items()), own, subjects, language, persons, rest_only
        )
        _self_check((f"in {LANGUAGES[language].called}: {one}" for one in problems), (), equipment, named, findings)
        phrases |= dict(own)
    words = drawable((*called, *phrases))
    if len(words) < FEWEST_CODE_WORDS:
        where = next(iter(boat_files.values()))
        findings.mistake(
            where, (), f"only {len(words)} code words are left beside the names", "use fewer everyday words as names"
        )
    printed = {
        language: {piece.key: piece.called(language) for piece, _ in reversed(list(equipment.values()))}
        for language in ("en", *readers)
    }
    return Speech(reader=reader, readers=readers, code_words=words, called=printed)


def called_persons(people: Sequence[Person]) -> dict[str, str]:
    """What each person may be called in a text -> key: the key, the whole name, the first name (with the initial of the
    last, as our texts have it) where it is one person's alone."""
    meant: dict[str, set[str]] = {}
    for person in people:
        words = plain(person.name).split()
        with_hyphens = person.name.casefold().split()
        with_initial = f"{words[0]} {words[-1][0]}" if len(words) > 1 else ""
        for phrase in {person.key, plain(person.key), " ".join(words), *words[:1], with_initial} - {""} | {
            " ".join(with_hyphens),
            *with_hyphens[:1],
        }:
            meant.setdefault(phrase, set()).add(person.key)
    return {phrase: next(iter(keys)) for phrase, keys in meant.items() if len(keys) == 1}


def _phrases_in(
    language: str, equipment: Iterable[tuple[Equipment, Placed]], findings: Findings
) -> dict[str, tuple[str, tuple[str, str]]]:
    """The names of one language; a thing that has none in it keeps its others. One name for two things is a mistake:
    the text would mean the one that happens to stand first."""
    phrases: dict[str, tuple[str, tuple[str, str]]] = {}
    first: dict[str, str] = {}
    for piece, placed in equipment:
        for name in piece.names_in.get(language, piece.spoken_names):
            meant = (piece.key, piece.pair)
            other = phrases.setdefault(plain(name), meant)
            phrases |= {texted: phrases.get(texted, meant) for texted in as_texted(name)}
            elsewhere = first.setdefault(plain(name), piece.boat) != piece.boat
            if other == meant or (language == "en" and not elsewhere):  # of one boat's spoken_names it is said already
                continue
            findings.mistake(
                placed,
                ("equipment", piece.key),
                f'the name "{name}" means "{other[0]}" ({" and ".join(other[1])}) '
                f"{'on another boat' if elsewhere else 'too'}",
                "use the same key and the same pair on every boat, or another name"
                if elsewhere
                else "give one of them another",
            )
    return phrases


@lru_cache(maxsize=4)
def _checked_reader(
    boats: tuple[tuple[str, str], ...],
    equipment: tuple[tuple[str, tuple[str, tuple[str, str]]], ...],
    subjects: tuple[str, ...],
    language: str,
    people: tuple[tuple[str, str], ...],
    rest_only: frozenset[str],
) -> tuple[TextReader, tuple[str, ...]]:
    """The reader of these names and what its self-check says. Kept, because it rests on the names alone and trying
    every name in every phrase takes longer than all the rest; most new versions of an installation keep the names."""
    reader = TextReader(dict(boats), dict(equipment), subjects, LANGUAGES[language], dict(people), rest_only)
    return reader, reader.problems()


def _self_check(
    problems: Iterable[str],
    warnings: Iterable[str],
    equipment: Mapping[str, tuple[Equipment, Placed]],
    boat_files: Mapping[str, Placed],
    findings: Findings,
) -> None:
    """The reader tries every name in every phrase; what does not read back to itself is a mistake, put beside the
    piece of equipment or the boat whose name it holds. boat_files: by every folded name of a boat."""
    for said in problems:
        problem, _, remedy = said.rpartition("; ")
        owner = next(
            (
                (piece, placed)
                for piece, placed in equipment.values()
                if any(f'"{plain(name)}"' in problem for name in _all_names(piece))
            ),
            None,
        )
        if owner is not None:
            findings.mistake(owner[1], ("equipment", owner[0].key), problem, remedy)
        else:
            where = next((file for name, file in boat_files.items() if f'"{name}"' in problem), None)
            findings.mistake(where or next(iter(boat_files.values())), (), problem, remedy)
    for said in warnings:
        findings.warn(next(iter(boat_files.values())), (), said)


def _all_names(piece: Equipment) -> tuple[str, ...]:
    return (*piece.spoken_names, *(name for names in piece.names_in.values() for name in names))


def check_offers(
    reader: TextReader,
    points: Mapping[str, Point],
    equipment: Mapping[str, Equipment | None],
    tables: Placed,
    findings: Findings,
) -> None:
    """What is offered must be a phrase that works, for equipment of this boat, and starts no engine or heater."""
    for key, point in points.items():
        for number, phrase in enumerate(point.offer):
            path = ("alarm", key, "offer", number)
            meaning = reader.read(phrase)
            if isinstance(meaning, NotUnderstood):
                near = f'write "{meaning.nearest[0]}"' if meaning.nearest else "write a phrase that can be texted"
                findings.mistake(tables, path, f'"{phrase}" is no phrase that is understood', near)
            elif isinstance(meaning.request, Switch):
                piece = equipment.get(meaning.request.equipment)
                if meaning.request.equipment not in equipment:
                    findings.mistake(tables, path, "this boat has no such equipment", "leave it out")
                elif piece is not None and piece.sort in _NEVER_OFFERED and meaning.request.action == piece.pair[0]:
                    findings.mistake(tables, path, "engines and heaters are never offered unasked", "leave it out")
