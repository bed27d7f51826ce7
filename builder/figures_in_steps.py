"""Drawings inside the steps of a list: Markdown takes indented HTML for text, and would wrap it in a paragraph."""

from __future__ import annotations

import re

from markdown import Markdown
from markdown.extensions import Extension
from markdown.preprocessors import Preprocessor

_WRITTEN = re.compile(r"^( {4,})\n\n(<figure\b.*?</figure>)\n", re.MULTILINE | re.DOTALL)
_FIGURE = re.compile(r"^( {4,})(<figure\b.*</figure>)$", re.MULTILINE)


def indent(text: str) -> str:
    """Return a page with each drawing that was asked for in a step on one line, as
    far to the right as the step's text.
    """
    return _WRITTEN.sub(lambda found: f"{found[1]}{found[2].replace(chr(10), ' ')}\n", text)


class _Stash(Preprocessor):
    def run(self, lines: list[str]) -> list[str]:
        def stash(found: re.Match[str]) -> str:
            return found[1] + self.md.htmlStash.store(found[2])

        return _FIGURE.sub(stash, "\n".join(lines)).split("\n")


class FiguresInSteps(Extension):
    """Keeps each indented <figure> whole, as a block of its own within its list item."""

    def extendMarkdown(self, md: Markdown) -> None:
        # After white space is normalised (30), which drops stash markers; before HTML blocks are parsed (20).
        md.preprocessors.register(_Stash(md), "figures_in_steps", 25)


def makeExtension(**settings: object) -> FiguresInSteps:
    return FiguresInSteps(**settings)
