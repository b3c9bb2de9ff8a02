"""Texts about texts: whom they do not reach, what was not told meanwhile, and a phone that is reached again."""

from gateway.telling.trouble_notices import (
    CarrierStuck,
    NotReached,
    OptOutSeen,
    ReachableAgain,
    TrialText,
    UntoldMeanwhile,
)
from gateway.wording.fitting import Worth, clipped, fit, fixed, maybe, packed, tidy
from gateway.wording.names import boat, first_name
from gateway.wording.scene import Scene


def opt_out_seen(notice: OptOutSeen, scene: Scene) -> str:
    """A number has opted out: only its own phone can undo that (the carrier's rule)."""
    if notice.who == notice.person:
        words = "this number has opted out, alarms can't reach it. Text START from it, then tell the installer"
        return fit([boat(scene, notice.boat), fixed(f": {words}")])
    who = first_name(scene, notice.who)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": {who}'s phone has opted out, no alarm reaches {who} by text"),
            maybe(Worth.MEANING, f". Ring {who}: only that phone can undo it, by texting START here"),
        ]
    )


def trial_text(notice: TrialText, scene: Scene) -> str:
    """Sent to a phone that had opted out, once it has opted in again."""
    return fit(
        [
            boat(scene, notice.boat),
            fixed(": test text. Once it has arrived, alarms are texted to this phone again"),
            maybe(Worth.ADVICE, ". No reply needed"),
        ]
    )


def reachable_again(notice: ReachableAgain, scene: Scene) -> str:
    """A phone that had opted out gets texts again."""
    who = first_name(scene, notice.who)
    return fit([boat(scene, notice.boat), fixed(f": {who}'s phone gets alarms by text again, a test text arrived")])


def untold_meanwhile(notice: UntoldMeanwhile, scene: Scene) -> str:
    """Alarms came and went untold while the carrier was away."""
    before = [
        boat(scene, notice.boat),
        fixed(": no text could be sent for a while. What came meanwhile is over or taken: alarm "),
    ]
    items = [[fixed(str(number))] for number in notice.numbers]
    after = [fixed(". The record has the rest"), maybe(Worth.ADVICE, ". Reply ALARMS for those that stand")]
    return packed(before, items, after, " and {count} more") or fit(before)


def carrier_stuck(notice: CarrierStuck, scene: Scene) -> str:
    """An alarm's text does not go."""
    who = "you" if notice.who == notice.person else first_name(scene, notice.who)
    before = [boat(scene, notice.boat), fixed(f": the carrier does not take the text to {who} of alarm ")]
    items = [[fixed(str(number))] for number in notice.numbers]
    return packed(before, items, [fixed(". It is tried again. Look after it yourself")], " and {count} more") or fit(
        before
    )


def not_reached(notice: NotReached, scene: Scene) -> str:
    """A text was refused by the carrier, or did not arrive. Its code is a number; our own words are none of its."""
    who = "you" if notice.who == notice.person else first_name(scene, notice.who)
    code = clipped(tidy(notice.code), 16)
    return fit(
        [
            boat(scene, notice.boat),
            fixed(f": a text to {who} was NOT taken by the carrier"),
            maybe(Worth.ADVICE, f" (its code {code})" if code.isdigit() else ""),
            fixed(f". Don't count on {who} having read it" if who != "you" else ". Alarms may not reach you"),
            maybe(Worth.MEANING, f": ring {who}" if who != "you" else ""),
        ]
    )
