"""Answers to texts that were not understood: the second try must be the right one (design rule 7)."""

from collections.abc import Mapping

from gateway.requests.settings import Equipment
from gateway.telling.notices import NotRead
from gateway.wording.fitting import Piece, Worth, capitals, clipped, fit, fixed, maybe
from gateway.wording.names import (
    begins_with_carrier_word,
    boat,
    boat_name,
    equipment_of,
    phrase_name,
    thing_name,
)
from gateway.wording.scene import Scene
from grammar.meanings import Why

OPPOSITES = {"START": "STOP", "ON": "OFF", "OPEN": "CLOSE"} | {
    "STARTEN": "STOPPEN",
    "EIN": "AUS",
    "ÖFFNEN": "SCHLIESSEN",
}
"""As they are printed, in each language."""

_TURNED = OPPOSITES | {other: one for one, other in OPPOSITES.items()}


def not_read(notice: NotRead, scene: Scene) -> str:
    """A text that was not understood: nothing was done, and what might have been meant. Opposites come in pairs."""
    because, cure = _why(notice, equipment_of(scene, notice.boat, notice.equipment), scene)
    offered = _nearest(notice.nearest) if notice.why != Why.REACTION else []
    head = [boat(scene, notice.boat), fixed(": ")] if notice.boat else []
    because = because if head else because[:1].upper() + because[1:]
    return fit(
        [
            *head,
            fixed(f"{because}. Nothing was done"),
            Piece((*(_offered(notice.why, some) for some in offered), ""), (Worth.MEANING,) * len(offered)),
            maybe(Worth.MEANING, f"{' ' if offered else '. '}{cure}" if cure else ""),
        ]
    )


def _offered(why: str, phrases: list[str]) -> str:
    """Of several alarms all are meant, of phrases that come near one."""
    if why == Why.SEVERAL_ALARMS:
        return f". Text each by itself: {', '.join(phrases)}"
    return f". Did you mean {' or '.join(phrases)}?"


def _why(notice: NotRead, equipment: Equipment | None, scene: Scene) -> tuple[str, str]:
    """The reason and what to do."""
    thing = clipped(thing_name(scene, equipment.id), 30) if equipment else "it"
    spoken = phrase_name(scene, equipment.id) if equipment else None
    pair = equipment.pair if equipment else None
    match notice.why:
        case Why.LIMIT_ON_STOP:
            before = boat_name(scene, notice.boat) if notice.named else ""
            return f"no time can be set here, it would bring {thing} back later unasked", _offer(
                before, spoken, pair, 1
            )
        case Why.NOT_FITTED:
            return f"this boat has no {thing} that can be switched or asked after", "Reply STATUS for what it has"
        case Why.WRONG_ACTION | Why.AT_THE_BOAT_ONLY:
            return _not_its_action(notice, equipment, scene)
        case _:
            return _REASONS.get(notice.why, ("not understood", "Reply PHRASES for what can be texted"))


_REASONS: Mapping[str, tuple[str, str]] = {
    Why.EMPTY: ("your text came empty", "Reply PHRASES for what can be texted"),
    Why.TOO_LONG: ("your text is too long for an order", "Reply PHRASES for what can be texted"),
    Why.MERE_ANSWER: ("that takes no alarm", "To take one reply HAVE IT and its number"),
    Why.REACTION: ("a reaction or a quoted text is no order", "Type the words yourself"),
    Why.OPT_OUT: (
        "that word alone can make the carrier block all alarms to you",
        "For a machine put its name first. Reply PHRASES",
    ),
    Why.OPT_IN: ("that word alone is for the carrier, not for the boat", "Reply PHRASES for what can be texted"),
    Why.HALF_A_CODE: ("GO, DROP and PROVE each need two words", "Copy both words from the last text"),
    Why.CODE_ALONE: ("GO belongs before the two words", "Copy all of it from the last text"),
    Why.PROOF_ALONE: ("PROVE belongs before the two words", "Copy all of it from the last text"),
    Why.WHOSE_PHONE: (
        "nobody was named whose phone is lost",
        "Reply PHONE LOST and the name, or PHONE LOST ME",
    ),
    Why.SEVERAL_ALARMS: ("one text is for one alarm", ""),
    Why.BAD_TIME: ("that time can't be read", "Write FOR 2 H or UNTIL 18:00, at most 24 hours"),
}
"""Reasons that hold no name, with what to do."""


def _not_its_action(notice: NotRead, equipment: Equipment | None, scene: Scene) -> tuple[str, str]:
    thing = clipped(thing_name(scene, equipment.id), 30) if equipment else "it"
    if notice.why == Why.AT_THE_BOAT_ONLY:
        before = boat_name(scene, notice.boat) if notice.named else ""
        close = _offer(before, phrase_name(scene, equipment.id), equipment.pair, 1) if equipment else ""
        return f"{thing} is opened at the boat only, never by text", close
    known = f", only {' and '.join(action.upper() for action in equipment.actions)}" if equipment else ""
    return f"{thing} does not know that word{known}", ""


def _offer(before: str, spoken: str | None, pair: tuple[str, str] | None, which: int) -> str:
    """before: the boat's name, for whoever has several and named one; "" otherwise."""
    named = f"{capitals(before)} " if before else ""
    return f"Reply {named}{clipped(spoken, 30)} {pair[which].upper()}" if spoken and pair else ""


def _nearest(phrases: tuple[str, ...]) -> list[list[str]]:
    """The offered phrases in ever shorter lists, none of which holds one of two opposites without the other."""
    said = [capitals(phrase) for phrase in phrases]
    said = [phrase for phrase in dict.fromkeys(said) if phrase and not begins_with_carrier_word(phrase)]
    whole = set(said)

    def parted(some: list[str]) -> bool:
        return any(opposite(phrase) in whole - set(some) for phrase in some)

    lists = [said[:count] for count in range(len(said), 0, -1)]
    return [some for some in lists if not parted(some)]


def opposite(phrase: str) -> str:
    """The phrase with every action turned round: "GENERATOR START" gives "GENERATOR STOP"."""
    return " ".join(_TURNED.get(word, word) for word in phrase.split())
