"""Keys: unknown, missing, or of another type than their kind of file asks for."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from referencing import Registry, Resource

from build_tools.loading import Located, line_of
from build_tools.problems import Problem

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

FOLDER = Path(__file__).parent.parent / "schemas"
KINDS = ("step", "finding", "condition", "calculators", "article")
TYPES = {
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "array": "a list",
    "object": "a group of keys",
    "null": "empty",
}


@cache
def _registry() -> Registry[Any]:
    schemas = [json.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.json"))]
    return Registry().with_resources(
        [
            (schema.get("$id", path.name), Resource.from_contents(schema))
            for path, schema in zip(sorted(FOLDER.glob("*.json")), schemas, strict=True)
        ]
    )


@cache
def _validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(_registry().contents(f"{name}.json"), registry=_registry())


def problems_of_file(file: str, located: Located) -> list[Problem]:
    """Check a data file against the schema of its kind: values, red flags, captions or second reads."""
    name = "values" if file.startswith("content/values/") else Path(file).stem
    return list(_problems(name, file, located.data, located.lines))


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield the faults in the front matter of pages and in the sheets."""
    for page in handbook.pages.values():
        if page.kind not in KINDS:
            found = f'the kind "{page.kind}" is unknown' if page.kind else "the kind of page is missing"
            close = difflib.get_close_matches(page.kind, KINDS, 1)
            yield Problem(
                page.file,
                page.line("kind"),
                found,
                f"write `kind: {close[0]}`" if close else f"write `kind:` with one of {', '.join(KINDS)}",
            )
        else:
            yield from _problems(page.kind, page.file, page.meta, page.lines)
    for sheet in handbook.sheets.values():
        yield from _problems("sheet", sheet.file, sheet.data, sheet.lines)


def _problems(name: str, file: str, data: dict[str, Any], lines: dict[tuple[Any, ...], int]) -> Iterator[Problem]:
    for error in _validator(name).iter_errors(data):
        for path, message, mend in _told(error):
            yield Problem(file, line_of(lines, path), message, mend)


def _where(path: tuple[Any, ...]) -> str:
    """Return the words for a place: ("points_to", 1, "lr_pos") is "lr_pos of points_to 2"."""
    words: list[str] = []
    for part in path:
        if isinstance(part, int) and words:
            words[-1] += f" {part + 1}"
        else:
            words.append(str(part))
    return " of ".join(reversed(words))


def _told(error: ValidationError) -> Iterator[tuple[tuple[Any, ...], str, str]]:
    """Yield place, message and mend for a fault the schema library found."""
    path = tuple(error.absolute_path)
    here = _where(path)
    inside = f" in {here}" if here else ""
    schema = error.schema if isinstance(error.schema, dict) else {}
    value, rule = error.instance, error.validator_value
    meant = f", {described}" if (described := schema.get("description")) else ""
    match error.validator:
        case "additionalProperties":
            known = sorted(schema.get("properties", {}))
            for key in value:
                if key not in known:
                    close = difflib.get_close_matches(str(key), known, 1)
                    yield (
                        (*path, key),
                        f'the key "{key}"{inside} is unknown',
                        f'write "{close[0]}" or remove it' if close else f"remove it; known are {', '.join(known)}",
                    )
        case "required":
            for key in rule:
                if key not in value:
                    yield path, f'the key "{key}"{inside} is missing', f"add it: {_meaning(schema, key)}"
        case "dependentRequired":
            for key, needed in rule.items():
                for other in needed if key in value else ():
                    if other not in value:
                        yield (
                            (*path, key),
                            f'"{key}"{inside} stands without "{other}"',
                            f"add {other}: {_meaning(schema, other)}",
                        )
        case "type":
            names = [TYPES[name] for name in ([rule] if isinstance(rule, str) else rule)]
            yield (
                path,
                f"{here} is {_type_of(value)}; expected {' or '.join(names)}",
                f"write {' or '.join(names)}{meant}",
            )
        case "enum" | "const":
            allowed = [str(one) for one in rule] if error.validator == "enum" else [str(rule)]
            close = difflib.get_close_matches(str(value), allowed, 1)
            yield path, f'{here} is "{value}"', f"write {close[0] if close else 'one of ' + ', '.join(allowed)}"
        case "pattern":
            yield (
                path,
                f'{here} is "{value}", which has not the form of {schema.get("description", rule)}',
                f"write {schema.get('description', 'a text that matches ' + str(rule))}",
            )
        case "uniqueItems":
            yield path, f"{here} holds something twice", "keep one of each"
        case "minLength" | "maxLength":
            few = error.validator == "minLength"
            yield (
                path,
                f"{here} has {len(value)} characters, {'at least' if few else 'at most'} {rule} are asked for",
                ("write it out" if few else "shorten it") + meant,
            )
        case "minItems" | "maxItems":
            most = "at least" if error.validator == "minItems" else "at most"
            yield path, f"{here} has {len(value)} entries, expected {most} {rule}", f"write {most} {rule}{meant}"
        case "minimum" | "maximum":
            side = "at least" if error.validator == "minimum" else "at most"
            yield path, f"{here} is {value}, expected {side} {rule}", f"write a number of {side} {rule}{meant}"
        case "anyOf" | "oneOf" if error.context:
            # The alternative that was followed furthest is the one that was meant.
            yield from _told(max(error.context, key=lambda each: (len(each.absolute_path), -len(each.schema_path))))
        case _:
            yield path, f"{here or 'the file'}: {error.message}", f"see {error.validator} in build_tools/schemas"


def _meaning(schema: dict[str, Any], key: str) -> str:
    """Return what a key is for, from the schema's own description."""
    described = schema.get("properties", {}).get(key, {})
    if "description" not in described and "$ref" in described:
        described = _registry().contents("shared.json")["$defs"].get(described["$ref"].rpartition("/")[2], {})
    return str(described.get("description", TYPES.get(str(described.get("type")), "see build_tools/schemas")))


def _type_of(value: Any) -> str:
    if isinstance(value, bool):
        return "true or false"
    if value is None:
        return "empty"
    kinds = {str: "text", int: "a whole number", float: "a number", list: "a list", dict: "a group of keys"}
    return next((word for kind, word in kinds.items() if isinstance(value, kind)), "something else")
