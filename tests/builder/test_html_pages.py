"""HTML that goes past Markdown becomes what mkdocs itself makes of it with Markdown."""

import re

import pytest
from mkdocs.config import load_config
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from builder.html_pages import HtmlPage, HtmlPages, MixedPage
from tests.conftest import ROOT

#: So many pages of a folder are compared. They are made by the same few templates.
MOST = 12


@pytest.fixture(scope="module")
def config(printed_pages, tmp_path_factory):
    folder, _ = printed_pages
    return load_config(
        str(ROOT / "mkdocs.yml"),
        docs_dir=str(folder),
        site_dir=str(tmp_path_factory.mktemp("site")),
        site_url="https://example.org/a/",
    )


def file_of(path, config):
    return File(path.as_posix(), config.docs_dir, config.site_dir, True)


def as_read(page, config):
    page.read_source(config)
    page.render(config, Files([page.file]))
    return page


def test_pages_of_html_are_what_markdown_makes_of_them(printed_pages, config):
    _, pages = printed_pages
    compared, with_card = {}, False
    for page in pages:
        alike = compared.setdefault((page.path.parent, page.meta["kind"]), [])
        if not page.html or len(alike) == MOST:
            continue
        ours, theirs = (as_read(kind(None, file_of(page.path, config), config), config) for kind in (HtmlPage, Page))
        assert ours.content == theirs.content, page.path
        assert (ours.meta, ours.title) == (theirs.meta, theirs.title), page.path
        assert ours.present_anchor_ids == theirs.present_anchor_ids, page.path
        assert [*ours.toc] == [*theirs.toc] == [], page.path
        alike.append(page)
        with_card |= "dw-cautions" in ours.content
    assert {kind for (_, kind), alike in compared.items() if alike} == {"calculator", "entry", "row"}
    assert with_card  # a block of its own below others


def test_long_blocks_in_pages_are_what_markdown_makes_of_them(printed_pages, config):
    _, pages = printed_pages
    mixed = [page.path for page in pages if not page.html]
    files = {kind: Files([file_of(path, config) for path in mixed]) for kind in (MixedPage, Page)}
    for kind, each in files.items():
        for file in each:
            kind(None, file, config)
    long = 0
    for path in mixed:
        ours, theirs = (files[kind].get_file_from_path(path.as_posix()).page for kind in (MixedPage, Page))
        ours.read_source(config)
        if not re.search(r"\n\n<div class=\"dw-", ours.markdown):
            continue
        theirs.read_source(config)
        for page, kind in ((ours, MixedPage), (theirs, Page)):
            page.render(config, files[kind])
        long += "data-block" in ours.markdown
        assert ours.content == theirs.content, path
        assert (ours.title, len([*ours.toc])) == (theirs.title, len([*theirs.toc])), path
        assert ours.present_anchor_ids == theirs.present_anchor_ids, path
    assert long > 10


def test_a_block_that_does_not_end_where_it_began_is_left_to_markdown(config, tmp_path):
    words = "word " * 600
    text = f'---\ntitle: A\n---\nBefore.\n\n<div class="dw-a"><div>{words}</div>\n\n*more*\n\n</div>\n\nAfter.\n'
    (tmp_path / "a.md").write_text(text, "utf-8")
    ours, theirs = (
        as_read(kind(None, File("a.md", str(tmp_path), config.site_dir, True), config), config)
        for kind in (MixedPage, Page)
    )
    assert "data-block" not in ours.markdown
    assert ours.content == theirs.content


def test_every_page_gets_its_kind(printed_pages, config):
    _, pages = printed_pages
    html = next(page.path for page in pages if page.html)
    written = next(page.path for page in pages if not page.html)
    files = Files([file_of(path, config) for path in (html, written)])
    HtmlPages([html]).on_files(files, config=config)
    assert [type(file.page) for file in files] == [HtmlPage, MixedPage]
