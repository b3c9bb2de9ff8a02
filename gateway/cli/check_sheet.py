"""What `heavingline check` prints of an installation that is well: plain text for any terminal, without colour.

Times of rounds stand as the files have them; a table's columns are people, its lines alarm points.
"""

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from gateway.installation.describing import Told
from gateway.installation.describing_switching import ALWAYS, Switching
from gateway.installation.differing import Difference
from gateway.installation.lengths import spelt
from gateway.installation.not_watched import NotWatched
from gateway.installation.texts_cost import Cost, TextLength
from gateway.requests.answers import Rule
from gateway.telling.settings import Pacing
from gateway.vocabulary.moments import MINUTE, Ms

Lines = Iterator[str]

WIDTH = 110
"""Characters of a line that can be wrapped: our choice, as wide as the usual table above it."""


def told_lines(rows: Sequence[Told], then: str = "") -> Lines:
    """Who is told of what, when and how: a table for each boat. then: the hour and the way of keeping the boats that it
    is of, "" for all of it side by side."""
    hour = f"{then}:" if then else "at every hour of every day:"
    yield f"Who is told, how many minutes after the alarm is raised, until somebody has it, {hour}"
    marks = "by text; * by a call as well; ** by a call alone; "
    if then:
        yield marks + "... waits for the end of the person's quiet hours."
    elif any(row.at_times for row in rows):
        yield marks + "(in brackets) only while on duty;"
        yield "[so] only at some hours or while the boat is kept in some way: see callout.toml, or --at for one hour."
    else:
        yield marks + "(in brackets) only while on duty."
    for boat, of_boat in groupby(rows, key=lambda row: row.boat):
        table = list(of_boat)
        people = list(dict.fromkeys(person for row in table for person in row.told))
        yield f"  {boat}"
        lines = [["priority", "alarm", *people, "then all every"]]
        for row in table:
            kept = f" (only {', '.join(row.attendance)})" if row.attendance else ""
            cells = [_rounds(row, person) for person in people]
            lines.append([row.priority, row.name + kept, *cells, "-" if row.again is None else _minutes(row.again)])
        yield from _table(lines, "    ")


def _rounds(row: Told, person: str) -> str:
    """Minutes of the rounds to one person, marked as the heading says; "-" for none."""
    said = []
    for after in row.told.get(person, ()):
        called, alone = after in row.called.get(person, ()), after in row.call_alone.get(person, ())
        marked = _minutes(after) + ("**" if alone else "*" if called else "")
        marked = f"({marked})" if after in row.on_duty.get(person, ()) else marked
        marked = f"[{marked}]" if after in row.at_times.get(person, ()) else marked
        said.append(f"{marked}..." if person in row.waiting else marked)
    return ", ".join(said) or "-"


def unheeded_lines(rows: Sequence[Told]) -> Lines:
    """What follows when nobody takes a warning, or when who has an alarm gives no word."""
    yield "What follows when nothing is done (as handbook 2.3 has it where the files do not say):"
    for boat, of_boat in groupby(rows, key=lambda row: row.boat):
        table = list(of_boat)
        yield f"  {boat}"
        for after in sorted({row.asked_again for row in table if row.asked_again is not None}):
            whose = ", ".join(_those(table, after))
            yield from wrapped(f"who has it is asked again after {spelt(after)} without a word: {whose}", "    ")
        warnings = [row for row in table if row.priority == "warning"]
        for after in sorted({row.becomes_alarm for row in warnings if row.becomes_alarm is not None}):
            names = [row.name for row in warnings if row.becomes_alarm == after]
            yield from wrapped(f"becomes an alarm when nobody takes it in {spelt(after)}: {', '.join(names)}", "    ")
        never = [row.name for row in warnings if row.becomes_alarm is None]
        if never:
            yield from wrapped(f"stays a warning, whoever is silent: {', '.join(never)}", "    ")


def _those(rows: Sequence[Told], after: Ms) -> Iterator[str]:
    """Whose holder is asked again after so long: a whole priority in one word, else the alarms' names."""
    for priority in dict.fromkeys(row.priority for row in rows):
        of_it = [row for row in rows if row.priority == priority]
        those = [row.name for row in of_it if row.asked_again == after]
        if those:
            yield f"every {priority}" if len(those) == len(of_it) else ", ".join(those)


def proving_lines(rows: Sequence[Told]) -> Lines:
    """How each alarm is proved, as the installer wrote it; nothing where nobody wrote any."""
    written = [row for row in rows if row.test]
    if not written:
        return
    yield "How each alarm is proved (make the real condition where that hurts nobody; see each text arrive):"
    for boat, of_boat in groupby(written, key=lambda row: row.boat):
        yield f"  {boat}"
        for row in of_boat:
            yield from wrapped(f"{row.name}: {row.test}", "    ")
    yield ""


def _who(row: Switching) -> Lines:
    """Those with the right, with the hours of those who have it at some hours only."""
    for person in row.who:
        times = " and ".join(row.only_at.get(person, ()))
        yield f"{person} ({times})" if times else person


