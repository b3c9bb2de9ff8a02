"""Holding a file's values against its model, and saying in plain sentences what does not fit."""

import typing
from collections.abc import Mapping, Sequence
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from gateway.installation.findings import Findings, Placed
from gateway.installation.nearest import did_you_mean
from gateway.installation.set_right import set_right
from gateway.installation.slips import Slip

SECRETS = frozenset({"password", "token", "auth_token", "secret", "passphrase", "pass", "key"})
"""Names under which people write secrets into files (design rule 14: secrets never stand in the files)."""


class Strict(BaseModel):
    """Every table of every file: no unknown key, no silent change of a type."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


M = TypeVar("M", bound=Strict)

_PLAIN = {
    "string_type": ("is no text", "write it in quotation marks"),
    "int_type": ("is no whole number", "write a whole number without quotation marks"),
    "bool_type": ("is neither true nor false", "write true or false without quotation marks"),
    "list_type": ("is no list", 'write it in square brackets, such as ["one", "two"]'),
    "dict_type": ("is no table", "write it under a heading of its own, or in curly brackets"),
    "model_type": ("is no table", "write it under a heading of its own, or in curly brackets"),
    "decimal_type": ("is no number", "write a number without quotation marks"),
    "is_instance_of": ("is no number", "write a number without quotation marks"),
    "string_too_short": ("is empty", "write something"),
    "finite_number": ("is no number", "write a plain number"),
}


def shaped(model: type[M], values: Any, placed: Placed, path: Sequence[str | int], findings: Findings) -> M | None:
    """The values as the model. Every mistake is noted; then as much of them as can be looked at further, or None."""
    try:
        return model.model_validate(values)
    except ValidationError as refused:
        faults = refused.errors()
    for fault in faults:
        _explain(model, fault, placed, tuple(path), findings)
    findings.look_on(placed, ((*path, *fault["loc"]) for fault in faults))
    try:
        return model.model_validate(set_right(values, faults, "/".join(map(str, (placed.place(path)[0], *path)))))
    except ValidationError:
        return None


def _explain(
    model: type[Strict], error: Mapping[str, Any], placed: Placed, path: tuple[str | int, ...], findings: Findings
) -> None:
    kind, inner = error["type"], tuple(part for part in error["loc"])
    where = path + inner
    name = str(inner[-1]) if inner else ""
    fault = error.get("ctx", {}).get("error")
    if isinstance(fault, Slip):
        findings.slip(placed, where, fault)
    elif kind == "missing":
        example = _example(model, inner)
        findings.mistake(placed, where, "is missing", f"write {name} = {example}" if example else f"write {name} = ...")
    elif kind == "extra_forbidden" and name.lower() in SECRETS:
        secret = "token_from" if "token" in name.lower() else "password_from"
        remedy = f'take it out of the file and write {secret} = {{ variable = "NAME" }} or {{ file = "PATH" }}'
        findings.mistake(placed, where, "a secret must not stand in this file", remedy)
    elif kind == "extra_forbidden":
        findings.mistake(placed, where, "is not a known key", did_you_mean(name, _keys(model, inner)))
    elif kind in ("enum", "literal_error"):
        allowed = error["ctx"]["expected"].replace(" or ", ", ").replace("'", '"')
        findings.mistake(
            placed, where, f"is {_shown(error['input'])}, which is none of its values", f"write one of {allowed}"
        )
    else:
        problem, remedy = _PLAIN.get(kind, (f"does not fit ({error['msg']})", "mend the value"))
        example = _example(model, inner)
        findings.mistake(placed, where, problem, f"{remedy}: {name} = {example}" if example else remedy)


def _shown(value: object) -> str:
    return f'"{value}"' if isinstance(value, str) else str(value)


def _table_of(model: type[Strict], inner: Sequence[str | int]) -> type[Strict] | None:
    """The model of the table in which the last part of the path stands."""
    table: type[Strict] | None = model
    skip = False
    for part in inner[:-1]:
        if skip:
            skip = False
        elif table is None or part not in table.model_fields:
            return None
        else:
            annotation = table.model_fields[str(part)].annotation
            skip = typing.get_origin(annotation) in (dict, list)
            table = _model_in(annotation)
    return table


def _model_in(annotation: Any) -> type[Strict] | None:
    if isinstance(annotation, type) and issubclass(annotation, Strict):
        return annotation
    return next((found for part in typing.get_args(annotation) if (found := _model_in(part))), None)


def _keys(model: type[Strict], inner: Sequence[str | int]) -> list[str]:
    table = _table_of(model, inner)
    return list(table.model_fields) if table else []


def _example(model: type[Strict], inner: Sequence[str | int]) -> str:
    table = _table_of(model, inner)
    field = table.model_fields.get(str(inner[-1])) if table and inner else None
    return str(field.examples[0]) if field and field.examples else ""
