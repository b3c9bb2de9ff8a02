"""Faults of our own, met while the desk decided: how each stands in the record, on the topic of trouble and in the log.

By its kind and place alone: its own words may repeat a number, a text or a code, which stand in sealed parts only
(design rules 13 and 16).
"""

import sys
from traceback import format_tb

from gateway.desk.left_alone import FellOver
from gateway.doors.faces import kind_and_place
from gateway.service.items import Item
from gateway.vocabulary.happenings import LinkChanged

FAULT = "gateway"
"""In the place of a link's name: the gateway itself was at fault."""

LONGEST_FAULT = 300
"""Characters of a fault that are kept in the record (our choice: its kind and where to look)."""


def shown(item: Item, fault: Exception) -> Item:
    """What is taken because of a fault: beside the happening when what had fallen due was at fault, else in its place,
    with its messages, so that they do not come again to bring the gateway down for ever. Raises the fault itself when
    not even this can be recorded."""
    if isinstance(item.happening, LinkChanged) and item.happening.link == FAULT:
        raise fault
    if isinstance(fault, FellOver):
        return Item(_said(f"{fault.what}: {kind_and_place(_cause(fault))}"))
    return Item(_said(f"{type(item.happening).__name__}: {kind_and_place(fault)}"), item.arrived)


def log(fault: Exception) -> None:
    """Write it to the log, with the way that led to it."""
    cause = _cause(fault)
    way = "".join(format_tb(cause.__traceback__))
    print(f"A fault of ours:\n{way}{kind_and_place(cause)}", file=sys.stderr, flush=True)


def _cause(fault: Exception) -> BaseException:
    return fault.__cause__ if isinstance(fault, FellOver) and fault.__cause__ is not None else fault


def _said(what: str) -> LinkChanged:
    return LinkChanged(link=FAULT, up=False, detail=what[:LONGEST_FAULT])
