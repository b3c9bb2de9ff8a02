"""What may be offered with an alarm: phrases that this person may use and that would really be taken up now."""

from gateway.alarms.settings import Point
from gateway.desk.moment import Moment
from gateway.desk.turn import Recorder
from gateway.requests.answers import CautionAndCode
from gateway.requests.asking import ask
from gateway.requests.settings import GRAVE
from gateway.vocabulary.draws import DRAW_BYTES, Draws
from grammar.meanings import Switch, Understood


def offers_for(rec: Recorder, person: str, point: Point) -> tuple[str, ...]:
    """The point's offers that hold for this person at this moment. Engines, heaters and inverters are never offered
    unasked (design rule 10), whatever the installer wrote."""
    return tuple(phrase for phrase in point.offer if _holds(rec, person, point.boat, phrase))


def _holds(rec: Recorder, person: str, boat: str, phrase: str) -> bool:
    meaning = rec.bundle.read_text(phrase)
    if not isinstance(meaning, Understood) or not isinstance(meaning.request, Switch):
        return False
    equipment = rec.bundle.equipment.get(f"{boat}/{meaning.request.equipment}")
    if equipment is None or equipment.sort in GRAVE or person not in rec.bundle.people:
        return False
    answer = ask(  # asking changes nothing: what it would note and send is thrown away
        rec.state.requests,
        equipment,
        rec.bundle.people[person],
        meaning.request,
        0,
        Moment(rec.state, rec.bundle, rec.now),
        Draws(bytes(DRAW_BYTES)),
        rec.bundle.code_words,
        rec.bundle.people,
        rec.bundle.paper_lists,
    )
    return any(isinstance(one, CautionAndCode) for one in answer.answers)
