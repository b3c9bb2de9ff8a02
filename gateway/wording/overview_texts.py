"""Answers to questions: status, alarms, phrases. What is not known is said; what does not fit is counted."""

from gateway.boat.settings import Senses
from gateway.telling.notices import AlarmsAnswer, PhrasesAnswer, StatusAnswer, StatusLine
from gateway.telling.situation import Situation
from gateway.wording.ahead_words import ahead_forms
from gateway.wording.bank_words import bank_forms
from gateway.wording.clocks import clock, lasting
from gateway.wording.fitting import Piece, Worth, capitals, clipped, fit, fixed, maybe, name, packed, tidy
from gateway.wording.names import (
    begins_with_carrier_word,
    boat,
    boat_name,
    boat_short,
    first_name,
    point_name,
    small,
    spoken,
)
from gateway.wording.phrasebook import translated
from gateway.wording.scene import Scene
from gateway.wording.situations import boat_of, listed, worst_first

DETECTORS = frozenset({Senses.CO, Senses.FIRE, Senses.GAS})


def status_answer(notice: StatusAnswer, scene: Scene) -> str:
    """The open alarms, then as many values as fit, each with its age when it is old."""
    at = clock(scene, notice.boat, notice.person)
    silent = notice.silent_since
    head = [boat(scene, notice.boat), fixed(f" {at.told(scene.now)}: ")]
    if silent is not None:
        head.append(fixed(f"NO DATA since {at.at(silent)} ({lasting(scene.now - silent)}). "))
    alarms = worst_first(scene, notice.situations)
    values = [_value(line, notice.boat, scene) for line in notice.lines]
    if silent is None:
        values[:0] = [ahead_forms(each, at)[0] for each in notice.ahead]
    if notice.bank is not None and silent is None:
        values.insert(0, bank_forms(notice.bank)[0])
    if values:
        values[0] = values[0][:1].upper() + values[0][1:] if silent is None else f"Last known: {values[0]}"
    items = [[fixed(value)] for value in values]
    more = " and {count} more values"
    if not alarms:
        none = fixed("no alarm open. " if silent is None else "No alarm was open. ")
        text = packed([*head, none], items, [], more)
        return text or fit([*head, none, fixed("No values to tell")])
    opened = [fixed("open: " if silent is None else "Open: ")]
    for place, each in enumerate(alarms):
        called = point_name(scene, each.point)
        opened += [fixed(", " * (place > 0) + f"{each.number} "), name(called, 16)]
    text = packed([*head, *opened, fixed(". ")], items, [], more) if items else None
    if text is not None:
        return text
    many = [[listed(scene, each, at)] for each in alarms]
    return packed([*head, fixed("open: ")], many, [], " and {count} more alarms") or fit(head)


def _value(line: StatusLine, key: str, scene: Scene) -> str:
    """ "house volts 12.6 V (5 min old)". A detector that is quiet is not called off or zero without a word."""
    known = scene.signals.get(line.signal) or scene.signals.get(f"{key}/{line.signal}")
    called = clipped(small(spoken(line.signal)), 24)
    measured = clipped(tidy(line.measured), 24)
    if not measured:
        return f"{called} never heard"
    if known is not None and known.senses in DETECTORS:
        measured = {"off": "not signalling", "on": "SIGNALLING"}.get(measured, f"reads {measured}")
    age = f" ({lasting(line.age)} old)" if line.age is not None else ""
    return f"{called} {measured}{age}"


def alarms_answer(notice: AlarmsAnswer, scene: Scene) -> str:
    """The open alarms, worst first, each with its number and who has it."""
    head = [boat(scene, notice.boat)] if notice.boat else []
    if not notice.situations:
        return fit([*head, fixed(_none_open(notice))])
    holders = {each.number: holder for each, holder in zip(notice.situations, notice.holders, strict=True)}

    def held(number: int) -> str:
        holder = holders[number]
        if holder is None:
            return ", nobody has it"
        return ", you have it" if holder == notice.person else f", {first_name(scene, holder)} has it"

    alarms = worst_first(scene, notice.situations)
    clocks = [clock(scene, notice.boat or boat_of(each), notice.person) for each in alarms]
    mark = next((mark for each, at in zip(alarms, clocks, strict=True) if (mark := at.mark(each.since))), "")
    items = [
        [*_whose(notice, each, scene), listed(scene, each, at, held(each.number))]
        for each, at in zip(alarms, clocks, strict=True)
    ]
    if notice.boat:
        before = [*head, fixed(f"{',' if mark else ''}{mark}: open: ")]
    else:
        before = [fixed(f"Open{',' if mark else ''}{mark}: ")]
    return packed(before, items, [], " and {count} more", "; ") or fit(before)


def _none_open(notice: AlarmsAnswer) -> str:
    if notice.boat:
        return ": no alarm is open. That is what its sensors report, no more. Reply STATUS for the latest values"
    return (
        f"No alarm is open on your {len(notice.boats)} boats. That is what their sensors report, no more. "
        "For the latest values text a boat's name and STATUS"
    )


def _whose(notice: AlarmsAnswer, situation: Situation, scene: Scene) -> list[Piece]:
    return [] if notice.boat else [boat_short(scene, boat_of(situation)), fixed(" ")]


def phrases_answer(notice: PhrasesAnswer, scene: Scene) -> str:
    """What this person may text, in capitals as printed."""
    before = [boat(scene, notice.boat), fixed(": you can text ")] if notice.boat else [fixed("You can text ")]
    said = [capitals(phrase) for phrase in notice.phrases]
    said = [phrase for phrase in said if phrase and not begins_with_carrier_word(phrase)]
    if notice.named:
        before.append(fixed(f"{', '.join(translated(each) for each in said)}. With a boat's name in front"))
        first = boat_name(scene, notice.boats[0]) if notice.boats else ""
        example = capitals(f"{first} {notice.named[0]}") if first and not begins_with_carrier_word(first) else ""
        before += [maybe(Worth.ADVICE, f", as {example}" if example else ""), fixed(": ")]
        said = [capitals(phrase) for phrase in notice.named]
    items = [[Piece((phrase, clipped(phrase, 40)), (Worth.NAME,))] for phrase in said if phrase]
    return packed(before, items, [], " and {count} more") or fit([*before, fixed("ALARMS, STATUS")])
