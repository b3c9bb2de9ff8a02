"""`heavingline reckon`: the sums at the bench. One command a sum, made from the sum's own description."""

import json
import re
from datetime import datetime, tzinfo
from typing import Any, NamedTuple, TypeAlias

import click

from gateway.installation.nearest import did_you_mean
from gateway.reckoning.answers import Due, Found, NoEnd, NotReckoned, Reckoned
from gateway.reckoning.asking import Choice, Input, Instant, Measure, Quantity, Result, Several, Sum, range_of, spaced
from gateway.reckoning.catalogue import SUMS
from gateway.reckoning.rounding import figures
from gateway.vocabulary.moments import Ms, as_utc, from_datetime, rfc3339

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)")
_FIGURES = 5
"""Beside the honest rounding the bench shows so many figures, for checking by hand (our choice)."""


class Given(NamedTuple):
    """One input as it was given. name: the option without dashes, text: exactly as written; value: what a sum takes."""

    name: str
    text: str
    value: Any


Inputs: TypeAlias = dict[str, Any]


def list_sums(*, as_json: bool) -> int:
    """Print every sum with its question; the exit code."""
    if as_json:
        click.echo(json.dumps([{"sum": found.name, "asks": found.asks} for found in SUMS.values()]))
        return 0
    width = max(map(len, SUMS))
    for found in SUMS.values():
        click.echo(f"{found.name:<{width}}  {found.asks}")
    return 0


def sum_command(name: str) -> click.Command:
    """The command for a sum. Raises click.UsageError, with the nearest name, when there is no such sum."""
    found = SUMS.get(name)
    if found is None:
        raise click.UsageError(f"there is no sum {name!r}; {did_you_mean(name, SUMS)} `--list` tells what each is for.")

    def reckon(as_json: bool, **options: Any) -> None:
        raise SystemExit(_reckon(found, options, as_json=as_json))

    return click.Command(
        found.name,
        callback=reckon,
        params=[
            *(option for taken in found.takes for option in _options(taken)),
            click.Option(["--json", "as_json"], is_flag=True, help="For programs: one JSON object."),
        ],
        help=f"{found.asks}\n\nFormula: {found.formula}.",
        short_help=found.asks,
    )


def _options(taken: Input) -> list[click.Option]:
    """The options of one input: one, and one more for each other unit."""
    if isinstance(taken, Quantity):
        ways: list[Measure | None] = [None, *taken.also]
        return [_number_option(taken, measure) for measure in ways]
    if isinstance(taken, Choice):
        usual = "" if taken.usual is None else f" Usual: {taken.usual}."
        choices = click.Choice([str(option) for option in taken.options], case_sensitive=False)
        return [click.Option([_flag(taken.key), taken.key], type=choices, help=f"{_begin(taken.words)}.{usual}")]
    if isinstance(taken, Instant):
        words = f"{_begin(taken.words)}, as 2026-03-09T02:00+01:00."
        return [click.Option([_flag(taken.key), taken.key], metavar="TIME", help=words)]
    words = f"{_begin(taken.words)}; once for each, {taken.least} or more."
    names = ",".join(part.key for part in taken.parts).upper()
    return [click.Option([_flag(taken.key), taken.key], multiple=True, metavar=names, help=words)]


def _number_option(quantity: Quantity, measure: Measure | None) -> click.Option:
    key = quantity.key if measure is None else measure.key
    words = f"{_begin(quantity.words)}, {range_of(quantity, measure)}."
    if measure is None and quantity.usual is not None:
        words += f" Usual: {quantity.usual:g}."
    return click.Option([_flag(key), key], metavar="NUMBER", help=words)


def _flag(key: str) -> str:
    return f"--{key.replace('_', '-')}"


def _begin(words: str) -> str:
    return words[:1].upper() + words[1:]


# ---------------------------------------------------------------- reading what was given


def _reckon(asked: Sum, options: Inputs, *, as_json: bool) -> int:
    missing = [taken for taken in asked.takes if _is_missing(taken, options)]
    if missing:
        raise click.UsageError("Give " + "; ".join(map(_wanted, missing)) + ".")
    given: dict[str, Given] = {}
    values: Inputs = {}
    for taken in asked.takes:
        found = _read(taken, options)
        if found is not None:
            given[taken.key] = found
        values[taken.key] = None if found is None else found.value
    zone = next((datetime.fromisoformat(given[i.key].text).tzinfo for i in _instants(asked) if i.key in given), None)
    results = asked.reckon(**values)
    for result in results:
        if isinstance(result.answer, NotReckoned) and result.answer.wrong_input:
            key = result.answer.wrong_input
            raise click.BadParameter(result.answer.because, param_hint=_flag(given[key].name if key in given else key))
    if as_json:
        click.echo(json.dumps(_object(asked, given, results)))
    else:
        _print(asked, given, results, zone)
    return 1 if any(isinstance(result.answer, NotReckoned) for result in results) else 0


def _instants(asked: Sum) -> list[Instant]:
    return [taken for taken in asked.takes if isinstance(taken, Instant)]


