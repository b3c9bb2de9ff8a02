"""Texts about several boats or many alarms at once: how many, the worst first, how to see all and how to take them.

Never with an emergency among them. What a text names by number is what "have it" to it takes, and never more; a matter
that boats share is named as a whole, so that its text stands for every boat that it counts.
"""

from collections.abc import Sequence

from gateway.alarms.life import AlarmState
from gateway.telling.notices import AlarmTold, FloodTold, GroupTaken, SharedGone, SharedTold
from gateway.telling.situation import Situation
from gateway.wording.alarm_texts import several
from gateway.wording.cautions import on_arrival
from gateway.wording.clocks import Clock, clock
from gateway.wording.fitting import Piece, Worth, clipped, fit, fixed, maybe, name, packed_so_far, shortening, tidy
from gateway.wording.names import SHORT_POINT, boat_name, boat_short, first_name, point_name, point_of
from gateway.wording.scene import Scene
from gateway.wording.situations import said_together, severity, worst_first

KINDS = {"link": "Link", "supply": "Shore supply", "berth": "Berth"}
"""How what is shared is called at the head of a text."""

LONGEST_SHARED = 30
"""Septets of a shared name at the most (our choice: a third of what stands before the boats)."""

MORE = " and {count} more"


def named_by(notice: AlarmTold | SharedTold | FloodTold, scene: Scene) -> tuple[int, ...]:
    """The numbers that "have it" to this text takes."""
    if isinstance(notice, SharedTold):
        return tuple(each.number for each in worst_first(scene, notice.situations))
    if isinstance(notice, FloodTold):
        shown = _flood(notice, scene)[1]
    else:
        shown = several(notice, scene, clock(scene, notice.boat, notice.person))[1]
    return tuple(each.number for each in worst_first(scene, notice.situations)[:shown])


def shared_told(notice: SharedTold, scene: Scene) -> str:
    """ "Link Tarn Creek mast: boat silent on 40 boats since 03:04: ..., HAVE IT for all 40"."""
    situations = worst_first(scene, notice.situations)
    at = _clock(notice.person, situations, scene)
    still = " still" if notice.again else ""
    first = min(each.since for each in situations)
    head = [_shared(notice), *_what(situations, scene, still, how_bad=True)]
    since = f" since {at.told(first)}"
    count = len(situations)
    after = [
        maybe(Worth.MEANING, ". Likely one cause ashore", ". Likely one cause"),
        Piece(
            (f". Reply HAVE IT for all {count}, ALARMS to see them", f". Reply HAVE IT for all {count} or ALARMS"),
            (Worth.VALUE,),
        ),
    ]
    items = _items(situations, scene, named=not _alike(situations, scene))
    text = packed_so_far([*head, fixed(f"{since}: ")], items, lambda _: after, MORE)[0]
    return text or _said([*head, maybe(Worth.SINCE, since), fixed(": ")], items, after)


def shared_gone(notice: SharedGone, scene: Scene) -> str:
    """The same is over; what nobody had stands until somebody says so."""
    situations = worst_first(scene, notice.situations)
    at = _clock(notice.person, situations, scene)
    gone = max(each.gone or scene.now for each in situations)
    stand = sum(each.state is not AlarmState.NORMAL for each in situations)
    before = [_shared(notice), *_what(situations, scene, ""), fixed(f", now OK since {at.told(gone)}: ")]
    after = [fixed(f". Nobody had {stand} of them: reply HAVE IT to close" if stand else ". All closed")]
    return _said(before, _items(situations, scene, named=False), after)


def flood_told(notice: FloodTold, scene: Scene) -> str:
    """ "12 alarms on 3 boats, worst first: ..."."""
    return _flood(notice, scene)[0]


