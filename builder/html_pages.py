"""HTML that goes past Markdown, which would leave it as it is: whole pages of it, and long blocks within pages.

Whole pages are those of calculators, and of the rows of tables, of which there may be ten thousand. For each mkdocs
would set up Markdown anew, parse the HTML twice to find no Markdown in it, and read the front matter as YAML, which
takes longer than to print the page. A table of all rows is a long block.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from pathlib import PurePath

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc

_FRONT_END = "---\n"
#: A block of the builder's own, from one blank line to the next, whose text would take Markdown some milliseconds.
_LONG_BLOCK = re.compile(r'(?<=\n\n)<div class="dw-(?:[^\n]|\n(?!\n)){2000,}</div>(?=\n\n)')
_TAKEN = re.compile(r'<div data-block="(\d+)"></div>')
_ID = re.compile(r'\sid="([^"]*)"')


class HtmlPage(Page):
    """A page whose front matter is a line of JSON, and whose body is blocks of HTML.

    Each block has one blank line on either side and none within, so Markdown would leave it as it is.
    """

    def read_source(self, config: MkDocsConfig) -> None:
        """Take the page apart."""
        _, front, body = self.file.content_string.split(_FRONT_END, 2)
        self.meta = json.loads(front)
        self.markdown = body.lstrip("\n")

    def render(self, config: MkDocsConfig, files: Files) -> None:
        """Take the body as the content; its ids are what other pages may link to."""
        self.content = (self.markdown or "").rstrip("\n")
        self.toc = get_toc([])
        self.present_anchor_ids = set(_ID.findall(self.content))


class MixedPage(Page):
    """A page of Markdown whose long blocks of HTML, as the builder prints them, are put in after Markdown."""

    def render(self, config: MkDocsConfig, files: Files) -> None:
        """Convert the Markdown; of a long block it sees an empty element only."""
        blocks: list[str] = []

        def taken(found: re.Match[str]) -> str:
            if found[0].count("<div") != found[0].count("</div"):
                return found[0]
            blocks.append(found[0])
            return f'<div data-block="{len(blocks) - 1}"></div>'

        self.markdown = _LONG_BLOCK.sub(taken, self.markdown or "")
        super().render(config, files)
        self.content = _TAKEN.sub(lambda found: blocks[int(found[1])], self.content or "")
        self.present_anchor_ids = (self.present_anchor_ids or set()).union(*map(_ID.findall, blocks))


class HtmlPages(BasePlugin):  # type: ignore[type-arg,no-untyped-call]  # it has no settings, and its base few types
    """Lets mkdocs take the pages at ``paths``, which start at the folder of pages, as ``HtmlPage``, others as
    ``MixedPage``.
    """

    def __init__(self, paths: Iterable[PurePath]) -> None:
        self._paths = {path.as_posix() for path in paths}

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> None:
        """Give each page its kind before mkdocs does. All have their titles in their front matter."""
        for file in files.documentation_pages():
            kind = HtmlPage if file.src_uri in self._paths else MixedPage
            kind(None, file, config)
