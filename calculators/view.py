"""Results formatted for a reader, and declarations for pages. Each kind formats its own (``calculators.declare``)."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from calculators import units
from calculators.declare import Calculator
from calculators.declare.field import describe_fields
from calculators.declare.result import describe_results, plain, standing_alone


def view(outputs: Any, display: units.Display) -> dict[str, Any]:
    """Return what the page shows of ``outputs`` in the reader's unit, by name of the result."""
    results = standing_alone(type(outputs))
    return {name: result.render(getattr(outputs, name), outputs, display) for name, result in results.items()}


def default_view(calculator: Calculator, unit: str = "mm") -> dict[str, Any]:
    """Return {"view", "result"} of a calculator for its defaults: the worked example of its page."""
    outputs = calculator.answer(calculator.inputs())
    return {"view": view(outputs, units.DISPLAYS[unit]), "result": plain(outputs)}


def describe(calculator: Calculator) -> dict[str, Any]:
    """Return everything that a page, a form or a listing needs to know, as JSON-able data."""
    return {
        "id": calculator.id,
        "title": calculator.title,
        "summary": calculator.summary,
        "stage": calculator.stage,
        "about": calculator.about,
        "limit_s": calculator.limit_s,
        "sources": list(calculator.sources),
        "cautions": list(calculator.cautions),
        "needs": list(calculator.needs),
        "picture_stage": asdict(calculator.picture_stage) if calculator.picture_stage else None,
        "fields": describe_fields(calculator.inputs),
        "results": describe_results(calculator.outputs),
    }
