"""Builds the site from the sources, step by step.

Check the data, pack the wheel and the runtime, print the pages, let mkdocs make the site of them,
then write the content policy and the offline worker. Everything up to mkdocs is the same for every
address (``prepare``); what depends on the address comes after (``publish``).
"""

from __future__ import annotations

import json
import logging
import re
import shutil
import sys
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml
from mkdocs.commands.build import build as mkdocs_build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort, MkDocsException

from builder.answers import Answers
from builder.assets import BUNDLED, SERVED, write_assets
from builder.check import check_and_load
from builder.html_pages import HtmlPages
from builder.job_page import write_job_files
from builder.job_places import job_places
from builder.licences import write_licences
from builder.manifest import NAME as MANIFEST
from builder.manifest import write_manifest
from builder.mistakes import Mistakes
from builder.offline import write_offline_worker
from builder.pages import Page, calculators, stages, write_pages
from builder.policy import write_policy
from builder.runtime import build_runtime
from builder.theme_script import lighten_theme_script
from builder.wheel import build_wheel, stamp
from calculators import catalogue, messages

#: Files that our pages never request: the theme's search in other languages, its favicon and source maps, and files
#: that our templates include. The theme's packed list of pages holds the time of the build.
_UNUSED = ("assets/javascripts/lunr", "assets/images/favicon.png", "partials/*.js", "**/*.map", "sitemap.xml.gz")


@dataclass(frozen=True)
class Prepared:
    """What ``publish`` needs: the folder of pages, the folder of templates, mkdocs' settings, and which pages are
    nothing but HTML.
    """

    scratch: Path
    settings: dict[str, Any] = field(default_factory=dict)
    html: Sequence[Path] = ()


def prepare(
    root: Path,
    *,
    include: Sequence[Path] = (),
    scratch: Path | None = None,
    snapshot: bool = True,
    legible: bool = False,
) -> Prepared:
    """Check the data and make all that the site is made of, below ``scratch`` (default: ``build/``).

    ``include`` names package folders of further calculators; ``legible`` leaves their names and lines in the scripts.
    Raises ``Mistakes``.
    """
    scratch = scratch or root / "build"
    check_and_load(root)
    for folder in include:
        if not (folder / "__init__.py").is_file():
            raise Mistakes([f"{folder}: is no package of calculators: it has no __init__.py"])
        sys.path.insert(0, str(folder.resolve().parent))
        catalogue.include(folder.name)
    wheel = build_wheel(root, scratch / "wheel")
    engine = build_runtime(root, scratch / "engine", wheel, list(include), snapshot=snapshot)
    answers = Answers(root / "content", scratch / "answers", stamp(scratch / "wheel"))
    pages = write_pages(root, scratch / "pages", answers=answers, compiled=scratch / "templates")
    titles = {each["id"]: each["title"] for each in calculators()}
    shared = {"messages": messages.PAGE, "job": job_places(), "titles": titles}
    assets = write_assets(root, scratch / "pages", shared, legible=legible)
    write_manifest(root, scratch / "pages")
    write_licences(root, scratch / "pages")
    write_job_files(scratch / "pages", answers)
    shutil.copytree(scratch / "engine", scratch / "pages" / "engine", ignore=shutil.ignore_patterns(".*"))
    _copy_templates(root / "theme", scratch / "theme")
    return Prepared(
        scratch,
        {
            "nav": navigation(pages),
            "extra": {
                "assets": assets,
                "engine": engine,
                "messages": messages.PAGE,
                "stages": [{**each, "how_tos": _how_tos(pages, each["id"])} for each in stages()],
                "calculators": calculators(),
                "footer": [{"title": page.meta["title"], "url": page.url} for page in pages if page.meta.get("footer")],
            },
        },
        [page.path for page in pages if page.html],
    )


def _how_tos(pages: Sequence[Page], stage: str) -> int:
    """Return how many how-tos a stage has."""
    return sum(page.meta.get("kind") == "how-to" and page.meta.get("stage") == stage for page in pages)


