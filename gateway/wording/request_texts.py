"""The texts of a request before anything is switched: the question with its code, refused, withdrawn, wrong words."""

from gateway.requests.answers import (
    CautionAndCode,
    CodeAnswer,
    CodeTrouble,
    Dropped,
    NotDone,
    Objection,
    SecondDidNot,
    WaitsForSecond,
)
from gateway.requests.number_answers import PaperRunsLow
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import MINUTE, Ms
from gateway.wording.actions import starts_engine, words_for
from gateway.wording.clocks import Clock, clock, lasting, run_time
from gateway.wording.fitting import Piece, Worth, by_words, capitals, clipped, fit, fixed, maybe, shortening, tidy
from gateway.wording.names import boat, first_name, thing, thing_name
from gateway.wording.scene import Scene

CO_CAUTION = "CO KILLS"
"""The least that stands in the text that asks whether an engine shall be started (handbook 5.2, 7.3 no. 5)."""


def caution_and_code(answer: CautionAndCode, scene: Scene) -> str:
    """The question back (handbook 7.3 no. 5): what would be done, the caution, the words and how long they are good."""
    at = clock(scene, answer.boat, answer.person)
    code = " ".join(capitals(word) for word in answer.words)
    moments = [answer.expires] if answer.until is None else [answer.expires, answer.until]
    return fit(
        [
            boat(scene, answer.boat),
            *_who_asks(answer, scene),
            thing(scene, answer.equipment, f": {words_for(answer.action).ask}"),
            fixed(f"{_how_long(answer, at)}?"),
            caution(scene.equipment.get(answer.equipment), answer.action),
            _reply(code, answer.line, f"{at.at(answer.expires)}{at.mark(*moments)}"),
            maybe(Worth.NICETY, f" or DROP {code}"),
        ]
    )


def _reply(code: str, line: int | None, by: str) -> Piece:
    """What is to come back. With a line from paper the short form says the least: the list itself says how."""
    if line is None:
        return fixed(f" Reply GO {code} by {by}")
    long = f" Reply GO {code} {line} and both words of line {line} on your paper list by {by}"
    short = f" Reply GO {code} {line} + list line {line} by {by}"
    return shortening(Worth.MEANING, long, short, f" GO {code} {line} + paper by {by}")


def paper_runs_low(notice: PaperRunsLow, scene: Scene) -> str:
    """A paper list is nearly used up: to its person, and to those who can have a new one printed."""
    if notice.person == notice.who:
        left = f": {notice.left} lines left on your paper list" if notice.left else ": your paper list is used up"
        cure = ". Ask the installer for a new one"
    else:
        name, cure = first_name(scene, notice.who), ". A new one is printed ashore: heavingline paper-list"
        left = f": {name} has {notice.left} paper lines left" if notice.left else f": {name} has no paper lines left"
    return fit([boat(scene, notice.boat), fixed(left), maybe(Worth.MEANING, cure)])


def _who_asks(answer: CautionAndCode, scene: Scene) -> list[Piece]:
    """To a second person: who has asked and confirmed, and that it hangs on this word too."""
    if not answer.who:
        return []
    name = first_name(scene, answer.who)
    asks = [f": {each} asks" for each in (name, by_words(name, 8))]
    return [shortening(Worth.MEANING, f": {name} asks, and your GO is needed too", *asks)]


def waits_for_second(answer: WaitsForSecond, scene: Scene) -> str:
    """The person's own words were right, and that is not enough."""
    at = clock(scene, answer.boat, answer.person)
    return fit(
        [
            boat(scene, answer.boat),
            thing(scene, answer.equipment, f": your words to {words_for(answer.action).ask} are right"),
            fixed(f". {first_name(scene, answer.who)} must send GO too, by {at.at(answer.expires)}"),
            fixed(at.mark(answer.expires)),
            fixed(". Nothing is switched yet"),
        ]
    )


def second_did_not(answer: SecondDidNot, scene: Scene) -> str:
    """The second person gave no word, a wrong one too often, or said no."""
    said = {CodeTrouble.USED: "sent DROP", CodeTrouble.VOID: "sent wrong words"}
    return fit(
        [
            boat(scene, answer.boat),
            thing(scene, answer.equipment, f": {{}} NOT {words_for(answer.action).undone}"),
            fixed(f": {first_name(scene, answer.who)} {said.get(answer.trouble, 'sent no GO in time')}"),
            fixed(". Nothing was switched"),
        ]
    )


def _how_long(answer: CautionAndCode, at: Clock) -> str:
    if answer.until is not None:
        return f" until {at.at(answer.until)}"
    return f" for {run_time(answer.run)}" if answer.run is not None else ""


def caution(equipment: Equipment | None, action: str) -> Piece:
    """The installer's caution, given up sentence by sentence and last of all; an engine start keeps "CO KILLS"."""
    first = equipment is None or action == equipment.pair[0]
    words = "" if equipment is None else tidy(equipment.caution if first else equipment.stop_caution)
    sentences = [f"{each.rstrip('.')}." for each in words.split(". ") if each.strip(" .")]
    engine = starts_engine(equipment, action)
    if engine and not words.upper().startswith(CO_CAUTION):
        sentences = [f"{CO_CAUTION}.", *sentences]
    if not sentences:
        return fixed("")
    forms = [" " + " ".join(sentences[:count]) for count in range(len(sentences), 0, -1)]
    forms += [f" {by_words(sentences[0], length)}" for length in (70, 40)]
    return shortening(Worth.CAUTION, *forms, *([f" {CO_CAUTION}."] if engine else []))


