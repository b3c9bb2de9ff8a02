"""What would be answered to a text: the real desk takes it, and is thrown away.

A second reading of the rules would lie sooner or later; so the text is taken in by a copy of the desk itself, and what
that copy would have sent is shown instead.
"""

import re
from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass
from hashlib import sha256

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import Happening, InstallationCame, Started, TextCame, TimeCame
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.orders import PublishCommand, SendText

DRAW = sha256(b"rehearsal").digest()
"""32 bytes for every happening that is only tried: nothing drawn from them is ever used."""

HIDDEN = "*** ***"

_CODE = re.compile(r"\b(GO|DROP|PROVE) ([^\W\d_]+) ([^\W\d_]+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What one text would lead to at once.

    reply: the words to its sender, None when there would be none; code words hidden, for they are good for nothing.
    others: ids of other persons who would be texted, each once. commands: how many would go out to boats.
    """

    reply: str | None
    others: tuple[str, ...]
    commands: int


def unknowing(bundle: Bundle, now: Ms) -> Desk:
    """A desk that has just begun and has heard of nothing, ready to take a text at `now` (ms UTC)."""
    desk = Desk(bundle)
    _take(desk, _installation(bundle), now - 2)
    _take(desk, Started(stopped_at=None), now - 1)
    return desk


def brought_up(desk: Desk, now: Ms) -> Desk:
    """A copy of a desk rebuilt from the record, in which everything is done that fell due before `now` (ms UTC), and
    the files of its bundle are in use. now: at least 3 ms after the last instant recorded."""
    bundle = desk.bundle
    copy = Desk(bundle, deepcopy(desk.state))
    if copy.state.fingerprint != bundle.fingerprint:
        _take(copy, _installation(bundle), now - 2)
    _take(copy, TimeCame(), now - 1)
    return copy


def answered(desk: Desk, number: str, body: str, now: Ms) -> Answered:
    """What the desk would answer to this text. number: E.164, or anything that is nobody's for a stranger.

    The desk itself is left as it is: a copy of it takes the text.
    """
    copy = Desk(desk.bundle, deepcopy(desk.state))
    sender = desk.bundle.person_by_number.get(number)
    orders = copy.take(TextCame(message="rehearsal", number=number, body=body, age=0), now, DRAW).orders
    texts = [order for order in orders if isinstance(order, SendText)]
    own = [text.body for text in texts if sender is not None and text.person == sender.id]
    others = dict.fromkeys(text.person for text in texts if sender is None or text.person != sender.id)
    return Answered(
        reply=codes_hidden("\n".join(own), desk.bundle.code_words) if own else None,
        others=tuple(others),
        commands=sum(isinstance(order, PublishCommand) for order in orders),
    )


def codes_hidden(text: str, code_words: Sequence[str]) -> str:
    """The text with every code behind GO, DROP or PROVE hidden. code_words: the words that codes are drawn from."""
    words = frozenset(word.casefold() for word in code_words)

    def hidden(found: re.Match[str]) -> str:
        is_code = found[2].casefold() in words and found[3].casefold() in words
        return f"{found[1]} {HIDDEN}" if is_code else found[0]

    return _CODE.sub(hidden, text)


def _installation(bundle: Bundle) -> InstallationCame:
    people = tuple(person.id for person in sorted(bundle.people.values(), key=lambda person: person.key))
    return InstallationCame(fingerprint=bundle.fingerprint, people=people)


def _take(desk: Desk, happening: Happening, now: Ms) -> None:
    desk.take(happening, now, DRAW)
