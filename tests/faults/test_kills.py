"""kill -9 of the gateway at each step and at any moment, and cuts of its links at any byte, under steady traffic.

After each kill: the logbook verifies, nothing has left it, and its fold has every entry. At the end of each attack
everything in judging.py. ``python -m tests.faults`` does as many as are asked for.

Seen to fail: with open texts not looked for at a start they go twice; with Started(stopped_at=None) blind time is
unknown; with takes left out of the fold the state is not the model's. NOT seen to fail in 16 kills and 5 cuts:
acknowledgement before the commit.
"""

from pathlib import Path

import pytest

from tests.faults.__main__ import main
from tests.faults.attack import CUT, MOMENT, STEPS

KILLS, CUTS, SEED = 200, 50, "20260309"


@pytest.mark.struck
@pytest.mark.timeout(900)
def test_nothing_is_lost_and_nothing_goes_twice_however_the_gateway_is_killed_and_its_links_are_cut(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    total = tmp_path / "total"
    words = ["--kills", str(KILLS), "--cuts", str(CUTS), "--seed", SEED, "--total", str(total)]
    with capsys.disabled():
        print()
        assert main(words) == 0, "a rule was broken: see above"
    assert main(words) == 0, "what was done stands in the file, and nothing more is"
    said = capsys.readouterr().out.splitlines()
    assert said[0].startswith(f"{KILLS} kills, {CUTS} cuts; ")
    for step in (MOMENT, *STEPS):
        assert any(line.endswith(f"kill: {step}") for line in said), f"{step} was not struck"
    for link in CUT:
        assert any(f"cut: {link}, by" in line or f"cut: {link}, as" in line for line in said), f"{link} was not cut"
