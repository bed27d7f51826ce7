"""Every how-to ends with the one or two pages that come next in the job."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.next_pages import followers, next_of
from builder.pages import Page, calculators, front_matter

ROOT = Path(__file__).resolve().parents[2]
CONTENT = ROOT / "content"
METAS = {path.relative_to(CONTENT): front_matter(path.read_text("utf-8")) for path in sorted(CONTENT.rglob("*.md"))}
TITLES = {Page(path, meta).url: meta["title"] for path, meta in METAS.items()} | {
    each["url"]: each["title"] for each in calculators()
}
HOW_TOS = [path for path, meta in METAS.items() if meta.get("kind") == "how-to"]


def made(path: str, **more) -> tuple[Path, dict]:
    return Path(path), {"kind": "how-to", "title": path, **more}


def test_the_next_how_to_precedes_the_next_stage():
    metas = dict(
        [made("artwork/a.md", order=1), made("size/b.md", order=2), made("size/c.md", order=1), made("size/d.md")]
    )
    assert {old.as_posix(): new.as_posix() for old, new in followers(metas).items()} == {
        "size/c.md": "size/b.md",
        "size/b.md": "size/d.md",
        "size/d.md": "artwork/a.md",
    }


def test_what_the_front_matter_names_goes_before_the_order():
    metas = dict([made("size/a.md", order=1, next=["size/c/"]), made("size/b.md", order=2), made("size/c.md", order=3)])
    titles = {"size/b/": "B", "size/c/": "C"}
    assert next_of(Path("size/a.md"), metas, titles) == [{"title": "C", "url": "size/c/"}]
    assert next_of(Path("size/b.md"), metas, titles) == [{"title": "C", "url": "size/c/"}]


@pytest.mark.parametrize(
    ("named", "told"), [(["size/no/"], "names no page: size/no/"), (["a/", "b/", "c/"], "one or 2"), ("a/", "a list")]
)
def test_a_next_page_that_there_is_not_is_a_mistake(named, told):
    with pytest.raises(ValueError, match=told):
        next_of(Path("size/a.md"), dict([made("size/a.md", next=named)]), {"a/": "A", "b/": "B", "c/": "C"})


@pytest.mark.parametrize("path", HOW_TOS, ids=str)
def test_every_how_to_leads_on_to_another_page(path):
    after = next_of(path, METAS, TITLES)
    assert 1 <= len(after) <= 2
    assert Page(path, {}).url not in {each["url"] for each in after}


def test_next_pages_lead_from_home_to_the_last_stage():
    reached, waiting = set(), [""]
    while waiting:
        here = waiting.pop()
        reached.add(here)
        path = next((each for each in METAS if Page(each, {}).url == here), None)
        after = next_of(path, METAS, TITLES) if path else []
        waiting += [each["url"] for each in after if each["url"] not in reached]
        # A calculator's own steps are in its answer; the stage's first how-to stands for them here.
        if not path:
            stage = here.split("/")[0]
            waiting += [
                url for each in HOW_TOS if each.parts[0] == stage and (url := Page(each, {}).url) not in reached
            ][:1]
    assert {"size", "artwork", "underlay", "sheet", "print", "seal", "apply", "finish"} <= {
        each.split("/")[0] for each in reached
    }
