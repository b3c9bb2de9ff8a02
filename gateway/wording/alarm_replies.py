"""Answers to texts about alarms and visits: not taken, cannot, visit begun or over, which boat."""

from gateway.telling.notices import AlarmAnswer, Cannot, NotTaken, VisitAnswer, WhichBoat
from gateway.wording.clocks import clock
from gateway.wording.fitting import Piece, Worth, capitals, fit, fixed, maybe, name, packed, placed
from gateway.wording.names import (
    SHORT_POINT,
    boat,
    boat_name,
    first_name,
    point_name,
    what,
)
from gateway.wording.own_kinds import fit_as
from gateway.wording.scene import Scene


def not_taken(notice: NotTaken, scene: Scene) -> str:
    """ "ok" to an alarm that nobody holds (handbook 7.3 no. 3): it takes nothing, and who is next."""
    at = clock(scene, notice.boat, notice.person)
    number = notice.situation.number
    if notice.next_person is None:
        otherwise = Piece((". If not, ring somebody: nobody else is told", ". Nobody else is told"), (Worth.ADVICE,))
    else:
        again = notice.next_person == notice.person
        told = "you are told again" if again else f"{first_name(scene, notice.next_person)} is told next"
        when = f" at {at.told(notice.next_at)}" if notice.next_at is not None else ""
        otherwise = Piece((f". If not, do nothing: {told}{when}", f". If not: {told}{when}"), (Worth.ADVICE,))
    return fit_as(
        "not taken",
        scene,
        [
            fixed(f"NOT taken: alarm {number} "),
            *placed("boat", boat(scene, notice.boat)),
            maybe(Worth.MEANING, f", {what(scene, notice.situation.point).forms[0]},"),
            fixed(" still has nobody"),
            *placed("reply", Piece((". If you are dealing with it reply ", ". Reply "), (Worth.VALUE,))),
            *placed("reply", fixed(f"HAVE IT {number}")),
            *placed("otherwise", otherwise),
        ],
        *placed("not", fixed(f"NOT taken: alarm {number}")),
        *placed("what", what(scene, notice.situation.point)),
        *placed("number", fixed(str(number))),
    )


def alarm_answer(notice: AlarmAnswer, scene: Scene) -> str:
    """Why a "have it" or "checked" did nothing."""
    number = str(notice.numbers[0]) if notice.numbers else "number"
    head = [boat(scene, notice.boat), fixed(": ")]
    if notice.aboard:
        return fit([boat(scene, notice.boat), *_none_of_his(notice, scene, number), fixed(COUNTS_AS_ABOARD)])
    match notice.cannot:
        case Cannot.NO_SUCH:
            asked = f"there is no alarm {number}" if notice.numbers else "there is no alarm with that number"
            return fit([*head, fixed(f"{asked}. Nothing was changed. Reply ALARMS for the open ones")])
        case Cannot.CLOSED:
            asked = f"alarm {number}" if notice.numbers else "that alarm"
            return fit(
                [*head, fixed(f"{asked} is closed already. Nothing was changed. Reply ALARMS for the open ones")]
            )
        case Cannot.NONE_OPEN:
            return fit([*head, fixed("no alarm is open, so nothing was changed. Reply STATUS for the latest values")])
        case Cannot.WHICH:
            return _which_alarm(notice, scene, number)
        case Cannot.STILL_ACTIVE:
            return fit(
                [
                    *head,
                    fixed(f"alarm {number} has not gone yet. Nothing was changed. Reply CHECKED {number} once it has"),
                ]
            )
        case Cannot.TAKE_FIRST:
            return fit(
                [*head, fixed(f"nobody has alarm {number} yet. Reply HAVE IT {number}, after looking CHECKED {number}")]
            )
        case Cannot.HELD_BY_OTHER:
            return _held(notice, scene, number)
        case Cannot.HELD_BY_NOBODY if notice.numbers:
            return fit([*head, fixed(f"nobody has alarm {number} yet, you neither. Reply HAVE IT {number} first")])
        case Cannot.HELD_BY_NOBODY:
            return fit([*head, fixed("you have no alarm, so nothing was changed. Reply ALARMS for the open ones")])
        case Cannot.NOT_LATCHED:
            return fit([*head, fixed(f"alarm {number} needs no CHECKED. Once taken and gone it closes by itself")])


