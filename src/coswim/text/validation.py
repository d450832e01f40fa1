"""From a document to a model: pydantic's errors become problems with file, line and column."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from coswim.text.document import Path_, YamlDocument
from coswim.text.fields import model_in
from coswim.text.printable import quoted
from coswim.text.problems import InputProblems, Problem, did_you_mean

MOST_OFFERS = 200
"""Unknown keys for which a known one is looked for; more problems than that are a flood. Source: judgement."""
LEFT_OPEN = frozenset({"unknown", "not known", "?", "n/a", "none known"})
"""What is written for a value that is not known."""
ModelT = TypeVar("ModelT", bound=BaseModel)


def validate(document: YamlDocument, model: type[ModelT]) -> ModelT:
    """The document as `model`, or all its problems at once."""
    if document.is_empty:
        keys = ", ".join(_required(model))
        raise InputProblems([Problem(document.file, 1, 1, "", f"is empty; wanted keys: {keys}")])
    if not isinstance(document.data, dict):
        raise InputProblems([document.problem((), f"must be a mapping with the keys {', '.join(_required(model))}")])
    try:
        return model.model_validate(document.data)
    except ValidationError as error:
        raise InputProblems(_problems(error, document, model)) from None


def _problems(error: ValidationError, document: YamlDocument, model: type[BaseModel]) -> Iterator[Problem]:
    details = error.errors(include_url=False)
    paths = [tuple(detail["loc"]) for detail in details]
    parents = {path[:depth] for path in paths for depth in range(len(path))}
    for number, (path, detail) in enumerate(zip(paths, details, strict=True)):
        parent = _model_at(model, path[:-1])
        fault = detail["type"]
        if fault == "extra_forbidden":
            offered = parent if number < MOST_OFFERS else None
            yield document.key_problem(path, _unknown_key(str(path[-1]), offered))
        elif fault == "too_short":
            # a list whose every item is wrong is short for that reason alone
            if path not in parents:
                yield document.problem(path, f"is empty{_hint(parent, path)}")
        elif fault == "missing":
            yield document.problem(path, f"is missing{_hint(parent, path)}")
        elif _is_left_open(detail["input"]) and not _is_required(parent, path):
            yield document.problem(path, f"{quoted(str(detail['input']))} is no value; leave out what is not known")
        elif fault == "value_error":
            yield document.problem(path, str(detail["ctx"]["error"]))
        else:
            yield document.problem(path, _shape_message(fault, detail))


def _is_left_open(value: Any) -> bool:
    return isinstance(value, str) and value.strip().casefold() in LEFT_OPEN


def _is_required(parent: type[BaseModel] | None, path: Path_) -> bool:
    field = parent.model_fields.get(str(path[-1])) if parent and path else None
    return field is None or field.is_required()


def _unknown_key(key: str, parent: type[BaseModel] | None) -> str:
    known = list(parent.model_fields) if parent else []
    hint = did_you_mean(key, known) or (f"; allowed: {', '.join(known)}" if known else "")
    return f"unknown key {quoted(key)}{hint}"


def _hint(parent: type[BaseModel] | None, path: Path_) -> str:
    field = parent.model_fields.get(str(path[-1])) if parent else None
    return f" ({field.description})" if field and field.description else ""


SHAPES = {
    **dict.fromkeys(("model_type", "model_attributes_type", "dict_type"), "a mapping (key: value)"),
    **dict.fromkeys(("list_type", "tuple_type"), "a list (- item)"),
    "string_type": "text",
}


def _shape_message(fault: str, detail: Any) -> str:
    if fault in SHAPES:
        return f"must be {SHAPES[fault]}, found {_found(detail['input'])}"
    if fault == "too_long":
        return f"has too many items: {detail['ctx']['actual_length']}, allowed: {detail['ctx']['max_length']}"
    return f"{_found(detail['input'])} is not allowed: {detail['msg']}"


def _found(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    return quoted(str(value)) if value else "nothing"


def _required(model: type[BaseModel]) -> list[str]:
    return [name for name, field in model.model_fields.items() if field.is_required()]


def _model_at(model: type[BaseModel], path: Path_) -> type[BaseModel] | None:
    """The model class that describes the mapping at `path`."""
    current: type[BaseModel] | None = model
    for step in path:
        if isinstance(step, int) or current is None:
            continue
        field = current.model_fields.get(step)
        current = model_in(field.annotation) if field else None
    return current
