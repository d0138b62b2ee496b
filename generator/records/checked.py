"""A TOML file against its model: every fault pydantic finds becomes a Problem at its line."""

from typing import Any, TypeVar, cast

from pydantic import BaseModel, ValidationError

from generator.errors import SLUGS, Slug, nearest, shown
from generator.records.files import Reader
from generator.records.toml import TomlFile

Model = TypeVar("Model", bound=BaseModel)
_EXAMPLES = {
    "alpha": '"5.2 %"', "brewed": "2026-02-14", "extract": '"80 %"', "mass": '"4.2 kg"', "name": '"..."', "portions": "3", "recipe": '"..."',
    "temperature": '"66 °C"', "text": '"..."', "time": '"60 min"', "title": '"..."', "when": '"mash + 15 min"',
}  # fmt: skip


def checked(reader: Reader, file: TomlFile, model: type[Model]) -> Model | None:
    """The file as a record; None, with a Problem for each fault, if it isn't one."""
    try:
        return model.model_validate(file.values)
    except ValidationError as errors:
        for error in errors.errors(include_url=False, include_input=True):
            what, expected, slug = _explained(cast(dict[str, Any], error), model)
            reader.problem(reader.root / file.path, file.line(*error["loc"]), what, expected, slug)
        return None


def _explained(error: dict[str, Any], model: type[BaseModel]) -> tuple[str, str, Slug]:
    """What is wrong, what was expected, and the slug, of one error of pydantic's."""
    where, kind = error["loc"], error["type"]
    name = dotted(where)
    if kind in SLUGS:
        context = error["ctx"]
        return f"{name}: {context['what']}", context["expected"], cast(Slug, kind)
    if kind == "extra_forbidden":
        return f"unknown key '{shown(where[-1])}'{_under(where)}", nearest(str(where[-1]), _known(model, where[:-1])), "unknown-key"
    if kind == "missing":
        return *missing(where), "missing-key"
    if kind == "literal_error":
        return f"{name}: '{shown(error['input'])}' is unknown here", f"expected {error['ctx']['expected']}", "wrong-value"
    given = f"'{shown(error['input'])}'" if isinstance(error["input"], str) else shown(error["input"])
    return f"{name}: {given} stands here", f"expected {_type_in_words(kind, where)}", "wrong-type"


def missing(where: tuple[str | int, ...]) -> tuple[str, str]:
    """What is wrong and what was expected, where a key or a table is missing."""
    key = str(where[-1])
    if key not in _EXAMPLES:
        return f"the table [{key}] is missing", f"expected a line [{key}], and its keys below it"
    return f"the key '{key}'{_under(where)} is missing", f"expected a line such as {key} = {_EXAMPLES[key]}"


def dotted(where: tuple[str | int, ...]) -> str:
    """A key as a message names it: "hops.2.alpha", counted from 1."""
    return shown(".".join(str(part + 1) if isinstance(part, int) else part for part in where))


def _under(where: tuple[str | int, ...]) -> str:
    table = shown(".".join(part for part in where[:-1] if isinstance(part, str)))
    if not table:
        return ""
    return f" in [[{table}]]" if isinstance(where[-2], int) else f" in [{table}]"


def _known(model: type[BaseModel], where: tuple[str | int, ...]) -> tuple[str, ...]:
    """The keys that a table knows."""
    current: type[BaseModel] = model
    for part in where:
        if isinstance(part, str):
            annotation = current.model_fields[part].annotation
            inner = getattr(annotation, "__args__", (annotation,))[0]
            current = inner if isinstance(inner, type) and issubclass(inner, BaseModel) else current
    return tuple(current.model_fields)


def _type_in_words(kind: str, where: tuple[str | int, ...]) -> str:
    last = where[-1] if where else ""
    return {
        "bool_type": "true or false",
        "tuple_type": f"[[{last}]] in double brackets" if last in ("grist", "rest", "hops", "task") else "a list in brackets",
        "model_type": f"a table [{last}] in single brackets",
        "string_type": "a text in quotes",
    }.get(kind, "another value")