def publish(
    prepared: Prepared, root: Path, out: Path, *, site_url: str, repo_url: str = "", offline: bool = True
) -> None:
    """Make the site for ``site_url`` in ``out``, which is replaced only once all has gone well.

    Raises ``Mistakes``.
    """
    if out.exists() and any(out.iterdir()) and not (out / "sitemap.xml").is_file():
        raise Mistakes(
            [f"{out}: holds something that is no built site, and would be replaced. Name another with --out"]
        )
    making = prepared.scratch / "site"
    shutil.rmtree(making, ignore_errors=True)
    settings: dict[str, Any] = {
        "INHERIT": str(root / "mkdocs.yml"),
        "docs_dir": str(prepared.scratch / "pages"),
        "site_dir": str(making),
        "site_url": site_url if site_url.endswith("/") else f"{site_url}/",
        "theme": {"custom_dir": str(prepared.scratch / "theme")},
        **prepared.settings,
    }
    # Without offline use there is no app to install.
    settings["extra"] = {**settings.get("extra", {}), "offline": offline, "manifest": MANIFEST if offline else ""}
    if repo_url:
        settings["repo_url"] = repo_url
    elif not re.search(r"^repo_url:", (root / "mkdocs.yml").read_text("utf-8"), re.MULTILINE):
        settings["edit_uri"] = ""  # useless without the address of the host
    config = prepared.scratch / "mkdocs.yml"
    config.write_text(yaml.safe_dump(settings, allow_unicode=True, sort_keys=False), "utf-8")
    run_mkdocs(config, prepared.html)
    for pattern in _UNUSED:
        for path in sorted(making.glob(pattern)):
            shutil.rmtree(path) if path.is_dir() else path.unlink()
    _split_index(making / "search")
    lighten_theme_script(making / "assets" / "javascripts")
    write_policy(making)
    if offline:
        write_offline_worker(making)
    old = out.with_name(f".{out.name}.old")
    shutil.rmtree(old, ignore_errors=True)
    if out.exists():
        out.rename(old)
    out.parent.mkdir(parents=True, exist_ok=True)
    shutil.move(making, out)
    shutil.rmtree(old, ignore_errors=True)


def _split_index(folder: Path) -> None:
    """Give the theme an empty index, since every page loads it; the search worker loads the full one on the first
    search.
    """
    index = folder / "search_index.json"
    if not index.is_file():
        return
    whole = json.loads(index.read_text("utf-8"))
    index.rename(folder / "whole_index.json")
    index.write_text(json.dumps({**whole, "docs": []}), "utf-8")


def run_mkdocs(config: Path, html: Sequence[Path] = ()) -> None:
    """Run mkdocs, strictly; ``html`` are the pages that need no Markdown.

    Raises ``Mistakes`` with every warning and error that it gave.
    """
    heard = _Warnings()
    log = logging.getLogger("mkdocs")
    log.addHandler(heard)
    try:
        settings = load_config(str(config), strict=True)
        settings.plugins["html_pages"] = HtmlPages(html)
        mkdocs_build(settings)
    except (Abort, MkDocsException) as error:
        raise Mistakes(heard.texts or [str(error)]) from error
    finally:
        log.removeHandler(heard)


class _Warnings(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.texts: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.texts.append(record.getMessage())


def navigation(pages: Sequence[Page]) -> list[dict[str, Any]]:
    """Return mkdocs' navigation: the home page, the nine stages in order, then everything else.

    Within a folder ``index.md`` comes first, then pages by ``order:`` in their front matter, then by name.
    """
    folders: dict[str, list[Page]] = {}
    for page in pages:
        if page.listed:
            folders.setdefault(page.path.parent.as_posix(), []).append(page)
    order = [".", *(stage["id"] for stage in stages())]
    top: list[dict[str, Any]] = []
    for name in sorted(folders, key=lambda each: (order.index(each) if each in order else len(order), each)):
        inside = sorted(
            folders[name],
            key=lambda page: (page.path.name != "index.md", page.meta.get("order", 1000), page.path.as_posix()),
        )
        entries = [{page.meta["title"]: page.path.as_posix()} for page in inside]
        if name == ".":
            top += entries
        else:
            first = inside[0]
            title = first.meta["title"] if first.path.name == "index.md" else name.capitalize()
            top.append({title: entries})
    return top


def _copy_templates(theme: Path, out: Path) -> None:
    """Copy the theme's templates for mkdocs, without the folders that are served separately."""
    shutil.rmtree(out, ignore_errors=True)
    for path in sorted(theme.rglob("*")):
        name = path.relative_to(theme)
        if path.is_file() and name.parts[0] not in (*SERVED, *BUNDLED):
            (out / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, out / name)
    if not (out / "main.html").is_file():
        raise Mistakes(["theme/main.html: is missing"])
