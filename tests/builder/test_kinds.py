"""Each kind of field and result has one module, one template and at most one script, all of the same name."""

import ast
import shutil
from dataclasses import dataclass

import jinja2
import pytest

from builder.answers import Answers
from builder.kinds import missing_macros
from builder.mistakes import Mistakes
from builder.pages import write_pages
from calculators import catalogue
from calculators.declare import MODULES, NEITHER, Calculator, Field, Result, measure, number, table, words
from calculators.declare import field as field_module
from calculators.declare import result as result_module
from calculators.view import describe
from tests.conftest import ROOT

TEMPLATES = ROOT / "builder" / "templates"
KINDS = [
    kind
    for module in MODULES.values()
    for kind in vars(module).values()
    if isinstance(kind, type)
    and issubclass(kind, (Field, Result))
    and kind.__module__ == module.__name__
    and kind not in (Field, Result)
]
ON_THE_PAGE = [kind for kind in KINDS if getattr(kind, "stands_alone", True)]
EVERY_KIND = pytest.mark.parametrize("kind", ON_THE_PAGE, ids=lambda kind: kind.__name__)


@pytest.fixture(scope="module")
def templates():
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES), autoescape=True, undefined=jinja2.StrictUndefined
    )


def test_built_in_kinds_are_found():
    assert {"NumberField", "RowsField", "PictureField", "VerdictResult", "TableResult", "ScenesResult"} <= {
        kind.__name__ for kind in KINDS
    }


@EVERY_KIND
def test_a_kind_is_declared_in_the_module_of_its_name(kind):
    # The kind of a number is "number" or "whole", as it is declared.
    if isinstance(kind.kind, str):
        assert field_module.found_as(kind) == kind.kind.replace("-", "_")
    assert kind.__name__ in MODULES[field_module.found_as(kind)].__all__


def test_type_checkers_see_every_module_of_the_declarations():
    source = ast.parse((ROOT / "calculators" / "declare" / "__init__.py").read_text("utf-8"))
    (imports,) = (each.body for each in source.body if isinstance(each, ast.If))
    assert [each.module for each in imports] == [f"calculators.declare.{name}" for name in sorted(MODULES)]


@EVERY_KIND
def test_a_kind_has_a_template_of_its_name(kind, templates):
    template = templates.get_template(f"kinds/{field_module.found_as(kind)}.html").module
    assert callable(getattr(template, "field" if issubclass(kind, Field) else "result"))


def test_a_result_kind_stands_in_a_section_of_the_answer():
    assert {kind.section for kind in ON_THE_PAGE if issubclass(kind, Result)} == set(result_module.SECTIONS)


def test_every_template_and_script_has_a_kind():
    names = {field_module.found_as(kind) for kind in ON_THE_PAGE}
    assert {path.stem for path in (TEMPLATES / "kinds").iterdir()} == names
    scripts = {path.stem for path in (ROOT / "theme" / "scripts" / "form" / "kinds").glob("*.mjs")}
    assert scripts and scripts <= names


# -- Kinds that a page cannot show


@dataclass(frozen=True, kw_only=True)
class StripeResult(Result):
    kind = "stripe"
    section = result_module.LINES


@dataclass(frozen=True, kw_only=True)
class NowhereResult(Result):
    kind = "nowhere"
    section = "margins"


@dataclass(frozen=True, kw_only=True)
class DialField(Field):
    kind = "dial"


def calculator(inputs, outputs):
    return Calculator(
        id="odd",
        title="Odd?",
        summary="Odd.",
        stage="size",
        about=NEITHER,
        inputs=inputs,
        outputs=outputs,
        compute=lambda _: outputs(),
    )


def declared(name, made, declare):
    return dataclass(frozen=True, kw_only=True)(
        type(name, (), {"__annotations__": {"it": object}, "it": declare(made)})
    )


@dataclass(frozen=True, kw_only=True)
class Asked:
    width_mm: float = number("Width", unit="mm", low=1, high=2, default=1)


@dataclass(frozen=True, kw_only=True)
class Answered:
    width_mm: float = measure("Width", unit="mm")


def of_result(made):
    return describe(calculator(Asked, declared("Outputs", made, result_module.declared)))


