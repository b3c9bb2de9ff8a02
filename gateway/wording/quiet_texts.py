"""Texts to somebody who wants no reminders of an alarm."""

from gateway.telling.quiet_notices import CannotQuiet, QuietRefused, QuietTold
from gateway.wording.clocks import clock, lasting
from gateway.wording.fitting import Worth, fit, fixed, maybe
from gateway.wording.names import boat, first_name, what
from gateway.wording.scene import Scene


def quiet_told(notice: QuietTold, scene: Scene) -> str:
    """Until when, who is still reminded, and what is told all the same."""
    at, number = clock(scene, notice.boat, notice.person), notice.situation.number
    count = len(notice.others)
    names = " and ".join(first_name(scene, one) for one in notice.others[:2])
    still = f". {names} still {'get' if count > 1 else 'gets'} them" if count <= 2 else f". {count} others get them"
    return fit(
        [
            boat(scene, notice.boat),
            what(scene, notice.situation.point, f": alarm {number}, {{}}: "),
            fixed(f"no reminders to you until {at.told(notice.until)}"),
            maybe(Worth.MEANING, still if count else ""),
            maybe(Worth.VALUE, ". You hear if it gets worse or is over"),
            maybe(Worth.ADVICE, f". To take it reply HAVE IT {number}"),
        ]
    )


def quiet_refused(notice: QuietRefused, scene: Scene) -> str:
    """Why the reminders go on."""
    number = notice.situation.number
    take = f". To take it reply HAVE IT {number}"
    match notice.cannot:
        case CannotQuiet.EMERGENCY:
            words = f"alarm {number} is an emergency, reminders go on till somebody has it"
        case CannotQuiet.LAST:
            words = f"nobody else is reminded of alarm {number}, so reminders to you go on"
        case CannotQuiet.TOO_LONG:
            words, take = f"alarm {number} can be quiet for {lasting(notice.longest)} at most", ""
        case CannotQuiet.NO_REMINDERS:
            words, take = f"you get no reminders of alarm {number} as it is", ""
    return fit([boat(scene, notice.boat), fixed(f": {words}. Nothing was changed"), maybe(Worth.VALUE, take)])
