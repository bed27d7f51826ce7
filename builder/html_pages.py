"""Pages of nothing but HTML, which mkdocs takes as they are: those of calculators, and of the rows of tables.

There may be ten thousand rows. For each page mkdocs would set up Markdown anew, parse the HTML twice to find no
Markdown in it, and read the front matter as YAML, which takes longer than to print the page.
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


class HtmlPages(BasePlugin):  # type: ignore[type-arg,no-untyped-call]  # it has no settings, and its base few types
    """Lets mkdocs take the pages at ``paths``, which start at the folder of pages, as ``HtmlPage``."""

    def __init__(self, paths: Iterable[PurePath]) -> None:
        self._paths = {path.as_posix() for path in paths}

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> None:
        """Give these files their page before mkdocs does."""
        for file in files:
            if file.src_uri in self._paths:
                HtmlPage(None, file, config)
