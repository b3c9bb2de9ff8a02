"""Faults of our own, met while the desk decided: how each stands in the record and on the topic of trouble."""

from gateway.desk.left_alone import FellOver
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
        return Item(_said(f"{fault.what}: {fault.__cause__!r}"))
    return Item(_said(f"{type(item.happening).__name__}: {fault!r}"), item.arrived)


def _said(what: str) -> LinkChanged:
    return LinkChanged(link=FAULT, up=False, detail=what[:LONGEST_FAULT])
