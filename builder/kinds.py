"""Kinds of fields and of results, found by one name: that of the module that declares them.

``calculators/declare/<name>.py`` declares a kind, ``builder/templates/kinds/<name>.html`` prints it, and
``theme/scripts/form/kinds/<name>.mjs``, if there is one, does what the kind needs in the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import jinja2

from calculators.declare.result import SECTIONS

#: The generated module that imports the scripts of all kinds, so that no list has to be maintained.
SCRIPTS_OF_KINDS = "scripts-of-kinds"
_FORM = "scripts/form"
#: The macros in the template of a kind, by what a calculator uses the kind for.
FIELD, RESULT, COLUMN = "field", "result", "cell"


def template_of(found_as: str) -> str:
    """Return the name of the template of the kind that is ``found_as``."""
    return f"kinds/{found_as}.html"


def missing_macros(templates: jinja2.Environment, described: Mapping[str, Any]) -> Iterator[str]:
    """Yield a mistake for each field, result and column of a calculator that its page could not show.

    ``described`` is what ``calculators.view.describe`` returns.
    """
    yield from _unstaged(described)
    for macro, each in _used_macros(described["fields"], described["results"]):
        wanted = template_of(each["found_as"])
        what = (
            f"{described['id']}: its {'column' if macro == COLUMN else macro} {each['name']} is of the kind "
            f"{each['kind']}"
        )
        try:
            module = templates.get_template(wanted).module
        except jinja2.TemplateNotFound:
            yield f"{what}, which has no template. Write builder/templates/{wanted} with a macro {macro}"
            continue
        if not callable(getattr(module, macro, None)):
            yield f"{what}, whose template builder/templates/{wanted} has no macro {macro}. Write one"
        if macro == RESULT and each["section"] not in SECTIONS:
            yield (
                f"{what}, which stands in no section of an answer. Give its class in {each['found_as']}.py one "
                f"of {', '.join(SECTIONS)}"
            )


def _unstaged(described: Mapping[str, Any]) -> Iterator[str]:
    """Yield a mistake for each name in the picture stage that is none of the
    calculator's, and for points that have no stage.
    """
    stage = described["picture_stage"] or {"of": "", "still": "", "numbers": ()}
    results = {each["name"] for each in described["results"]}
    known = {"of": results | {each["name"] for each in described["fields"]}, "still": results, "numbers": results}
    for part, names in known.items():
        for name in [stage[part]] if isinstance(stage[part], str) else stage[part]:
            if name and name not in names:
                yield f"{described['id']}: the {part} of its picture stage names {name}, which it does not have"
    for each in described["fields"]:
        if each.get("points_fit") and each["name"] != stage["of"]:
            yield f"{described['id']}: points lie on its picture {each['name']}. Make that its picture stage"


def _used_macros(
    fields: list[Mapping[str, Any]], results: list[Mapping[str, Any]]
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Yield each needed macro with what it prints, including fields of rows and columns of tables."""
    for field in fields:
        yield FIELD, field
        yield from _used_macros(field.get("fields", []), [])
    for result in results:
        yield RESULT, result
        yield from ((COLUMN, column) for column in result["columns"])


def scripts_of_kinds(theme: Path) -> str:
    """Return the module that takes up the script of every kind, by the kind's name.

    Its imports start beside ``theme``.
    """
    form = f"./{theme.name}/{_FORM}"
    lines = [f'import {{ register }} from "{form}/kinds.mjs";']
    for path in sorted((theme / _FORM / "kinds").glob("*.mjs")):
        kind = path.stem.replace("_", "-")
        lines.append(f'import * as {path.stem} from "{form}/kinds/{path.name}";\nregister("{kind}", {path.stem});')
    return "\n".join(lines) + "\n"