def switching_lines(rows: Sequence[Switching]) -> Lines:
    """Who may switch what, when, behind which interlocks."""
    yield "Who may switch what, when, behind what (asked when a text asks for it, and again when its code comes back):"
    yield "  Always: link up, boat heard, its state fresh, nothing of it under way, no gas or fire alarm, lock-out off."
    yield "  To bring it to life: no carbon monoxide alarm either."
    for boat, of_boat in groupby(rows, key=lambda row: row.boat):
        yield f"  {boat}"
        for row in of_boat:
            who = ", ".join(_who(row)) or "nobody"
            when = f"{row.hours}" if row.hours else "at any time"
            run = f", at most {spelt(row.longest)}" if row.longest else ""
            run += f", {spelt(row.unasked)} when no time is asked" if row.unasked else ""
            yield from wrapped(f"{row.name} {row.action}: {who}; {when}{run}.", "    ")
            if not any(need.rule is Rule.GAS_OR_FIRE for need in row.needs):
                yield "      under a gas or fire alarm as well"
            needs = [need.says for need in row.needs if need.rule not in ALWAYS]
            if needs:
                yield from wrapped(f"needs: {'; '.join(needs)}", "      ")


def limit_lines(pacing: Pacing) -> Lines:
    """The most that goes to one person, by one boat, by all boats."""
    one = (
        f"to one person {pacing.alarm_repeats_an_hour} repeats of alarms an hour, {pacing.warnings_an_hour} warnings "
        f"and cautions an hour and {pacing.warnings_a_day} a day"
    )
    all_of_them = f"of all these {pacing.boat_a_day} a day by one boat and {pacing.all_boats_a_day} by all boats"
    yield "At most (an emergency and the first text of an alarm always go, and count towards nothing):"
    yield from wrapped(f"{one}; {all_of_them}. What a limit holds back is said in the next text.", "  ")


def cost_lines(lengths: Sequence[TextLength], costs: Sequence[Cost]) -> Lines:
    """In how many parts each kind of text goes out, and what that costs where gateway.toml has a price."""
    yield "Texts of each kind with the longest names here, and the septets of the 160 of one part that they take:"
    for count in sorted({one.parts for one in lengths}):
        kinds = [f"{one.kind} {one.septets}" for one in lengths if one.parts == count]
        yield from wrapped(f"{_parts(count)}: {', '.join(kinds)}", "  ")
    for one in costs:
        said = (
            f'by carrier "{one.carrier}" a part costs {one.part:f} {one.currency} (your contract), the longest text '
            f"{one.longest:f}; the worst night that the limits let out {one.boat_day:f} {one.currency} by one boat, "
            f"{one.all_day:f} by all; emergencies, first texts of alarms, and calls come on top"
        )
        yield from wrapped(said, "  ")
    if not costs:
        yield '  No price is known: write price_per_part = "0.04 GBP" as your contract has it under [carrier.NAME].'


def _parts(count: int) -> str:
    return "1 part" if count == 1 else f"{count} parts"


def mail_lines(addressed: Sequence[str]) -> Lines:
    """Who hears of the gateway's own trouble by mail. addressed: names."""
    if addressed:
        yield f"Trouble of the gateway itself goes by text, and at once by mail to: {', '.join(addressed)}."
        return
    yield "Trouble of the gateway itself goes by text alone: without [mail] in gateway.toml and an installer's address"
    yield "in people.toml (mail = ...) nobody hears that texts do not go before they go again."


_HEADINGS = {
    "hazard": "no alarm for",
    "signal": "",
    "silence": "an emergency rests on it or it is a detector, and its own silence is not told",
}


def not_watched_lines(rows: Sequence[NotWatched]) -> Lines:
    """What is not watched, a line for each reason."""
    yield "Not watched (which hazard an alarm tells of is taken from `concerns`, else from its name):"
    for boat, of_boat in groupby(rows, key=lambda row: row.boat):
        yield f"  {boat}"
        grouped: dict[str, list[str]] = {}
        for row in of_boat:
            heading = _HEADINGS[row.kind] or f"heard {row.why}"
            if row.kind == "hazard" and "handbook" not in row.why:
                heading = f"no alarm, and {row.why}: for"
            grouped.setdefault(heading, []).append(row.what)
        for heading, what in grouped.items():
            yield from wrapped(f"{heading}: {', '.join(what)}", "    ")


def difference_lines(rows: Sequence[Difference], old: str, new: str) -> Lines:
    """What changes, place by place."""
    if not rows:
        yield f"Nothing changes from {old} to {new}."
        return
    yield f"What changes from {old} to {new}:"
    for where, of_place in groupby(rows, key=lambda row: row.where):
        yield f"  {where}"
        for row in of_place:
            if row.old is None:
                yield f"    {row.what}: new ({row.new})"
            elif row.new is None:
                yield f"    {row.what}: gone ({row.old})"
            else:
                yield f"    {row.what}: {row.old} -> {row.new}"


def wrapped(text: str, margin: str) -> Iterable[str]:
    """A line as several, those behind the first set in."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=margin,
        subsequent_indent=f"{margin}  ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def _minutes(length: Ms) -> str:
    return str(length // MINUTE) if length % MINUTE == 0 else spelt(length)


def _table(lines: Sequence[Sequence[str]], margin: str) -> Iterable[str]:
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    for line in lines:
        yield margin + "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
