"""What is spoken in a call. Short plain sentences, because it is heard once in the dark; the carrier's door says them
twice. No key is pressed: what is answered is texted, and the words for it are said.

A voicemail hears the same words, and that nobody has the alarm by it (our choice: it errs less than any detection).
"""

from gateway.telling.notices import AlarmRung
from gateway.telling.practice_notices import PracticeRung
from gateway.wording.clocks import clock
from gateway.wording.fitting import tidy
from gateway.wording.names import boat_name, point_name, point_of
from gateway.wording.scene import Scene

CUT_OFF = " This phone gets no texts from the gateway, because it asked for none. To get them, text: start."
"""To a phone that has opted out. The carrier undoes it by that word alone (its page on opt-out)."""


def alarm_rung(notice: AlarmRung, scene: Scene) -> str:
    """One alarm: which boat, what, since when, and how to take it."""
    situation, at = notice.situation, clock(scene, notice.boat, notice.person)
    known = scene.boats.get(notice.boat)
    point = point_of(scene, situation.point)
    name = tidy(known.name if known is not None else notice.boat)
    what = tidy(point.name if point is not None else point_name(scene, situation.point))
    do = f" {tidy(point.do)}." if point is not None and point.do else ""
    taken = f" To take it, text the words: have it {situation.number}, to this number. Hanging up takes nothing."
    return f"Alarm of the boat {name}. {what}, since {at.at(situation.since)}.{do}{taken}" + (
        CUT_OFF if notice.cut_off else ""
    )


def practice_rung(notice: PracticeRung, scene: Scene) -> str:
    """What is spoken in a call; the first word and the last say that it is none."""
    name, what_for = tidy(boat_name(scene, notice.boat)), tidy(point_name(scene, notice.point))
    return (
        f"Practice. This is only a practice alarm of the boat {name}: {what_for}. Do not set out. "
        "To show that it reached you, text the words: have it, to this number. This was only practice."
    )
