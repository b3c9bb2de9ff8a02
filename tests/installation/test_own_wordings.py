"""Own wordings against the names of an installation; the mistakes themselves stand in mistakes.toml."""

from pathlib import Path

import pytest

from gateway.installation.mistakes import InstallationRefused
from gateway.installation.own_wordings_fit import NOTICE_OF
from gateway.wording.own_kinds import WORDABLE
from gateway.wording.say import WORDINGS
from tests.installation.small_installation import append, change, laid, loaded

FITS_STINT = """
[text.en."alarm reset"]
parts = ["{boat}", ": {what}", ", number {number}", ", is over and done with. It was {who}", ". {watched}",
  ". Thank you for going there; everybody else may sleep on, do"]
gives_way = [". {watched}"]
"""


def test_every_kind_that_may_be_worded_is_tried_with_the_notice_that_it_words() -> None:
    assert NOTICE_OF.keys() == WORDABLE.keys()
    assert set(NOTICE_OF.values()) <= WORDINGS.keys()


def test_a_wording_that_fits_one_boat_may_not_fit_a_longer_name(tmp_path: Path) -> None:
    folder = laid(tmp_path / "boats")
    append(folder, "wording.toml", FITS_STINT)
    assert ("en", "alarm reset") in loaded(folder).bundle.own_wordings
    change(folder, "boats/little-stint/boat.toml", 'short_name = "stint"', 'short_name = "stint of Tarn"')
    with pytest.raises(InstallationRefused) as refused:
        loaded(folder)
    [mistake] = refused.value.mistakes
    assert (mistake.file, mistake.line, mistake.key) == ("wording.toml", 4, "text.en.alarm reset.parts")
    assert "even at its shortest" in mistake.problem


def test_without_the_file_every_text_is_ours(tmp_path: Path) -> None:
    assert loaded(laid(tmp_path / "boats")).bundle.own_wordings == {}
