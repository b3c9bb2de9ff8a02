"""The README's table of payloads: what it tells the installer to write is read as it says."""

import re
import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

from gateway.boat.decoding import decode
from gateway.installation.findings import Findings
from gateway.installation.signals import build_signals
from gateway.installation.spreading import spread
from gateway.installation.standards import Laid
from gateway.vocabulary.readings import Grade

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
[CHAPTER] = re.findall(r"^### What a payload may look like\n(.*?)(?=^##+ )", README, re.DOTALL | re.MULTILINE)
ROWS = [[cell.strip() for cell in line.strip("|").split(" | ")] for line in CHAPTER.splitlines() if line[:3] == "| `"]


def built(text: str) -> tuple[Findings, dict[str, object]]:
    """The signals of these lines as the installation reads them."""
    findings = Findings()
    values = tomllib.loads(text, parse_float=Decimal)
    tables = spread(Laid(name="signals.toml", values=values, places={}), findings)
    return findings, dict(build_signals("grey-wagtail", tables, findings))


def test_the_chapter_has_its_table() -> None:
    assert len(ROWS) >= 10


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_what_is_sent_is_read_as_the_table_says(row: list[str]) -> None:
    sent, written, meant = row
    keys = "\n".join(re.findall(r"`([a-z_]+ = [^`]+)`", written))
    findings, signals = built(f'[signal.one]\ntopic = "t"\nreport_interval = "30 s"\n{keys}\n')
    assert not findings.mistakes
    payloads = re.findall(r"`([^`]+)`", sent.partition("(")[0])
    assert payloads
    for payload in payloads:
        (reading,) = decode((signals["one"],), payload.encode(), retained=False)  # type: ignore[arg-type]
        if meant.startswith("nothing"):
            assert reading.grade is Grade.UNREADABLE
            continue
        expected = re.match(r"on|REMOTE|the word|the position|[0-9.]+[0-9]", meant)
        assert expected is not None, meant
        if reading.grade is Grade.NUMBER:
            assert reading.value == Decimal(expected[0])
        else:
            says = {"the word": payload, "the position": "50.001 -5.0005"}.get(expected[0], expected[0])
            assert reading.text == says


BLOCKS = re.findall(r"```toml\n(.*?)```", CHAPTER, re.DOTALL)


def test_one_table_for_many_makes_the_signals_that_are_named() -> None:
    findings, signals = built(BLOCKS[0].replace("{boat}", "grey-wagtail"))
    assert not findings.mistakes
    assert {"level-fuel-port", "level-fuel-aft"} <= set(signals)
    assert len(signals) == 4


def test_named_levels_make_the_signals_that_are_named() -> None:
    [_, named] = BLOCKS
    findings, signals = built(named.replace("{boat}", "grey-wagtail"))
    assert not findings.mistakes
    assert {key: one.topic for key, one in signals.items()} == {  # type: ignore[attr-defined]
        "level-fuel": "grey-wagtail/tanks/fuel/level",
        "level-water": "grey-wagtail/tanks/water/level",
    }
