"""Answers to a question about one thing: what is measured of it, how old that is, and whether an alarm rests on it."""

from gateway.requests.settings import Equipment
from gateway.telling.notices import StatusLine, ThingAnswer
from gateway.wording.ahead_words import ahead_forms
from gateway.wording.bank_words import bank_forms
from gateway.wording.clocks import Clock, clock, lasting
from gateway.wording.fitting import Piece, Worth, clipped, fixed, maybe, packed, tidy
from gateway.wording.names import boat, equipment_of, small, spoken, thing_name
from gateway.wording.overview_texts import DETECTORS
from gateway.wording.scene import Scene
from gateway.wording.situations import listed, worst_first

_SHOWS = {"start": ("running", "not running"), "on": ("on", "off"), "open": ("open", "closed")}
"""What a feedback contact that is on or off says of a thing, by the first of its pair of actions."""


def thing_answer(notice: ThingAnswer, scene: Scene) -> str:
    """Every value with its age, what it means for the thing, and the open alarms that rest on it."""
    at = clock(scene, notice.boat, notice.person)
    piece = equipment_of(scene, notice.boat, notice.equipment)
    head = [boat(scene, notice.boat), fixed(f" {at.told(scene.now)}: ")]
    alarms = worst_first(scene, notice.situations)
    if alarms:
        after = [fixed(". Open: "), *([listed(scene, alarms[0], at)])]
        after += [fixed(f" and {len(alarms) - 1} more")] if len(alarms) > 1 else []
    elif notice.watched:
        after = [maybe(Worth.MEANING, ". No alarm is open on it")]
    else:
        after = [maybe(Worth.MEANING, ". No alarm watches it")]
    items = [[fixed(_value(line, piece, scene))] for line in notice.lines]
    items += [[Piece(forms, (Worth.ADVICE,) * (len(forms) - 1))] for forms in _ahead(notice, at)]
    if not items:
        return packed(head, [[_nothing(notice)]], [], "") or ""
    return packed(head, items, after, " and {count} more values") or packed(head, items, [], " and {count} more") or ""


def _ahead(notice: ThingAnswer, at: Clock) -> list[tuple[str, ...]]:
    """What the sums say that rest on it."""
    bank = [] if notice.bank is None else [bank_forms(notice.bank)]
    return bank + [ahead_forms(each, at) for each in notice.ahead]


def _nothing(notice: ThingAnswer) -> Piece:
    return fixed(f"nothing is measured of {clipped(tidy(notice.about), 24)} on this boat. Reply STATUS for what is")


def _value(line: StatusLine, piece: Equipment | None, scene: Scene) -> str:
    """ "generator running (20 s old)". Too old to go by is said, and what was never heard."""
    known = scene.signals.get(line.signal)
    own = piece is not None and line.signal == piece.feedback
    called = clipped(thing_name(scene, piece.id) if own and piece else small(spoken(line.signal)), 24)
    if line.age is None or not line.measured:
        return f"{called} never heard"
    measured = clipped(tidy(line.measured), 24)
    if own and piece and measured in ("on", "off"):
        measured = _SHOWS.get(piece.pair[0], ("on", "off"))[0 if measured == "on" else 1]
    elif known is not None and known.senses in DETECTORS:
        measured = {"off": "not signalling", "on": "SIGNALLING"}.get(measured, measured)
    old = ", too old to go by" if known is not None and line.age > known.stale_after else ""
    return f"{called} {measured} ({lasting(line.age)} old{old})"
