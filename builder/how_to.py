"""A how-to as data that search engines and readers of screens know: HowTo of schema.org, in JSON-LD.

The terms are those of https://schema.org/HowTo and HowToStep, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from html import unescape
from typing import Any

from markdown import Markdown

from builder.steps import split_steps

_DRAWING = re.compile(r"<figure\b.*?</figure>", re.DOTALL)
_TABLE_ROW = re.compile(r"^ {4,}\|.*$", re.MULTILINE)
_TAG = re.compile(r"<[^>]*>")

#: Lists in a page's front matter, each with the term and the type of its entries.
_GATHERED = {"tools": ("tool", "HowToTool"), "supplies": ("supply", "HowToSupply")}


def how_to(meta: Mapping[str, Any], body: str) -> dict[str, Any]:
    """Return the HowTo of a page: its name, its description, its steps in order, and
    tools and supplies where it lists them.

    ``body`` is the printed Markdown below the front matter, ``meta``.
    """
    _, steps, _ = split_steps(body)
    gathered = {
        term: [{"@type": kind, "name": name} for name in meta[key]]
        for key, (term, kind) in _GATHERED.items()
        if meta.get(key)
    }
    return {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": meta["title"],
        "description": meta["description"],
        **gathered,
        "step": [
            {"@type": "HowToStep", "position": position, "text": text_of(step)}
            for position, step in enumerate(steps, 1)
        ],
    }


@cache
def _markdown() -> Markdown:
    return Markdown(extensions=["attr_list", "md_in_html"])


def text_of(step: str) -> str:
    """Return the words of a step, given as Markdown, on one line; drawings and tables are left out."""
    # Render it as a list item, so that indented lines below it stay part of it.
    html = _markdown().reset().convert(f"1. {_TABLE_ROW.sub('', _DRAWING.sub('', step))}")
    return " ".join(unescape(_TAG.sub("", html)).split())
