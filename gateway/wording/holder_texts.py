"""Texts about who has an alarm: where the holder is, who has it next, remarks that were kept."""

from gateway.alarms.holding import Whereabouts
from gateway.telling.holder_notices import HandedOver, HandOverWanted, NoteAnswer, ProgressTold
from gateway.wording.cautions import on_arrival
from gateway.wording.clocks import clock
from gateway.wording.fitting import Piece, Worth, fit, fixed, maybe, packed, placed
from gateway.wording.names import boat, first_name, point_of, what
from gateway.wording.own_kinds import fit_as
from gateway.wording.scene import Scene
from gateway.wording.situations import since


def progress_told(notice: ProgressTold, scene: Scene) -> str:
    """To the others where the holder is, once; to the holder that it is kept, and what it did not do."""
    at = clock(scene, notice.boat, notice.person)
    numbers = [str(each.number) for each in notice.situations]
    if notice.holder == notice.person:
        return fit([boat(scene, notice.boat), *_own(notice, at.told(scene.now), scene)])
    before = [
        boat(scene, notice.boat),
        fixed(f": {first_name(scene, notice.holder)} is {notice.where} since {at.told(scene.now)}, has alarm "),
    ]
    if len(numbers) == 1:
        named = what(scene, notice.situations[0].point, ", {}").forms[0]
        return fit([*before, fixed(numbers[0]), maybe(Worth.MEANING, named)])
    return packed(before, [[fixed(number)] for number in numbers], [], " and {count} more") or fit(before)


def _own(notice: ProgressTold, when: str, scene: Scene) -> list[Piece]:
    number = notice.situations[0].number
    if notice.where is Whereabouts.AT_BOAT:
        cautions = on_arrival(point_of(scene, notice.situations[0].point), scene.boats.get(notice.boat))
        return [
            fixed(f": noted, you are at the boat at {when}"),
            *cautions,
            maybe(Worth.ADVICE, ". Until VISIT OVER no text starts an engine or a heater"),
            maybe(Worth.VALUE, f". Later reply ASHORE {number}"),
        ]
    return [
        fixed(f": noted, you are ashore at {when}"),
        maybe(Worth.VALUE, f". Alarm {number} is still yours", f". {number} is still yours"),
        maybe(Worth.MEANING, ". Nobody aboard now? Reply VISIT OVER"),
        maybe(Worth.ADVICE, f". Not yours any more? Reply HAND OVER {number}"),
    ]


def handed_over(notice: HandedOver, scene: Scene) -> str:
    """Another person has it now: to the one who had it, and to the others, once."""
    number = notice.situation.number
    holder, before = first_name(scene, notice.holder), first_name(scene, notice.before)
    had_it = notice.person == notice.before
    no_longer = "you no longer" if had_it else f"no longer {before}"
    quiet = maybe(Worth.MEANING, ". No more reminders of it to you for now", ". No more reminders for now")
    return fit_as(
        "handed over",
        scene,
        [
            *placed("boat", boat(scene, notice.boat)),
            fixed(f": {holder} has alarm {number} now, {no_longer}"),
            *placed("what", what(scene, notice.situation.point, ": {}")),
            *placed("quiet", quiet),
        ],
        *placed("holder", fixed(f"{holder}, {no_longer}")),
        *placed("number", fixed(str(number))),
    )


def hand_over_wanted(notice: HandOverWanted, scene: Scene) -> str:
    """To the others that somebody wants to be relieved; to that person that nobody has taken it yet."""
    at = clock(scene, notice.boat, notice.person)
    number = notice.situation.number
    if notice.holder == notice.person:
        names = " and ".join(first_name(scene, one) for one in notice.asked[:2])
        count = len(notice.asked)
        fewer = f"alarm {number} is offered to {count} other{'' if count == 1 else 's'}"
        asked = f"alarm {number} is offered to {names}" if count <= 2 and "." not in names else fewer
        if not count:
            asked = fewer = f"nobody else is on the list of alarm {number}"
        return fit(
            [
                boat(scene, notice.boat),
                Piece((f": {asked}", f": {fewer}"), (Worth.NAME,)),
                fixed(". It stays yours until one of them takes it"),
                fixed(f". If nobody does by {at.told(notice.until)} all are told anew"),
            ]
        )
    holder = first_name(scene, notice.holder)
    return fit(
        [
            boat(scene, notice.boat, berth=True),
            fixed(f": {holder} asks to hand over alarm {number}"),
            what(scene, notice.situation.point, ", {}"),
            since(notice.situation, at),
            maybe(Worth.MEANING, f". {holder} has it till somebody takes it"),
            fixed(f". Can you? Reply TAKE OVER {number}"),
        ]
    )


def note_answer(notice: NoteAnswer, scene: Scene) -> str:
    """A remark was kept, and nothing else was done."""
    about = f" of alarm {notice.number}" if notice.number is not None else ""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": your note{about} is in the record. It was not read as an order"),
            maybe(Worth.ADVICE, ". Nobody was told of it"),
        ]
    )
