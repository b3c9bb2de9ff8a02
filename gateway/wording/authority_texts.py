"""The texts about who may command: a number to be proved, a phone that is lost."""

from gateway.requests.number_answers import CannotReport, NumberIsProved, PhoneLostTold, PhoneNotTaken, ProveFirst
from gateway.wording.actions import words_for
from gateway.wording.clocks import clock
from gateway.wording.fitting import Worth, capitals, fit, fixed, maybe
from gateway.wording.names import boat, first_name, thing
from gateway.wording.scene import Scene


def prove_first(answer: ProveFirst, scene: Scene) -> str:
    """The number must be proved first: which words are to come back, and that nothing was switched."""
    at = clock(scene, answer.boat, answer.person)
    code = " ".join(capitals(word) for word in answer.words)
    why = "Nothing came from your number for 60 days" if answer.silent else "Nobody has proved your number yet"
    return fit(
        [
            boat(scene, answer.boat),
            thing(scene, answer.equipment, f": {{}} NOT {words_for(answer.action).undone}"),
            maybe(Worth.MEANING, f". {why}", ". Your number is not proved"),
            fixed(f". Reply PROVE {code} by {at.at(answer.expires)}{at.mark(answer.expires)}"),
            maybe(Worth.VALUE, ", then ask again"),
            maybe(Worth.NICETY, ". Nothing was switched"),
        ]
    )


def number_is_proved(_answer: NumberIsProved, _scene: Scene) -> str:
    """The right words came back. They switch nothing."""
    return fit([fixed("Your number is proved, it may command now. Nothing was switched. Ask again for what you want")])


def phone_lost_told(notice: PhoneLostTold, scene: Scene) -> str:
    """A phone commands nothing any more: told to whoever reported it, to the phone itself and to who can mend it."""
    who, by, help_ = first_name(scene, notice.who), first_name(scene, notice.by), _installer(notice.installers, scene)
    yours, mine = notice.who == notice.person, notice.by == notice.person
    whose = "your phone" if yours else f"{who}'s phone"
    reported = f"{whose} is reported lost" if mine else f"{by} reported {whose} lost" if notice.by != notice.who else ""
    cure = f". Not lost? Ring {help_}" if yours else f". {help_[:1].upper()}{help_[1:]} can give its commands back"
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": {reported or f'{who} reported the own phone lost'}. It commands nothing any more"),
            maybe(Worth.VALUE, ". Alarms still go to it"),
            maybe(Worth.MEANING, cure),
        ]
    )


def phone_not_taken(answer: PhoneNotTaken, scene: Scene) -> str:
    """A report that a phone is lost took nothing, and why."""
    who = first_name(scene, answer.who) if answer.who is not None else ""
    help_ = _installer(answer.installers, scene)
    match answer.cannot:
        case CannotReport.UNKNOWN:
            why, cure = "nobody of your boats is called that", "Write PHONE LOST and the first name"
        case CannotReport.LOST_ITSELF:
            why, cure = "your own phone is reported lost, it reports no other", f"Ring {help_}"
        case CannotReport.ALREADY:
            why, cure = f"{who}'s phone is reported lost already", f"It commands nothing till {help_} gives that back"
        case CannotReport.NO_RIGHTS:
            why, cure = f"{who}'s phone commands nothing anyway", "Alarms still go to it"
        case CannotReport.LAST:
            why = f"{who} is the last who may command here, so that stays"
            cure = f"Ring {help_}, who can change it"
    return fit(
        [
            boat(scene, answer.boat),
            fixed(f": {why}"),
            maybe(Worth.VALUE, ". Nothing was changed"),
            maybe(Worth.MEANING, f". {cure}"),
        ]
    )


def _installer(installers: tuple[str, ...], scene: Scene) -> str:
    return first_name(scene, installers[0]) if installers else "the installer"
