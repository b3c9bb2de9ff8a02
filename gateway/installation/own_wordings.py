"""The installer's own wordings: read, and held against what each kind of text can say and must say."""

from collections.abc import Iterator, Mapping, Sequence

from gateway.installation.findings import Findings
from gateway.installation.nearest import did_you_mean
from gateway.installation.shape import shaped
from gateway.installation.slips import Slip
from gateway.installation.standards import Whole
from gateway.installation.wording_file import WordingFile, WordingTable
from gateway.wording.alphabet import plain
from gateway.wording.names import begins_with_carrier_word
from gateway.wording.own_kinds import WORDABLE
from gateway.wording.own_wording import PLACE, OwnWording, Wordable
from grammar.languages import LANGUAGES

Wordings = Mapping[tuple[str, str], OwnWording]
"""By language and kind of text."""

ENGLISH = "en"


def own_wordings(file: WordingFile, whole: Whole, findings: Findings) -> Wordings:
    """Those of the file that are without mistake; every mistake of the others is noted."""
    found = {}
    for language, kinds in file.text.items():
        if language not in (ENGLISH, *LANGUAGES):
            remedy = did_you_mean(language, (ENGLISH, *LANGUAGES))
            findings.mistake(whole, ("text", language), "is no language of the texts", remedy)
            continue
        for kind, values in kinds.items():
            path = ("text", language, kind)
            if kind not in WORDABLE:
                remedy = f"{did_you_mean(kind, WORDABLE)} (`heavingline words` lists them)"
                findings.mistake(whole, path, "is no kind of text that can be worded here", remedy)
                continue
            table = shaped(WordingTable, values, whole, path, findings)
            if table is None:
                continue
            slips = list(_slips(table, WORDABLE[kind]))
            for inside, slip in slips:
                findings.slip(whole, (*path, *inside), slip)
            if not slips:
                own = OwnWording(kind=kind, parts=tuple(table.parts), gives_way=tuple(table.gives_way))
                found[(language, kind)] = own
    return found


def _slips(table: WordingTable, wordable: Wordable) -> Iterator[tuple[Sequence[str | int], Slip]]:
    """Every slip of one wording, with its place below the wording's table."""
    named: list[str] = []
    for at, part in enumerate(table.parts):
        places = PLACE.findall(part)
        for slip in _slips_of_part(part, places, wordable):
            yield ("parts", at), slip
        for place in places:
            if place in named:
                yield ("parts", at), Slip(f"says {{{place}}} a second time", "say it in one part only")
        named += places
    for group in wordable.must:
        if not set(group) & set(named):
            said = " or ".join(f"{{{place}}}, {wordable.places[place]}" for place in group)
            yield ("parts",), Slip(f"lacks {said}", "add a part that says it: nobody can do without")
    if table.parts and begins_with_carrier_word(table.parts[0]):
        problem = "begins with a word that carriers take as a wish to get no more texts, or to get them again"
        yield ("parts", 0), Slip(problem, "begin with {boat}")
    yield from _slips_of_order(table)


def _slips_of_part(part: str, places: Sequence[str], wordable: Wordable) -> Iterator[Slip]:
    for place in places:
        if place not in wordable.places:
            yield Slip(f"holds {{{place}}}, which this text does not know", did_you_mean(place, wordable.places))
    if len(places) > 1:
        yield Slip("holds more than one place in braces", "make a part of each, so that each can go by itself")
    words = PLACE.sub("", part)
    if "{" in words or "}" in words:
        yield Slip("has a brace without its other half", "write a place as {boat}, and no other braces")
    elif plain(words) != words:
        yield Slip(
            f'holds "{_strange(words)}", which halves the room of a text',
            f'write "{plain(words).strip()}", or other words in the letters that all phones share',
        )


def _strange(words: str) -> str:
    return "".join(dict.fromkeys(char for char in words if plain(char) != char)) or words


def _slips_of_order(table: WordingTable) -> Iterator[tuple[Sequence[str | int], Slip]]:
    for at, part in enumerate(table.gives_way):
        if part not in table.parts:
            yield ("gives_way", at), Slip(f'"{part}" is none of the parts', "write it as it stands in parts")
        elif part in table.gives_way[:at]:
            yield ("gives_way", at), Slip("stands there twice", "leave one of them out")
