"""Pages of HTML become what mkdocs itself makes of them with Markdown."""

import pytest
from mkdocs.config import load_config
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from builder.html_pages import HtmlPage, HtmlPages
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


def test_only_pages_of_html_are_taken_as_such(printed_pages, config):
    _, pages = printed_pages
    html = next(page.path for page in pages if page.html)
    written = next(page.path for page in pages if not page.html)
    files = Files([file_of(path, config) for path in (html, written)])
    HtmlPages([html]).on_files(files, config=config)
    assert [type(file.page) for file in files] == [HtmlPage, type(None)]
