"""The kinds of text whose wording an installer may replace, with what can be said in each and what must be.

All others are ours alone: they hold code words, lists whose numbers are counted, or cautions put together for the case.
"""

from collections.abc import Mapping, Sequence

from gateway.wording.fitting import Piece, fit
from gateway.wording.own_wording import OwnWordingTooLong, Wordable, fitted_own, shortest
from gateway.wording.scene import Scene

_BOAT = {"boat": "the boat, with its berth or shorter", "what": "the alarm's name", "number": "its number alone"}
_SINCE = {"since": "since when, or what is known of that"}
_NUMBERED = (("boat",), ("what",))
"""Content that no alarm text may lack (handbook 7.2); the number stands beside it, alone or in the reply."""
_THING = {"boat": "the boat", "thing": "the equipment, with what was or was not done to it"}

WORDABLE: Mapping[str, Wordable] = {
    "alarm told": Wordable(
        when="one alarm that nobody has (several in one text are worded by us)",
        places=_BOAT
        | _SINCE
        | {
            "severity": "that it is a warning, a caution, or an alarm by now; nothing for others",
            "value": "value and limit, or how long the silence lasts",
            "times": "how often it came, when more than once",
            "bank": "what the house bank has left, where the alarm asks for that sum",
            "ahead": "what another sum says, where the alarm asks for it",
            "means": "what it means",
            "caution": "what keeps a person from harm while it lasts",
            "do": "what the installer advises",
            "nobody": "that nobody has it yet, or who gives no word",
            "told": "who else was told",
            "in_place": "for whom the reader stands in",
            "reply": "the reply that takes it, and CHECKED for a latched one",
            "offers": "what else may be replied now",
        },
        must=(*_NUMBERED, ("reply", "number"), ("caution",), ("severity",)),
    ),
    "alarm taken": Wordable(
        when="to the others, once somebody has an alarm",
        places=_BOAT | _SINCE | {"holder": "who has it", "quiet": "that no more reminders come for now"},
        must=(*_NUMBERED, ("number",), ("holder",)),
    ),
    "alarm yours": Wordable(
        when="to whoever takes an alarm, before boarding",
        places=_BOAT
        | {
            "caution": "what to mind before boarding, with the number to call",
            "gone": "that it has gone by now, and what closes it",
            "do": "what the installer advises",
            "progress": "AT BOAT and ASHORE, where somebody may go there",
        },
        must=(*_NUMBERED, ("number",), ("caution",), ("gone",)),
    ),
    "alarm gone": Wordable(
        when="the condition has gone",
        places=_BOAT
        | {
            "over": "since when it has gone",
            "began": "since when it had held",
            "caution": "what a silent detector does not prove",
            "ends": "whether it is closed, and if not the reply that closes it",
        },
        must=(*_NUMBERED, ("over",), ("caution",), ("ends",)),
    ),
    "alarm reset": Wordable(
        when="somebody has looked, and a latched alarm is closed",
        places=_BOAT | {"who": "who looked, and when", "watched": "that it is watched", "visit": "VISIT OVER"},
        must=(*_NUMBERED, ("number",), ("who",)),
    ),
    "not taken": Wordable(
        when='an "ok" to an alarm, which takes nothing',
        places=_BOAT
        | {"not": "NOT taken, with the number", "reply": "the reply that takes it", "otherwise": "what follows if not"},
        must=(("boat",), ("not",), ("reply",)),
    ),
    "handed over": Wordable(
        when="another person has it now",
        places=_BOAT | {"holder": "who has it now, and who no longer", "quiet": "that no more reminders come for now"},
        must=(*_NUMBERED, ("number",), ("holder",)),
    ),
    "put aside": Wordable(
        when="an alarm is shelved or out of service",
        places=_BOAT
        | {
            "aside": "how, and until when",
            "who": "by whom",
            "because": "why",
            "nobody": "that nobody is told of it till then",
            "reply": "the reply that ends it",
        },
        must=(*_NUMBERED, ("number", "reply"), ("aside",), ("nobody",)),
    ),
    "proved": Wordable(
        when="switched, as measured",
        places=_THING | {"seen": "what was measured, and after how long", "stops": "when it ends by itself"},
        must=(("boat",), ("thing",), ("seen",), ("stops",)),
    ),
    "not proved": Wordable(
        when="sent, and no proof seen",
        places=_THING
        | {
            "waited": "how long was waited",
            "shows": "what it shows",
            "caution": "that an engine may run, and CO",
            "again": "that it is not sent again",
        },
        must=(("boat",), ("thing",), ("caution",), ("again",)),
    ),
    "not sent": Wordable(
        when="the order could not leave",
        places=_THING | {"why": "that it could not leave and nothing was switched", "ask": "that one may ask anew"},
        must=(("boat",), ("thing",), ("why",)),
    ),
}


def never_dropped(kind: str) -> frozenset[str]:
    """Places of the kind that must stand in it, and are never dropped for room."""
    return frozenset(place for group in WORDABLE[kind].must for place in group)


def fit_as(kind: str, scene: Scene, pieces: Sequence[Piece], *alone: Piece) -> str:
    """The pieces as the installer words this kind of text for the reader's language, else as we do. alone: pieces that
    our own wording does not hold by themselves; they stand for those of their place.

    An own wording that does not fit this once is gone round, because a text must go all the same.
    Raises OwnWordingTooLong instead where the scene is strict.
    """
    own = scene.own_wordings.get((scene.language, kind))
    if own is None:
        return fit(pieces)
    instead = {piece.place for piece in alone}
    named = [*alone, *(piece for piece in pieces if piece.place not in instead)]
    text = fitted_own(own, named, never_dropped(kind))
    if text is None and scene.strict:
        raise OwnWordingTooLong(own, shortest(own, named, never_dropped(kind)))
    return fit(pieces) if text is None else text
