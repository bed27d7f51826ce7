"""From pages to the site: the navigation, mkdocs' own warnings, and the folder that is replaced."""

from pathlib import Path

import pytest
import yaml

from builder.mistakes import Mistakes
from builder.pages import Page
from builder.site import Prepared, navigation, publish, run_mkdocs


def page(path, listed=True, **meta):
    return Page(Path(path), {"title": path, **meta}, listed)


def test_navigation_follows_the_work_and_the_page_order():
    pages = [
        page("reference/papers.md"),
        page("safety.md"),
        page("index.md", title="Home"),
        page("artwork/index.md", title="Artwork"),
        page("size/why.md", order=3),
        page("size/a.md"),
        page("size/index.md", title="Size"),
        page("size/scales.md", order=2),
        page("size/scale-size.md", listed=False),
    ]
    assert navigation(pages) == [
        {"Home": "index.md"},
        {"safety.md": "safety.md"},
        {
            "Size": [
                {"Size": "size/index.md"},
                {"size/scales.md": "size/scales.md"},
                {"size/why.md": "size/why.md"},
                {"size/a.md": "size/a.md"},
            ]
        },
        {"Artwork": [{"Artwork": "artwork/index.md"}]},
        {"Reference": [{"reference/papers.md": "reference/papers.md"}]},
    ]


@pytest.fixture
def root(tmp_path):
    """A project with the smallest theme that mkdocs accepts: one template."""
    (tmp_path / "mkdocs.yml").write_text("site_name: T\ntheme: {name: null, custom_dir: build/theme}\nplugins: []\n")
    for name, text in {
        "build/theme/main.html": (
            '<!doctype html><html><head><meta charset="utf-8"></head><body>{{ page.content }}</body></html>'
        ),
        "build/theme/sitemap.xml": "{% for file in pages %}{{ file.page.canonical_url }}\n{% endfor %}",
        "build/pages/index.md": "# Home\n\n[on](size/page.md)\n",
        "build/pages/size/page.md": "# Page\n",
        "build/theme/assets/javascripts/lunr/min/lunr.da.min.js": "",
        "build/theme/assets/javascripts/bundle.js.map": "",
    }.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return tmp_path


def prepared(root):
    return Prepared(root / "build", {"nav": [{"Home": "index.md"}], "not_in_nav": "/size/page.md", "extra": {}})


def published(root, **more):
    publish(prepared(root), root, root / "site", **{"site_url": "https://example.org/a/b", "offline": False, **more})


def test_a_site_has_its_address_and_the_policy(root):
    published(root)
    assert (root / "site" / "sitemap.xml").read_text().split() == [
        "https://example.org/a/b/",
        "https://example.org/a/b/size/page/",
    ]
    for name in ("index.html", "size/page/index.html"):
        assert '<meta http-equiv="Content-Security-Policy"' in (root / "site" / name).read_text("utf-8")


def test_unused_theme_files_are_left_out(root):
    published(root)
    assert [path.name for path in (root / "site").rglob("*") if "lunr" in path.name or path.suffix == ".map"] == []


def test_a_broken_link_keeps_the_last_site(root):
    published(root)
    (root / "build" / "pages" / "index.md").write_text("[on](size/gone.md)\n")
    with pytest.raises(Mistakes) as stopped:
        published(root)
    assert [text for text in stopped.value.texts if "size/gone.md" in text]
    assert "on</a>" in (root / "site" / "index.html").read_text("utf-8")


def test_a_policy_violation_keeps_the_last_site(root):
    published(root)
    before = (root / "site" / "index.html").read_bytes()
    (root / "build" / "pages" / "index.md").write_text('<p style="color: red">x</p>\n')
    with pytest.raises(Mistakes, match="style attribute"):
        published(root)
    assert (root / "site" / "index.html").read_bytes() == before


def test_a_folder_without_a_site_is_never_replaced(root):
    (root / "site").mkdir()
    (root / "site" / "letter.txt").write_text("mine")
    with pytest.raises(Mistakes, match="holds something that is no built site"):
        published(root)
    assert (root / "site" / "letter.txt").read_text() == "mine"


def test_removed_pages_leave_the_site(root):
    published(root)
    (root / "build" / "pages" / "size" / "page.md").unlink()
    (root / "build" / "pages" / "index.md").write_text("# Home\n")
    published(root)
    assert not (root / "site" / "size").exists()


def test_edit_links_need_to_know_where_the_sources_are(root):
    published(root)
    assert "repo_url" not in yaml.safe_load((root / "build" / "mkdocs.yml").read_text())
    published(root, repo_url="https://example.org/source")
    assert yaml.safe_load((root / "build" / "mkdocs.yml").read_text())["repo_url"] == "https://example.org/source"


def test_an_edit_address_works_without_a_host(root):
    with (root / "mkdocs.yml").open("a") as settings:
        settings.write("edit_uri: edit/main/content/\n")
    published(root)
    published(root, repo_url="https://example.org/source")
    with (root / "mkdocs.yml").open("a") as settings:
        settings.write("repo_url: https://example.org/source\n")
    published(root)
    assert "edit_uri" not in yaml.safe_load((root / "build" / "mkdocs.yml").read_text())


def test_a_wrong_configuration_is_reported_in_mkdocs_words(tmp_path):
    (tmp_path / "mkdocs.yml").write_text("site_name: T\nnot_known: 1\ndocs_dir: nowhere\n")
    with pytest.raises(Mistakes) as stopped:
        run_mkdocs(tmp_path / "mkdocs.yml")
    assert any("nowhere" in text for text in stopped.value.texts)
