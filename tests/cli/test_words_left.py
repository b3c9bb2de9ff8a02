"""`heavingline words`: what a translator is told."""

from click.testing import CliRunner

from gateway.cli.commands import heavingline
from gateway.cli.words_left import OurPiece, misfits, our_pieces, pieces_in, reasons_in, unreadable, untranslated
from gateway.wording.phrasebook import BOOKS
from grammar.language import Language
from grammar.languages import LANGUAGES

CODE = '''
"""A page of documentation, which is no text."""

def told(name: str, many: int) -> str:
    """Nor is this one."""
    if name == "nobody at all":
        raise ValueError("this is not texted either")
    return fit([fixed(f"{name} has alarm {many}"), maybe(Worth.MEANING, ". Nothing was changed"), fixed("one")])
'''


def test_the_pieces_of_texts_are_read_from_the_code_and_nothing_else_is() -> None:
    assert sorted(words for _, words in pieces_in(CODE)) == [". Nothing was changed", "X1 has alarm X2"]


def test_reasons_are_read_from_the_calls_and_names_that_keep_them() -> None:
    code = (
        'met("link: up, boat heard")\nsays, cure = f"it is {value} already", "there is nothing to switch"\n'
        'yield_ = against(Rule.HOURS, f"{span}, it would run on", "off")\nraise Missing("no place is set")\n'
        'other = "of no concern here"'
    )
    assert sorted(words for _, words in reasons_in(code)) == [
        "X1, it would run on",
        "it is X1 already",
        "no place is set",
        "there is nothing to switch",
    ]


def test_nothing_goes_out_in_english_to_a_german() -> None:
    assert [f"{piece.file}:{piece.line} {piece.words}" for piece in untranslated("de", our_pieces())] == []


def test_our_own_pieces_are_found_with_their_places() -> None:
    found = {piece.words: piece.file for piece in our_pieces()}
    assert found[". Nobody has it yet"] == "alarm_texts.py"
    assert found[". Shore lead off first"] == "cautions.py"
    assert len(found) > 300


def test_a_piece_is_translated_by_itself_behind_its_mark_or_inside_a_line() -> None:
    def left(*words: str) -> list[str]:
        pieces = [OurPiece("some.py", line, piece) for line, piece in enumerate(words)]
        return [piece.words for piece in untranslated("de", pieces)]

    assert left(". Nothing was changed", "Boat may be flooding", "X1 has alarm X2, you do not", "call X1") == []
    assert left("nothing of the kind is said", ". Nothing was changed") == ["nothing of the kind is said"]


def test_each_kind_of_line_that_does_not_fit_is_named_with_its_cure() -> None:
    pieces = [OurPiece("some.py", 1, "alarm X1 is over"), OurPiece("some.py", 2, ". Look at it")]
    book = {
        "alarm {number} is over": "Alarm vorbei",
        ". Look at it": ". Schau \u0111ort",
        "no such words here": "nichts",
    }
    said = list(misfits(book, pieces))
    assert [line.partition(":")[0] for line in said] == [
        '"alarm {number} is over"',
        '". Look at it"',
        '"no such words here"',
    ]
    assert "keep each name as it is" in said[0]
    assert 'write "' in said[1]
    assert "leave the line out" in said[2]
    assert list(misfits({"no such words here": "nichts"}, pieces, installers='do = "No such words here."')) == []


def test_words_that_are_printed_but_not_read_and_words_left_in_english_are_named() -> None:
    odd = Language(key="xx", called="Odd", words={"zu": "closed"}, printed={"start": "los"})
    said = list(unreadable(odd))
    assert any('"los", which is not read' in line for line in said)
    assert any(line.startswith('"stop" is printed in English') for line in said)
    wrong = Language(key="xx", called="Odd", words={"los": "teapot"})
    assert any("no words of" in line for line in unreadable(wrong))


def test_every_line_of_every_book_fits() -> None:
    for key in BOOKS:
        assert CliRunner().invoke(heavingline, ["words", key]).output.endswith("Every line fits.\n")
        assert list(unreadable(LANGUAGES[key])) == []


def test_a_language_that_is_not_here_is_refused_with_those_that_are() -> None:
    done = CliRunner().invoke(heavingline, ["words", "xx"])
    assert done.exit_code == 2
    assert "use one of de" in done.output


def test_without_a_language_the_kinds_that_an_installer_may_word_are_listed_with_what_they_can_say() -> None:
    run = CliRunner().invoke(heavingline, ["words"])
    assert run.exit_code == 0
    assert '[text.en."alarm told"]' in run.output
    assert "  * {boat}: the boat, with its berth or shorter\n" in run.output
    assert "  * {number}: its number alone (this or {reply})\n" in run.output
    assert "    {offers}: what else may be replied now\n" in run.output