def _ways(taken: Input) -> list[str]:
    return [taken.key, *(measure.key for measure in taken.also)] if isinstance(taken, Quantity) else [taken.key]


def _is_missing(taken: Input, options: Inputs) -> bool:
    if isinstance(taken, Several):
        return len(options[taken.key]) < taken.least
    return taken.needed and taken.usual_text is None and all(options[way] is None for way in _ways(taken))


def _wanted(taken: Input) -> str:
    ways = " or ".join(map(_flag, _ways(taken)))
    if isinstance(taken, Several):
        return f"{ways} {taken.least} times or more ({taken.words})"
    return f"{ways} ({taken.words})"


def _read(taken: Input, options: Inputs) -> Given | None:
    """What was given for an input, else the usual, else None."""
    if isinstance(taken, Several):
        groups = options[taken.key]
        return Given(taken.key, "  ".join(groups), tuple(_group(taken, group) for group in groups))
    named = [way for way in _ways(taken) if options[way] is not None]
    if len(named) > 1:
        raise click.UsageError(f"{' and '.join(map(_flag, named))} say the same thing twice. Give one of them.")
    name = named[0] if named else taken.key
    text = options[name] if named else taken.usual_text
    if text is None:
        return None
    if isinstance(taken, Quantity):
        measure = next((measure for measure in taken.also if measure.key == name), None)
        return Given(name, text, _number(taken, measure, text, _flag(name)))
    return Given(name, text, _instant(name, text) if isinstance(taken, Instant) else text)


def _number(quantity: Quantity, measure: Measure | None, text: str, hint: str) -> float:
    """A number in the quantity's own unit, within its range. Raises click.BadParameter."""
    if not _NUMBER.fullmatch(text.strip()):
        raise click.BadParameter(f"{text!r} is no number. Write it like 12.5, without the unit.", param_hint=hint)
    value = float(text) * (1 if measure is None else measure.factor)
    if not quantity.holds(value):
        unit = quantity.unit if measure is None else measure.unit
        raise click.BadParameter(
            f"{quantity.words} is {text}{spaced(unit)}; {range_of(quantity, measure)} can be reckoned with.",
            param_hint=hint,
        )
    return value


def _group(taken: Several, text: str) -> tuple[float, ...]:
    pieces = text.split(",")
    if len(pieces) != len(taken.parts):
        raise click.BadParameter(f"{text!r}: write {taken.words}.", param_hint=_flag(taken.key))
    pairs = zip(taken.parts, pieces, strict=True)
    return tuple(_number(part, None, piece, _flag(taken.key)) for part, piece in pairs)


def _instant(name: str, text: str) -> Ms:
    try:
        return from_datetime(datetime.fromisoformat(text))
    except ValueError as wrong:
        raise click.BadParameter(
            f"{text!r} is no time with a zone. Write it like 2026-03-09T02:00+01:00 or 2026-03-09T01:00Z.",
            param_hint=_flag(name),
        ) from wrong


# ---------------------------------------------------------------- saying what came out


def _print(asked: Sum, given: dict[str, Given], results: tuple[Result, ...], zone: tzinfo | None) -> None:
    click.echo(asked.asks)
    for taken in asked.takes:
        if taken.key in given:
            found = given[taken.key]
            click.echo(f"  {_flag(found.name)} {found.text}  ({taken.words})")
    for result in results:
        click.echo(f"{result.name}: {_said(result, zone)}")
    click.echo(f"Formula: {asked.formula}")
    click.echo(f"Source: {asked.source}")
    click.echo(f"Caution: {asked.caution}")


def _said(result: Result, zone: tzinfo | None) -> str:
    answer = result.answer
    if isinstance(answer, Reckoned):
        return f"{answer.said} (reckoned: {figures(answer.value, _FIGURES):f}{spaced(answer.unit)})"
    if isinstance(answer, Due):
        return f"about {as_utc(answer.instant).astimezone(zone).isoformat(sep=' ', timespec='minutes')}"
    if isinstance(answer, Found):
        return answer.words
    return answer.because if isinstance(answer, NoEnd) else f"not reckoned: {answer.because}"


def _object(asked: Sum, given: dict[str, Given], results: tuple[Result, ...]) -> dict[str, object]:
    return {
        "sum": asked.name,
        "inputs": {found.name: found.text for found in given.values()},
        "results": [{"name": result.name, **_plain(result)} for result in results],
        "formula": asked.formula,
        "source": asked.source,
        "caution": asked.caution,
    }


def _plain(result: Result) -> dict[str, object]:
    answer = result.answer
    if isinstance(answer, Reckoned):
        return {"value": answer.value, "unit": answer.unit, "shown": f"{answer.shown:f}", "said": answer.said}
    if isinstance(answer, Due):
        return {"at": rfc3339(answer.instant)}
    if isinstance(answer, Found):
        return {"found": answer.words}
    return {"no_end": answer.because} if isinstance(answer, NoEnd) else {"not_reckoned": answer.because}
