"""The railroad diagrams hold the grammar: every rule once, every word, tracks that fit."""

import re
from pathlib import Path

import grammar.texts
from tests.documents.railroads import railroads, rules_drawn

SOURCE = Path(grammar.texts.__file__).with_name(grammar.texts.GRAMMAR).read_text(encoding="utf-8")
PLAIN = re.sub(r"(?m)//.*$|^[A-Z_]+(\.\d)?:.*$", "", SOURCE)


def test_every_rule_of_the_file_is_drawn_once_in_its_order() -> None:
    written = re.findall(r"(?m)^([a-z_]+):", PLAIN)
    headings = re.findall(r"(?m)^([a-z_]+):$", railroads())
    assert headings == rules_drawn() == written
    assert len(headings) > 60


def test_every_word_of_a_rule_stands_in_its_diagram_as_often_as_in_the_file() -> None:
    drawn, written = _bodies(railroads()), _bodies(PLAIN)
    for name, body in written.items():
        words = sorted(re.findall('"[^"]+"', body.replace("_HER", '"boat"')))
        assert words == sorted(re.findall('"[^"]+"', drawn[name])), name


def test_every_rule_that_a_diagram_names_is_drawn() -> None:
    assert set(re.findall("<([a-z_]+)>", railroads())) <= set(rules_drawn())


def test_every_fork_has_its_joint() -> None:
    for line in railroads().splitlines():
        assert line.count("├") == line.count("┤")
        assert line.count("└") == line.count("┘")
        assert line.count("┬") % 2 == 0


def _bodies(text: str) -> dict[str, str]:
    parts = re.split(r"(?m)^([a-z_]+):", text)
    return dict(zip(parts[1::2], parts[2::2], strict=True))
