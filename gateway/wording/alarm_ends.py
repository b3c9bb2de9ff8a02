"""The texts of an alarm's life after it was told: taken, gone, checked."""

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Point
from gateway.telling.notices import AlarmGone, AlarmReset, AlarmTaken
from gateway.telling.situation import Situation
from gateway.wording.alarm_texts import LATCHED, advice, number_alone
from gateway.wording.cautions import may_be_boarded, not_proof, on_arrival
from gateway.wording.clocks import Clock, clock
from gateway.wording.fitting import Piece, Worth, fixed, maybe, placed
from gateway.wording.names import boat, first_name, point_of, what
from gateway.wording.own_kinds import fit_as
from gateway.wording.scene import Scene
from gateway.wording.situations import since


def named_alone(scene: Scene, situation: Situation) -> list[Piece]:
    """The alarm's name and its number, each alone."""
    return [*placed("what", what(scene, situation.point)), *number_alone(situation)]


def alarm_taken(notice: AlarmTaken, scene: Scene) -> str:
    """Somebody has it: to the taker with what to mind before boarding, to the others once."""
    at = clock(scene, notice.boat, notice.person)
    situation = notice.situation
    if notice.holder != notice.person:
        holder = first_name(scene, notice.holder)
        return fit_as(
            "alarm taken",
            scene,
            [
                *placed("boat", boat(scene, notice.boat)),
                fixed(f": {holder} has alarm {situation.number}"),
                *placed("what", what(scene, situation.point, ", {}")),
                *placed("since", since(situation, at)),
                *placed(
                    "quiet",
                    maybe(Worth.MEANING, ". No more reminders of it to you for now", ". No more reminders for now"),
                ),
            ],
            *placed("holder", fixed(holder)),
            *number_alone(situation),
        )
    point = point_of(scene, situation.point)
    known = scene.boats.get(notice.boat)
    cautions = on_arrival(point, known)
    return fit_as(
        "alarm yours",
        scene,
        [
            *placed("boat", boat(scene, notice.boat)),
            fixed(f": alarm {situation.number} is yours"),
            _of(scene, situation, at),
            *placed("caution", *cautions),
            *placed("gone", *_what_is_left(situation, at)),
            *placed("do", advice(Worth.NICETY if cautions else Worth.MEANING, point.do if point else "")),
            *placed("progress", maybe(Worth.VALUE, *_progress_forms(situation, point))),
        ],
        *named_alone(scene, situation),
    )


def _progress_forms(situation: Situation, point: Point | None) -> tuple[str, ...]:
    """What the holder may say of the way there (handbook 7.3 no. 2); nothing where nobody should go near."""
    if situation.gone is not None or not may_be_boarded(point):
        return ()
    number = situation.number
    return (f". Reply AT BOAT {number}, then ASHORE {number}", f". Reply AT BOAT {number}")


def _of(scene: Scene, situation: Situation, at: Clock) -> Piece:
    name = what(scene, situation.point).forms
    began = since(situation, at).forms[0] if situation.gone is None else ""
    return maybe(Worth.MEANING, f": {name[0]}{began}", f": {name[0]}", f": {name[-1]}")


def _what_is_left(situation: Situation, at: Clock) -> list[Piece]:
    """For the taker of an alarm whose condition has gone."""
    if situation.gone is None:
        return []
    gone = maybe(Worth.SINCE, f". Gone since {at.told(situation.gone)}")
    if situation.state in LATCHED:
        return [gone, fixed(f". Once somebody has looked reply CHECKED {situation.number}")]
    return [gone, fixed(". It is closed")]


def alarm_gone(notice: AlarmGone, scene: Scene) -> str:
    """The condition has gone. Never more than that: what a sensor no longer says is not proof that all is well."""
    at = clock(scene, notice.boat, notice.person)
    situation = notice.situation
    gone = situation.gone if situation.gone is not None else scene.now
    over = f" gone since {at.at(gone)}" if notice.latched else f": now OK since {at.at(gone)}"
    began = "" if situation.found else f" (began {at.at(situation.since)})"
    return fit_as(
        "alarm gone",
        scene,
        [
            *placed("boat", boat(scene, notice.boat)),
            *placed("what", what(scene, situation.point, ": {}")),
            *placed("over", fixed(over)),
            *placed("began", maybe(Worth.ADVICE, began)),
            fixed(at.mark(gone, situation.since)),
            *placed("caution", not_proof(point_of(scene, situation.point))),
            *placed("ends", *(_stands(notice, scene) if notice.latched else _closed(situation))),
        ],
        *placed("over", fixed(f"{over}{at.mark(gone, situation.since)}")),
        *number_alone(situation),
    )


def _stands(notice: AlarmGone, scene: Scene) -> list[Piece]:
    number = notice.situation.number
    stands = [
        fixed(f". Alarm {number} stands"),
        maybe(Worth.MEANING, " until somebody has looked"),
    ]
    if notice.holder is None:
        reply = f"HAVE IT {number}, after looking CHECKED {number}"
        return [*stands, Piece((f". Nobody has it: reply {reply}", f". Reply {reply}"), (Worth.NAME,))]
    if notice.holder == notice.person:
        return [*stands, fixed(f": then reply CHECKED {number}")]
    return [*stands, fixed(f". {first_name(scene, notice.holder)} has it")]


def _closed(situation: Situation) -> list[Piece]:
    if situation.state is AlarmState.GONE_UNACKNOWLEDGED:
        return [fixed(f". Nobody had alarm {situation.number}: reply HAVE IT {situation.number} to close it")]
    return [fixed(f". Alarm {situation.number} is closed")]


def alarm_reset(notice: AlarmReset, scene: Scene) -> str:
    """A person has looked, and the latched alarm is closed."""
    at = clock(scene, notice.boat, notice.person)
    situation = notice.situation
    own = notice.by == notice.person
    return fit_as(
        "alarm reset",
        scene,
        [
            *placed("boat", boat(scene, notice.boat)),
            what(scene, situation.point, f": alarm {situation.number}, {{}}, closed, "),
            *placed(
                "who", fixed(f"checked by {'you' if own else first_name(scene, notice.by)} at {at.told(scene.now)}")
            ),
            *placed("watched", maybe(Worth.MEANING, ". It is watched as before")),
            *placed("visit", maybe(Worth.ADVICE, ". When you have left reply VISIT OVER" if own else "")),
        ],
        *named_alone(scene, situation),
    )
