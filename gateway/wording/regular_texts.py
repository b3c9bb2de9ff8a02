"""The round, the weekly word and the digest. What no sensor reports is never called well: nothing here says "safe"."""

from gateway.alarms.life import ASIDE
from gateway.telling.notices import StatusOfAll
from gateway.telling.regular_notices import BoatInRound, DigestTold, RoundTold, WeeklyTold, WelcomeTold
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import HOUR
from gateway.wording.clocks import Clock, clock
from gateway.wording.fitting import Piece, Worth, fit, fixed, maybe, name, packed
from gateway.wording.names import SHORT_POINT, boat_short, first_name, point_name
from gateway.wording.scene import Scene
from gateway.wording.situations import boat_of

OLD = HOUR
"""A boat whose newest value is older than that is not called quiet (our choice: the longest report interval that is
usual of a boat at rest)."""


def round_told(notice: RoundTold, scene: Scene) -> str:
    """ "Round 08:00, 3 boats: SALT HARRIER 14 house bank low; LITTLE STINT NO DATA since 01:40; nothing open on 1"."""
    at = clock(scene, "", notice.person)
    before = [fixed(f"Round {at.at(scene.now)}, {_count(len(notice.boats), 'boat')}: ")]
    return _of_boats(notice.boats, before, [], scene, notice.person)


def status_of_all(notice: StatusOfAll, scene: Scene) -> str:
    """The same when it is asked for, and how the values of one boat are had."""
    at = clock(scene, "", notice.person)
    before = [fixed(f"{at.at(scene.now)}, {_count(len(notice.boats), 'boat')}: ")]
    after = [maybe(Worth.ADVICE, ". For the values text a boat's name and STATUS")]
    return _of_boats(notice.boats, before, after, scene, notice.person)


def weekly_told(notice: WeeklyTold, scene: Scene) -> str:
    """The same once a week, with how many points are watched, and when a call-out was last tried and taken."""
    at = clock(scene, "", notice.person)
    practised = at.at(notice.practised) if notice.practised is not None else "none on record"
    before = [fixed(f"Weekly word {at.at(scene.now)}: ")]
    after = [
        maybe(Worth.ADVICE, f". {_count(notice.watched, 'alarm point')} watched"),
        fixed(f". Last practice alarm: {practised}"),
    ]
    return _of_boats(notice.boats, before, after, scene, notice.person)


def welcome_told(notice: WelcomeTold, scene: Scene) -> str:
    """Which boats, what comes, what STOP does, whom to ask: what a person who agreed to be texted must know."""
    before = [fixed("This number texts you the alarms of ")]
    items = [[boat_short(scene, each)] for each in notice.boats]
    after = [
        fixed(", at any hour. Reply HAVE IT to take one"),
        maybe(Worth.MEANING, ", PHRASES for more"),
        fixed(". STOP ends ALL texts, alarms too"),
        maybe(Worth.ADVICE, f". Ask {first_name(scene, notice.who)}" if notice.who is not None else ""),
    ]
    return packed(before, items, after, " and {count} more") or fit([*before, fixed("your boats"), *after])


def _count(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _of_boats(
    boats: tuple[BoatInRound, ...], before: list[Piece], after: list[Piece], scene: Scene, person: str
) -> str:
    bad = [each for each in boats if each.situations or _unheard(each, clock(scene, each.boat, person))]
    quiet = [each for each in boats if each not in bad]
    items = [_bad(each, scene, clock(scene, each.boat, person)) for each in bad]
    if len(quiet) == 1:
        at = clock(scene, quiet[0].boat, person)
        heard = f", heard {at.told(quiet[0].heard)}" if quiet[0].heard is not None else ""
        rest = [boat_short(scene, quiet[0].boat), fixed(f" no alarm open{heard}")]
    else:
        rest = [fixed(f"no alarm open on {'the other ' if bad else ''}{len(quiet)}")] if quiet else []
    if not items:
        return fit([*before, *rest, *after, maybe(Worth.ADVICE, ". That is what sensors report, no more")])
    tail = [*([fixed("; "), *rest] if rest else []), *after]
    return packed(before, items, tail, " and {count} more: ALARMS", "; ") or fit([*before, *after])


def _bad(each: BoatInRound, scene: Scene, at: Clock) -> list[Piece]:
    pieces = [boat_short(scene, each.boat)]
    unheard = _unheard(each, at)
    pieces.append(fixed(unheard))
    for place, one in enumerate(each.situations[:3]):
        pieces += [fixed(f"{',' if place or unheard else ''} {one.number} ")]
        pieces += [name(point_name(scene, one.point), SHORT_POINT), _aside(one, at)]
    left = len(each.situations) - 3
    return [*pieces, fixed(f" and {left} more" if left > 0 else "")]


def _unheard(each: BoatInRound, at: Clock) -> str:
    """That nothing is known of her now, whatever alarms stand; "" when she was heard of late."""
    if each.silent_since is not None:
        return f" NO DATA since {at.told(each.silent_since)}"
    if each.heard is None:
        return " never heard"
    return f" last heard {at.told(each.heard)}" if at.now - each.heard > OLD else ""


def _aside(one: Situation, at: Clock) -> Piece:
    """What is out of service is named as that in every round (design rule 11)."""
    if one.state not in ASIDE:
        return fixed("")
    until = f" until {at.at(one.until)}" if one.until is not None else ""
    return Piece((f" ({one.state}{until})", f" ({one.state})"), (Worth.ADVICE,))


def digest_told(notice: DigestTold, scene: Scene) -> str:
    """The day's cautions: what stands since when, and what came and went."""
    at = clock(scene, "", notice.person)
    count = len(notice.situations)
    before = [fixed(f"Digest {at.at(scene.now)}, {_count(count, 'caution')}: ")]
    items = []
    for each in notice.situations:
        own = clock(scene, boat_of(each), notice.person)
        gone = ", came and went" if each.gone is not None else ""
        items.append(
            [
                boat_short(scene, boat_of(each)),
                fixed(f" {each.number} "),
                name(point_name(scene, each.point), SHORT_POINT),
                maybe(Worth.SINCE, f" since {own.told(each.since)}" if not gone else ""),
                fixed(gone),
            ]
        )
    stands = any(each.gone is None for each in notice.situations)
    after = [maybe(Worth.MEANING, ". Reply ALARMS for what stands" if stands else ". None of them stands now")]
    return packed(before, items, after, " and {count} more", "; ") or fit(before)