COUNTS_AS_ABOARD = ". You count as aboard: no text starts an engine until you reply VISIT OVER"
"""Said to whoever texts "at boat" without having the alarm (design rule 10)."""


def _none_of_his(notice: AlarmAnswer, scene: Scene, number: str) -> list[Piece]:
    """Which alarm is not the reader's, to whoever says all the same that he is at the boat."""
    if notice.cannot is Cannot.HELD_BY_OTHER:
        return [fixed(f": {first_name(scene, notice.holder or '')} has alarm {number}, you do not")]
    if notice.cannot is Cannot.HELD_BY_NOBODY and notice.numbers:
        return [fixed(": "), fixed(f"nobody has alarm {number} yet, you neither. Reply HAVE IT {number} first")]
    return [fixed(f": alarm {number} is not open" if notice.numbers else ": you have no alarm")]


def _held(notice: AlarmAnswer, scene: Scene, number: str) -> str:
    """Somebody else has it: two who wanted it at once, or what only its holder may say."""
    holder = first_name(scene, notice.holder or "")
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": {holder} has alarm {number}, you do not"),
            maybe(Worth.MEANING, ". Nothing was changed"),
            fixed(f". To have it instead reply TAKE OVER {number}"),
        ]
    )


def _which_alarm(notice: AlarmAnswer, scene: Scene, number: str) -> str:
    """Several could be meant: each with its boat, number and name, the worst first."""
    before = [*([boat(scene, notice.boat), fixed(": which")] if notice.boat else [fixed("Which")]), fixed(" alarm? ")]
    example = Piece(
        (f". Nothing was changed. Reply HAVE IT or CHECKED with its number, as {number}", ". Nothing was changed"),
        (Worth.MEANING,),
    )
    items = [
        [
            *([] if notice.boat else [boat(scene, each.point.partition("/")[0]), fixed(" ")]),
            fixed(f"{each.number} "),
            name(point_name(scene, each.point), SHORT_POINT),
        ]
        for each in notice.situations
    ] or [[fixed("reply ALARMS")]]
    return packed(before, items, [example], " and {count} more: ALARMS") or fit([*before, example])


def visit_answer(notice: VisitAnswer, scene: Scene) -> str:
    """A visit begun or ended by text."""
    at = clock(scene, notice.boat, notice.person)
    if notice.begun:
        return fit(
            [
                boat(scene, notice.boat),
                fixed(f": visit noted from {at.told(scene.now if notice.since is None else notice.since)}"),
                maybe(Worth.MEANING, ". Until it ends no text starts an engine or a heater"),
                fixed(". When you have left and nobody is aboard reply VISIT OVER"),
            ]
        )
    if notice.elsewhere:
        there = clock(scene, notice.elsewhere, notice.person)
        since = notice.elsewhere_since
        other = boat_name(scene, notice.elsewhere)
        return fit(
            [
                boat(scene, notice.boat),
                fixed(": no visit of yours stood here, she counts as empty now"),
                fixed(". Your visit to "),
                name(other, 24, 12),
                maybe(Worth.VALUE, f" since {there.told(since)}" if since is not None else ""),
                fixed(" still stands"),
                maybe(Worth.ADVICE, ". When you have left reply with her name and VISIT OVER"),
            ]
        )
    began = f" (somebody aboard since {at.told(notice.since)})" if notice.since is not None else ""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": visit over at {at.told(scene.now)}"),
            maybe(Worth.NICETY, began),
            fixed(". On your word the boat counts as empty. If anyone is still aboard reply VISIT now"),
        ]
    )


def which_boat(notice: WhichBoat, scene: Scene) -> str:
    """A text that needs a boat and named none; never guessed."""
    example = capitals(notice.example)
    before = [
        fixed("Which boat? Nothing was done. Begin with its name"),
        maybe(Worth.ADVICE, f", as in {example}" if example else ""),
        fixed(": "),
    ]
    items = [[name(boat_name(scene, key), 30, 16)] for key in notice.boats]
    return packed(before, items, [], " and {count} more") or fit(before[:1])
