"""The texts of a request after the order: what was measured, or that nothing was. Never what was merely sent."""

from gateway.requests.answers import NotProved, NotSent, Proved, StopTrouble
from gateway.wording.actions import is_engine, may_harm, words_for
from gateway.wording.clocks import clock, lasting
from gateway.wording.fitting import Piece, Worth, clipped, fit, fixed, maybe, placed, shortening, tidy
from gateway.wording.names import boat, phrase_name, thing
from gateway.wording.own_kinds import fit_as
from gateway.wording.request_texts import CO_CAUTION
from gateway.wording.scene import Scene


def proved(answer: Proved, scene: Scene) -> str:
    """Done, as measured: "generator running, 231 V after 14 s. Stops by itself 10:01"."""
    at = clock(scene, answer.boat, answer.person)
    words = words_for(answer.action)
    measured = clipped(tidy(answer.measured), 24)
    seen = f", {measured} after {lasting(answer.after)}" if measured else f", seen after {lasting(answer.after)}"
    stops = f". {words.later} {at.told(answer.stops_at)}" if answer.stops_at is not None else ""
    return fit_as(
        "proved",
        scene,
        [
            *placed("boat", boat(scene, answer.boat)),
            *placed("thing", thing(scene, answer.equipment, f": {{}} {words.done}")),
            *placed("thing", maybe(Worth.MEANING, " at the end of its time" if answer.ended else "")),
            *placed("seen", fixed(seen)),
            *placed("stops", fixed(stops)),
        ],
    )


def not_proved(answer: NotProved, scene: Scene) -> str:
    """Sent, and no proof seen: it is not sent again, and nobody should rely on either."""
    equipment = scene.equipment.get(answer.equipment)
    words = words_for(answer.action)
    measured = clipped(tidy(answer.measured), 24)
    harm = [fixed(f". It may run: {CO_CAUTION}")] if is_engine(equipment) else []
    return fit_as(
        "not proved",
        scene,
        [
            *placed("boat", boat(scene, answer.boat)),
            *placed("thing", thing(scene, answer.equipment, f": {{}}: no proof that it {words.past}")),
            *placed("waited", fixed(f", waited {lasting(answer.waited)}")),
            *placed("shows", maybe(Worth.VALUE, f", it shows {measured}" if measured else "")),
            maybe(Worth.ADVICE, ". The gateway restarted meanwhile" if answer.restarted else ""),
            *placed("caution", *harm),
            *placed("again", fixed(". Not sent again. Look before you rely on it")),
        ],
    )


def not_sent(answer: NotSent, scene: Scene) -> str:
    """The broker did not take the order."""
    equipment = scene.equipment.get(answer.equipment)
    spoken = phrase_name(scene, answer.equipment)
    again = f": {clipped(spoken, 30)} {answer.action.upper()}" if spoken and not may_harm(equipment) else ""
    ask = maybe(Worth.ADVICE, f". Ask anew once the link is back{again}", ". Ask anew once the link is back")
    return fit_as(
        "not sent",
        scene,
        [
            *placed("boat", boat(scene, answer.boat)),
            *placed("thing", thing(scene, answer.equipment, f": {{}} NOT {words_for(answer.action).undone}")),
            *placed("why", fixed(": the order could not leave. Nothing was switched, it is not sent again")),
            *placed("ask", ask),
        ],
    )


def stop_trouble(answer: StopTrouble, scene: Scene) -> str:
    """A timed end that is due and not proved."""
    words = words_for(answer.action)
    what = thing(scene, answer.equipment, f": time is up, {{}} NOT proved {words.done}")
    head = [boat(scene, answer.boat), what]
    engine_runs = _engine_may_run(answer, scene)
    if answer.held_by is not None:
        held = f". Order HELD by gas or fire alarm {answer.held_by}: switching can spark"
        return fit([*head, fixed(held), *engine_runs, maybe(Worth.MEANING, ". Keep away from the boat")])
    if answer.unreachable:
        waits = shortening(
            Worth.MEANING,
            ". The boat can't be reached: the order waits and goes out once it is heard",
            ". The boat can't be reached: the order waits",
        )
        return fit([*head, waits, *engine_runs])
    tries = f" after {answer.tries} {'try' if answer.tries == 1 else 'tries'}"
    if answer.given_up:
        return fit([*head, fixed(f"{tries}. No more tries"), *engine_runs, fixed(". Somebody must see to it")])
    return fit([*head, fixed(f"{tries}. It is tried again every minute"), *engine_runs])


def _engine_may_run(answer: StopTrouble, scene: Scene) -> list[Piece]:
    if not is_engine(scene.equipment.get(answer.equipment)):
        return []
    return [fixed(f". It may still run: {CO_CAUTION}"), maybe(Worth.ADVICE, ", mind the exhaust")]