def _whole(moment: Ms) -> Ms:
    """The next whole minute: whoever tries again when it was said that a lock ends finds it ended."""
    return -(-moment // MINUTE) * MINUTE


def not_done(answer: NotDone, scene: Scene) -> str:
    """Refused (handbook 7.3 no. 6): which interlock, its value, what would change it."""
    first, *others = answer.objections or (None,)
    return fit(
        [
            boat(scene, answer.boat),
            thing(scene, answer.equipment, f": {{}} NOT {words_for(answer.action).undone}"),
            *(_objection(first) if first is not None else []),
            _also([other for other in others if other is not None]),
            maybe(Worth.MEANING, ". The code is used up" if answer.confirming else ""),
            *_voided(answer, scene),
            fixed(". Nothing was switched"),
        ]
    )


def _voided(answer: NotDone, scene: Scene) -> list[Piece]:
    """Which words no longer count: without it somebody would try them, and take the answer for a slip."""
    if answer.voided is None:
        return []
    return [thing(scene, answer.voided, ". Earlier words for {} are void")]


def _objection(objection: Objection) -> list[Piece]:
    says, cure = _says(objection), tidy(objection.cure)
    return [
        shortening(Worth.CAUTION, *(f". {_capital(by_words(says, length))}" for length in (200, 100, 60))),
        maybe(Worth.VALUE, *(f". {_capital(by_words(cure, length))}" for length in (200, 90, 50)))
        if cure
        else maybe(Worth.VALUE, ". A text can't change this"),
    ]


def _also(others: list[Objection]) -> Piece:
    """The further reasons, then only how many there are."""
    if not others:
        return fixed("")
    says = [_says(other) for other in others]
    count = "another reason" if len(others) == 1 else f"{len(others)} other reasons"
    return Piece((f". Also: {'; '.join(says)}", f". And {count}", ""), (Worth.ADVICE, Worth.VALUE))


def _says(objection: Objection) -> str:
    says, measured = tidy(objection.says) or tidy(objection.rule.value), clipped(tidy(objection.measured), 24)
    return says if not measured or measured in says else f"{says} ({measured})"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def dropped(answer: Dropped, scene: Scene) -> str:
    """A request withdrawn by its person."""
    return fit(
        [
            boat(scene, answer.boat),
            thing(scene, answer.equipment, f": request to {words_for(answer.action).ask} withdrawn"),
            fixed(". Its words are void. Nothing was switched"),
        ]
    )


def code_answer(answer: CodeAnswer, scene: Scene) -> str:
    """A `go`, `drop` or `prove` that did nothing, and why."""
    at = clock(scene, answer.boat, answer.person)
    head = [boat(scene, answer.boat), fixed(": ")] if answer.boat else []
    whose = f" for {clipped(thing_name(scene, answer.equipment), 20)}" if answer.equipment else ""
    why, cure = _code_trouble(answer, whose, at)
    why = why if head else _capital(why)
    waits = answer.wait is not None and answer.trouble is not CodeTrouble.WAITS
    return fit(
        [
            *head,
            fixed(f"{why}. Nothing was switched"),
            maybe(Worth.VALUE, f". Wait {lasting(answer.wait or 0)}" if waits else ""),
            maybe(Worth.MEANING, f". {cure}" if cure else ""),
        ]
    )


def _code_trouble(  # noqa: PLR0912  # one case for each kind of trouble
    answer: CodeAnswer, whose: str, at: Clock
) -> tuple[str, str]:
    again = "Ask again if it is still wanted"
    match answer.trouble:
        case CodeTrouble.NOTHING_OPEN:
            return "nothing is waiting for a GO or DROP from you", "Ask first, then reply with the words you are sent"
        case CodeTrouble.WRONG:
            left = answer.tries_left
            tries = "" if left is None else " 1 try left" if left == 1 else f" {left} tries left"
            copied = "Copy both words from the last text"
            copied = copied if answer.line is None else f"Line {answer.line} of your paper list is asked for"
            return f"those are not the words{whose}{',' * bool(tries)}{tries}", copied
        case CodeTrouble.VOID:
            return f"wrong too often: the words{whose} are void", again
        case CodeTrouble.EXPIRED:
            return f"too late: the words{whose} have run out", again
        case CodeTrouble.REPLACED:
            return f"those words{whose} are void: you asked for something else after them", again
        case CodeTrouble.USED:
            return f"those words{whose} were used already, they work once", again
        case CodeTrouble.WAITS:
            more = lasting(answer.wait or 0)
            return f"too soon after wrong words: wait {more} more", "Then send it again, nothing was looked at"
        case CodeTrouble.LINE_MISSING:
            return f"line {answer.line} of your paper list is needed too", "Send GO, both words, its number, its words"
        case CodeTrouble.LINE_USED:
            return f"that line of your paper list is used, line {answer.line} is next", "Send GO again with that"
        case CodeTrouble.LOST:
            return "your phone is reported lost, it commands nothing", "The installer gives that back"
        case CodeTrouble.PROVES:
            return "those words prove your number, they confirm nothing", "Reply PROVE and the two words"
        case CodeTrouble.LOCKED:
            until = f" until {at.told(_whole(answer.until))}" if answer.until is not None else ""
            return f"wrong too often: commands from your phone are locked{until}", "Alarms still reach you"
        case CodeTrouble.TOO_OLD:
            age = f"{lasting(answer.age)} late" if answer.age is not None else "too late"
            by = f" by {at.told(answer.until)}" if answer.until is not None else ""
            return f"your text came {age}", f"Send it again{by}"
