"""What a boat's own sums say, in words (handbook 4), fullest first; where there is no sum, what is missing."""

from collections.abc import Callable, Mapping

from gateway.reckoning.own_sums import Reckons
from gateway.telling.situation import Ahead
from gateway.wording.clocks import Clock
from gateway.wording.fitting import Piece, Worth, clipped, fixed
from gateway.wording.names import small, spoken

Forms = tuple[str, ...]


def ahead_sentence(ahead: Ahead | None, clock: Clock, measured: str = "") -> Piece:
    """ ". Bilge: about 160 L/h come in, its pump moves 11 times that", shortened, then dropped. measured: what the text
    says of the alarm itself; the same rate or distance is
    not said twice."""
    if ahead is None:
        return fixed("")
    told = f"about {measured.removesuffix(' off')} from her place" if measured.endswith(" m off") else measured
    once = dict.fromkeys(form.replace(f": {told}, ", ": ") for form in ahead_forms(ahead, clock))
    forms = [f". {form[:1].upper()}{form[1:]}" for form in once if not form.endswith(f": {told}")]
    if not forms:
        return fixed("")
    return Piece((*forms, ""), (*[Worth.ADVICE] * (len(forms) - 1), Worth.MEANING))


def ahead_forms(ahead: Ahead, clock: Clock) -> Forms:
    """The forms, fullest first, each with the sum's own name before it."""
    called = clipped(small(spoken(ahead.sum)), 24)
    if ahead.missing:
        return (f"{called}: not reckoned, {ahead.missing}", f"{called}: not reckoned")
    return tuple(f"{called}: {form}" for form in _KINDS[ahead.reckons](ahead, clock))


def _bilge(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    if "floods" in says:
        return (says["floods"], says["floods"].partition(":")[0])
    if "quiet" in says:
        return (f"its pump has not run for {says['quiet']}",)
    keeps = f"{says['inflow']} come in, its pump moves {says['margin']} times that"
    high = (f"{keeps}; if it stops, high water in {says['high']}",) if "high" in says else ()
    return (*high, keeps, f"{says['inflow']} come in")


def _tank(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    if "rate" not in says:
        return (says["steady"],)
    until = f", {says['until']} in {says['left']}" if "left" in says else ""
    flow = (f"{says['rate']} ({says['flow']}){until}",) if "flow" in says else ()
    shortest = until.removeprefix(", ") or says["rate"]
    return (*flow, f"{says['rate']}{until}", shortest)


def _fuel(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    return (f"{says['left']} of running down to {says['until']}", f"{says['left']} of running")


def _cold(ahead: Ahead, clock: Clock) -> Forms:
    if ahead.at is None:
        return (f"cooled, {ahead.says['well']}",)
    when = f"past since {clock.at(ahead.at)}" if ahead.says["past"] else f"about {clock.at(ahead.at)}"
    return (f"{ahead.says['rule']} {when}",)


def _monoxide(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    if "low" in says:
        return (f"{says['level']}, under {says['low']}, which is no all-clear", f"{says['level']}, no all-clear")
    for_so_long = f"{says['level']} or more for {says['held']}"
    if "must" in says:
        return (
            f"{for_so_long}: {_a(says['must'])} detector must have alarmed",
            f"{says['level']}: detector is overdue",
        )
    quiet = f"{for_so_long}: {_a(says['quiet'])} detector may still be quiet"
    return (quiet, f"{says['level']}: detector may still be quiet")


def _a(standard: str) -> str:
    """ "an EN-50291", "a UL-2034", as it is spoken."""
    return f"an {standard}" if standard.startswith("E") else f"a {standard}"


def _drift(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    off = f"{says['off']} from her place"
    if "out" in says:
        return (f"{off}, {says['out']} further out", off)
    if "in" in says:
        return (f"{off}, {says['in']} nearer", off)
    return (f"{off}, {says.get('still') or says['unknown']}", off)


def _dew(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    point = f"dew point {says['point']}"
    if "surface" not in says:
        return (point,)
    does = "gets wet" if "wet" in says else "may get wet" if "near" in says else "stays dry"
    return (f"{point}, {says['surface']} surface {does}", point)


def _frost(ahead: Ahead, _: Clock) -> Forms:
    says = ahead.says
    if "frozen" in says:
        return (f"it freezes, {says['frozen']}",)
    if "rate" not in says:
        return (says["steady"],)
    return (f"{says['rate']}, 0 C in {says['left']}", f"0 C in {says['left']}") if "left" in says else (says["rate"],)


_KINDS: Mapping[Reckons, Callable[[Ahead, Clock], Forms]] = {
    Reckons.BILGE: _bilge,
    Reckons.TANK: _tank,
    Reckons.FUEL: _fuel,
    Reckons.COLD: _cold,
    Reckons.CO: _monoxide,
    Reckons.DRIFT: _drift,
    Reckons.DEW: _dew,
    Reckons.FROST: _frost,
}
