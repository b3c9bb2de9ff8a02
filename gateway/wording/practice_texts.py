"""Texts of a practice alarm. The word PRACTICE stands before everything else, the boat too (design 6 names the order of
true ones), so that nobody who reads the first word only sets out; and so that a true one never looks like it."""

from gateway.telling.practice import MOST_A_DAY, PracticeEnd
from gateway.telling.practice_notices import (
    CannotPractise,
    PracticeBegun,
    PracticeEndTold,
    PracticeRefused,
    PracticeTold,
)
from gateway.wording.clocks import clock, lasting
from gateway.wording.fitting import Piece, Worth, by_words, fit, fixed, maybe, shortening, tidy
from gateway.wording.names import boat, first_name, what
from gateway.wording.scene import Scene

HEAD = fixed("PRACTICE. ")


def practice_told(notice: PracticeTold, scene: Scene) -> str:
    """The call-out: which boat, what, that it is nothing, how it is taken."""
    return fit(
        [
            HEAD,
            boat(scene, notice.boat, berth=True),
            what(scene, notice.point, ": {}"),
            fixed(". Only a practice alarm"),
            maybe(Worth.MEANING, f", set off by {first_name(scene, notice.by)}"),
            fixed(". Do not set out"),
            maybe(Worth.VALUE, ". Nothing is switched"),
            fixed(". To show that it reached you reply HAVE IT"),
        ]
    )


def practice_begun(notice: PracticeBegun, scene: Scene) -> str:
    """To whoever set it off: who is told first, when it is over, how it is ended."""
    at = clock(scene, notice.boat, notice.person)
    count = len(notice.first)
    names = " and ".join("you" if one == notice.person else first_name(scene, one) for one in notice.first[:2])
    first = f". First told: {names}" if 0 < count <= 2 else f". First told: {count} persons"
    return fit(
        [
            HEAD,
            boat(scene, notice.boat),
            what(scene, notice.point, ": call-out of {} begins"),
            maybe(Worth.VALUE, first),
            fixed(f". Over at {at.told(notice.ends)} if nobody has it"),
            maybe(Worth.ADVICE, ". To end it reply PRACTICE OVER"),
        ]
    )


def practice_end_told(notice: PracticeEndTold, scene: Scene) -> str:
    """It is over, why, and that what comes now is true."""
    by = "somebody" if notice.by is None else "you" if notice.by == notice.person else first_name(scene, notice.by)
    after = f" after {lasting(notice.lasted)}"
    match notice.because:
        case PracticeEnd.TAKEN:
            words = f"{by} had it{after}"
        case PracticeEnd.SAID:
            words = f"{by} ended it{after}"
        case PracticeEnd.UNANSWERED:
            words = "nobody replied HAVE IT"
        case PracticeEnd.TRUE_ALARM:
            words = "a true alarm has come"
        case PracticeEnd.GONE:
            words = "the installation was changed"
    return fit(
        [
            HEAD,
            boat(scene, notice.boat),
            what(scene, notice.point, ": call-out of {} is over"),
            fixed(f", {words}"),
            _count(notice),
            fixed(". What comes now is true"),
        ]
    )


def _count(notice: PracticeEndTold) -> Piece:
    """How many texts went and arrived, to whoever set it off."""
    if notice.texts is None:
        return fixed("")
    texts = "1 text" if notice.texts == 1 else f"{notice.texts} texts"
    people = "1 person" if len(notice.told) == 1 else f"{len(notice.told)} people"
    return maybe(Worth.VALUE, f". {texts} to {people}, {notice.arrived} arrived so far")


def practice_refused(notice: PracticeRefused, scene: Scene) -> str:
    """Why nothing was set off, and what to do."""
    who = " or ".join("you" if one == notice.person else first_name(scene, one) for one in notice.who[:2]) or "nobody"
    more = ""
    pieces: list[Piece] = []
    match notice.cannot:
        case CannotPractise.NOT_YOURS:
            pieces = [fixed(f": a practice alarm is for {who} to set off")]
        case CannotPractise.NO_SUCH:
            called = [f': no alarm point is called "{by_words(tidy(notice.words), length)}"' for length in (60, 30, 12)]
            pieces, more = [shortening(Worth.NAME, *called)], ". Its name stands in every text of it"
        case CannotPractise.ALARM_OPEN:
            pieces, more = [fixed(f": alarm {notice.number} waits for somebody")], ". Once somebody has it ask again"
        case CannotPractise.GOES_ON:
            pieces, more = [what(scene, notice.point or "", ": {} is practised already")], ". Reply PRACTICE OVER first"
        case CannotPractise.NOT_TOLD:
            pieces = [fixed(": nobody would be told of it now"), maybe(Worth.MEANING, f", {tidy(notice.because)}")]
        case CannotPractise.TOO_OFTEN:
            pieces = [fixed(f": there were {MOST_A_DAY} practice alarms within a day, the most there may be")]
        case CannotPractise.NONE_ON:
            pieces = [fixed(": no practice alarm goes on")]
    return fit(
        [HEAD, boat(scene, notice.boat), *pieces, fixed(". Nobody was told of anything"), maybe(Worth.ADVICE, more)]
    )
