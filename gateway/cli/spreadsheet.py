"""Rows of CSV that a spreadsheet opens as they are: RFC 4180 (commas, quotes doubled, CR LF), UTF-8, no formulas.

A cell that begins with ``=``, ``+``, ``-``, ``@``, a tab or a line end may be run as a formula when a spreadsheet opens
it, and texts come from strangers: it gets an apostrophe in front (the advice of OWASP on CSV injection, from memory),
and so does one that begins with an apostrophe, so that taking one away gives back what stood there. A plain decimal
number is no formula and stays a number (our choice, or no negative current could be drawn as a curve).
"""

import csv
import io
import re
from collections.abc import Iterable

_MAY_RUN = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20", "'")
"""What a formula may begin with, the full-width forms too; and the apostrophe itself."""

_NUMBER = re.compile(r"-?\d+(\.\d+)?", re.ASCII)


def row(cells: Iterable[str]) -> str:
    """One row with its line end."""
    line = io.StringIO()
    csv.writer(line).writerow([guarded(cell) for cell in cells])
    return line.getvalue()


def guarded(cell: str) -> str:
    """The cell as it may be written."""
    return f"'{cell}" if cell.startswith(_MAY_RUN) and not _NUMBER.fullmatch(cell) else cell


def as_it_was(cell: str) -> str:
    """The inverse of `guarded`."""
    return cell.removeprefix("'")