def test_built_in_kinds_are_not_reported(templates):
    assert list(missing_macros(templates, describe(calculator(Asked, Answered)))) == []


def test_a_kind_without_a_template_names_calculator_and_file(templates):
    assert list(missing_macros(templates, of_result(StripeResult(label="Stripe")))) == [
        (
            "odd: its result it is of the kind stripe, which has no template. "
            "Write builder/templates/kinds/test_kinds.html with a macro result"
        )
    ]
    asks = declared("Inputs", DialField(label="Dial"), lambda made: field_module.declared(made, "1"))
    assert list(missing_macros(templates, describe(calculator(asks, Answered)))) == [
        (
            "odd: its field it is of the kind dial, which has no template. "
            "Write builder/templates/kinds/test_kinds.html with a macro field"
        )
    ]


def test_a_template_without_the_macro_is_reported(tmp_path):
    (tmp_path / "kinds").mkdir()
    for name in ("number", "measure", "test_kinds"):
        (tmp_path / "kinds" / f"{name}.html").write_text("{% macro field(f) %}{% endmacro %}{% set result = 1 %}")
    templates = jinja2.Environment(loader=jinja2.FileSystemLoader(tmp_path))
    assert list(missing_macros(templates, of_result(StripeResult(label="Stripe")))) == [
        (
            "odd: its result it is of the kind stripe, whose template builder/templates/kinds/test_kinds.html "
            "has no macro result. Write one"
        )
    ]


def test_a_column_without_a_cell_macro_is_reported(templates):
    inner = declared("Inner", Answered, lambda row: table("Inner", row=row))
    described = describe(calculator(Asked, declared("Outputs", inner, lambda row: table("Outer", row=row))))
    assert list(missing_macros(templates, described)) == [
        (
            "odd: its column it is of the kind table, whose template builder/templates/kinds/table.html "
            "has no macro cell. Write one"
        )
    ]


def test_fields_of_rows_are_checked_too(templates):
    row = declared("Row", DialField(label="Dial"), lambda made: field_module.declared(made, "1"))
    asks = declared("Inputs", row, lambda row: MODULES["rows"].rows("Rows", row=row, default=(row(),)))
    assert [each.split(",")[0] for each in missing_macros(templates, describe(calculator(asks, Answered)))] == [
        "odd: its field it is of the kind dial"
    ]


def test_a_result_without_a_section_is_reported(tmp_path):
    (tmp_path / "kinds").mkdir()
    for name in ("number", "test_kinds"):
        (tmp_path / "kinds" / f"{name}.html").write_text(
            "{% macro field(f) %}{% endmacro %}{% macro result(r) %}{% endmacro %}"
        )
    templates = jinja2.Environment(loader=jinja2.FileSystemLoader(tmp_path))
    assert list(missing_macros(templates, of_result(NowhereResult(label="Nowhere")))) == [
        (
            "odd: its result it is of the kind nowhere, which stands in no section of an answer. "
            f"Give its class in test_kinds.py one of {', '.join(result_module.SECTIONS)}"
        )
    ]


def test_a_result_that_no_template_shows_stops_the_build(tmp_path, monkeypatch):
    shutil.copytree(TEMPLATES, tmp_path / "builder" / "templates")
    (tmp_path / "builder" / "templates" / "kinds" / "words.html").unlink()
    (tmp_path / "content").mkdir()
    only = Calculator(
        id="odd",
        title="Odd?",
        summary="Odd.",
        stage="size",
        about=NEITHER,
        inputs=Asked,
        outputs=declared("Outputs", "Said", words),
        compute=lambda _: None,
    )
    monkeypatch.setattr(catalogue, "every", lambda: {"odd": only})
    monkeypatch.setattr(catalogue, "find", {"odd": only}.__getitem__)
    with pytest.raises(Mistakes) as stopped:
        write_pages(tmp_path, tmp_path / "out", answers=Answers(tmp_path / "content"))
    assert stopped.value.texts == [
        (
            "size/odd.md:1: odd: its result it is of the kind words, which has no template. "
            "Write builder/templates/kinds/words.html with a macro result"
        )
    ]