def _flood(notice: FloodTold, scene: Scene) -> tuple[str, int]:
    situations = worst_first(scene, notice.situations)
    count, boats = len(situations), len({_boat_of(each) for each in situations})
    where = f"on {boats} boats" if boats > 1 else f"on {clipped(boat_name(scene, _boat_of(situations[0])), 20)}"
    alike = boats > 1 and _alike(situations, scene)
    called = [fixed(", all "), name(point_name(scene, situations[0].point), SHORT_POINT)] if alike else []
    before = [
        fixed(f"{count} {said_together(scene, situations)} {where}"),
        *called,
        maybe(Worth.NICETY, ", worst first"),
        fixed(": "),
    ]
    items = _items(situations, scene, named=not alike, boats=boats > 1)

    def after(shown: int) -> Sequence[Piece]:
        if shown == count:
            return [fixed(f". Reply HAVE IT for all {count}")]
        return [
            Piece(
                (
                    f". Reply HAVE IT for the {shown} named, ALARMS to see more",
                    f". Reply HAVE IT for these {shown}, or ALARMS",
                ),
                (Worth.VALUE,),
            )
        ]

    text, shown = packed_so_far(before, items, after, MORE, "; ")
    return text or fit([*before[:1], fixed(". Reply ALARMS")]), shown


def group_taken(notice: GroupTaken, scene: Scene) -> str:
    """Somebody has several: to the taker with what to mind before boarding, to the others once."""
    situations = worst_first(scene, notice.situations)
    own = notice.holder == notice.person
    count = len(situations)
    before = [
        fixed(f"{count} alarms are yours: " if own else f"{first_name(scene, notice.holder)} has {count} alarms: ")
    ]
    after = (
        [Piece((f". {_others(notice.left)} NOT taken, reply ALARMS", f". {notice.left} NOT taken"), (Worth.VALUE,))]
        if notice.left and own
        else []
    )
    if own:
        worst = next((each for each in situations if _arrival(each, scene)), None)
        after += _arrival(worst, scene) if worst is not None else []
    else:
        after.append(maybe(Worth.MEANING, ". No more reminders of them for now"))
    named = _items(situations, scene, named=True)
    text, shown = packed_so_far(before, named, lambda _: after, MORE)  # what each is, if all of them can be said so
    return text if text and shown == count else _said(before, _items(situations, scene, named=False), after)


def _others(count: int) -> str:
    return "1 other" if count == 1 else f"{count} others"


def _arrival(situation: Situation, scene: Scene) -> list[Piece]:
    return on_arrival(point_of(scene, situation.point), scene.boats.get(_boat_of(situation)))


def _shared(notice: SharedTold | SharedGone) -> Piece:
    called = clipped(tidy(notice.name), LONGEST_SHARED)
    return shortening(Worth.NAME, f"{KINDS[notice.kind]} {called}", f"{KINDS[notice.kind]} {clipped(called, 16)}")


def _alike(situations: Sequence[Situation], scene: Scene) -> bool:
    return len({point_name(scene, each.point) for each in situations}) == 1


def _what(situations: Sequence[Situation], scene: Scene, still: str, *, how_bad: bool = False) -> list[Piece]:
    boats, worst = len({_boat_of(each) for each in situations}), situations[0]
    if _alike(situations, scene):
        called = point_name(scene, worst.point)
        bad = [severity(point_of(scene, worst.point), worse=worst.worse, worth=Worth.MEANING)] if how_bad else []
        return [*bad, fixed(f":{still} "), name(called, SHORT_POINT), fixed(f" on {boats} boats")]
    return [fixed(f":{still} {len(situations)} {said_together(scene, situations)} on {boats} boats")]


def _items(situations: Sequence[Situation], scene: Scene, *, named: bool, boats: bool = True) -> list[list[Piece]]:
    """Each with its boat, number and, where they differ, its name: "GREY WAGTAIL 1 shore power lost"."""
    items = []
    for each in situations:
        pieces = [boat_short(scene, _boat_of(each)), fixed(f" {each.number}")] if boats else [fixed(f"{each.number}")]
        if named:
            pieces += [fixed(" "), name(point_name(scene, each.point), SHORT_POINT)]
        items.append(pieces)
    return items


def _said(before: Sequence[Piece], items: Sequence[Sequence[Piece]], after: Sequence[Piece]) -> str:
    text = packed_so_far(before, items, lambda _: after, MORE)[0]
    return text or fit([*before, *after])


def _boat_of(situation: Situation) -> str:
    return situation.point.partition("/")[0]


def _clock(person: str, situations: Sequence[Situation], scene: Scene) -> Clock:
    return clock(scene, _boat_of(situations[0]), person)
