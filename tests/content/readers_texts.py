"""Every text that readers meet, with its place: pages, tables, messages, declarations and templates."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

import yaml

import calculators.declare
import calculators.messages
from calculators import catalogue
from calculators.stages import STAGES
from calculators.view import describe

ROOT = Path(__file__).resolve().parents[2]

#: Parts of a row that are not our prose: names, and words that readers type or steps contain.
NOT_PROSE = {
    "id",
    "said",
    "words",
    "named",
    "handled",
    "deeds",
    "not_meant",
    "says",
    "what",
    "ref",
    "at",
    "now_id",
    "url",
    "aliases",
}
#: Words of readers, and titles of documents.
NOT_OURS = {"synonyms.yaml", "sources.yaml"}
#: Parts of a described field or result that a reader sees.
SEEN = {"label", "help", "without", "title", "summary", "text"}
_JINJA = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}", re.DOTALL)
_ADDRESS = re.compile(r"\]\([^)]*\)")


def pages() -> Iterator[tuple[str, str]]:
    """Yield the prose of each page of ``content/``."""
    for path in sorted((ROOT / "content").rglob("*.md")):
        yield str(path.relative_to(ROOT)), _ADDRESS.sub("]", _JINJA.sub(" X ", path.read_text("utf-8")))


def tables() -> Iterator[tuple[str, str]]:
    """Yield the texts of the rows of ``data/``."""
    for path in sorted((ROOT / "data").rglob("*.yaml")):
        if path.name not in NOT_OURS:
            for text in _texts(yaml.safe_load(path.read_text("utf-8"))):
                yield str(path.relative_to(ROOT)), text


def messages() -> Iterator[tuple[str, str]]:
    """Yield the sentences of ``calculators/messages`` and those that only one kind of field or result says."""
    packages = (calculators.messages, calculators.declare)
    modules = [each.name for package in packages for each in iter_modules(package.__path__, f"{package.__name__}.")]
    for module in (
        *modules,
        "calculators.jobs.sentences",
        "calculators.jobs.page_sentences",
        "calculators.print.chart_sentences",
        "calculators.sheet.print_error_sentences",
        "calculators.sheets.correction",
        "calculators.sheets.sentences",
        "calculators.sheets.printer_errors",
        "calculators.underlay.cut_sentences",
    ):
        for name, value in vars(import_module(module)).items():
            if name.isupper() and not name.startswith("_"):
                yield from ((f"{module}.{name}", text) for text in _texts(value))


def declarations() -> Iterator[tuple[str, str]]:
    """Yield what fields and results are called, their help, and the titles of verdicts and stages."""
    yield from ((f"stage {id}", text) for id, text in STAGES.items())
    for id, calculator in catalogue.every().items():
        for text in _seen(json.loads(json.dumps(describe(calculator)))):
            yield id, text
        for result in calculators.declare.answered(calculator.outputs).values():
            yield from ((id, title) for _, title in getattr(result, "levels", {}).values())


def templates() -> Iterator[tuple[str, str]]:
    """Yield the templates of the builder and of the theme, without their comments."""
    for folder in ("builder/templates", "theme"):
        for path in sorted((ROOT / folder).rglob("*.html")):
            yield (
                str(path.relative_to(ROOT)),
                re.sub(r'\{#.*?#\}|type="color"', " ", path.read_text("utf-8"), flags=re.DOTALL),
            )


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for name, each in value.items():
            if name not in NOT_PROSE:
                yield from _texts(each)
    elif isinstance(value, (list, tuple)):
        for each in value:
            yield from _texts(each)


def _seen(value: Any, name: str = "") -> Iterator[str]:
    if isinstance(value, str):
        if name in SEEN:
            yield value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _seen(each, key)
    elif isinstance(value, list):
        for each in value:
            yield from _seen(each, name)
