"""Pages: the Markdown that mkdocs reads, printed from content, tables and calculators.

``content/**/*.md`` goes through jinja2 first, so that a page can name a calculator, a table or a drawing and has the
real thing in its place. Each calculator has a page of its own, printed from its declaration with its worked example
answered; a page of the same name in ``content/`` stands in for it and calls ``{{ calculator("id") }}`` for the form.
"""

from __future__ import annotations

import hashlib
import inspect
import json
import re
import shutil
import traceback
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

import jinja2
import yaml

from builder import cautions, figures_in_steps, kinds, licences, of_job, waits, web_pictures, worked
from builder.answers import Answers
from builder.check_file import LOADER
from builder.how_to import how_to
from builder.job_page import job_page, list_columns
from builder.mistakes import Mistakes
from builder.next_pages import next_of
from builder.table_pages import TablePrinter, pages_of_tables, url_of, write_files
from calculators import catalogue, messages, numbers, tables
from calculators.declare import Calculator
from calculators.declare.result import SECTIONS
from calculators.stages import STAGES
from calculators.view import default_view, describe

_FRONT_MATTER = re.compile(r"\A---\n(.*?\n)---\n", re.DOTALL)
_FRONT_END = "---\n"
_BLANK_LINES = re.compile(r"\n\s*\n")


@dataclass(frozen=True)
class Page:
    """A page: its path below the folder of pages, its front matter, and whether it is in navigation, and all HTML."""

    path: Path
    meta: Mapping[str, Any]
    listed: bool = True
    html: bool = False

    @property
    def url(self) -> str:
        """The page's address, relative to the site."""
        return url_of(self.path)


@dataclass
class _Printer:
    """Prints what a page asks for by name."""

    root: Path
    templates: jinja2.Environment
    tables: TablePrinter
    answers: Answers
    calculator_pages: set[str] = field(default_factory=set)

    def globals(self) -> dict[str, Any]:
        return {
            "calculator": self.calculator,
            "table": self.table,
            "figure": self.figure,
            "values": lambda: _block(self.tables.values()),
            "row": _known(tables.row, "There is no such row"),
            "wait": self.wait,
            "worked": self.worked,
            "shown": self.shown,
            "stages": stages(),
            "calculators": calculators(),
            "picture_calculators": [each for each in calculators() if _takes_picture(each["id"])],
            "job": self.job,
            **of_job.names(self.templates),
            "list_columns": lambda: _block(list_columns()),
            "service_asks": messages.SERVICE_ASKS,
            "made_of": lambda base: _block(licences.table(base)),
            "web_pictures": lambda: web_pictures.read(self.root),
        }

    def calculator(self, id: str) -> str:
        found = _known(catalogue.find, "There is no such calculator")(id)
        self.calculator_pages.add(id)
        described = describe(found)
        if missing_macros := list(kinds.missing_macros(self.templates, described)):
            raise ValueError("; ".join(missing_macros))
        macros: Any = self.templates.get_template("calculator.html").module
        sources = tables.by_id("sources")
        return _block(
            macros.calculator(
                described,
                self.answers.of(found, "view", {}, lambda: default_view(found)["view"]),
                messages.PAGE,
                sources,
                "../" * _calculator_url(found).count("/"),
            ),
            macros.inputs(described, messages.PAGE),
        )

    def job(self) -> str:
        macros: Any = self.templates.get_template("job.html").module
        places = {each["id"]: {"title": each["title"], "url": each["url"]} for each in calculators()}
        return _block(macros.page(job_page(), places))

    def table(self, id: str) -> str:
        return _block(_known(self.tables.table, "There is no such table")(id))

    def figure(self, name: str) -> str:
        path = self.root / "content" / "figures" / f"{name}.svg"
        if not path.is_file():
            raise _Unknown(f"There is no drawing content/figures/{name}.svg")
        return _block(f'<figure class="dw-figure">\n{path.read_text("utf-8")}\n</figure>')

    def wait(self, id: str, part: str = "usual") -> str:
        row = _known(lambda id: tables.row("drying-times", id), "There is no such wait")(id)
        if part not in waits.PARTS:
            raise _Unknown(f"A wait has no such part: {part}. It is one of {', '.join(waits.PARTS)}")
        return waits.wait_html(row, part, self.tables.link("drying-times", id))

    def with_cautions(self, page: Page, body: str) -> str:
        """Return the body of a page with cautions for the hazards that it names."""
        return cautions.with_card(self.templates, body, page.meta, "../" * page.url.count("/") + cautions.SAFETY)

    def worked(self, id: str, **typed: Any) -> Any:
        """Return the results of a calculator, as ``worked.worked`` has them."""
        return self._answer(worked.worked, id, typed)

    def shown(self, id: str, **typed: Any) -> dict[str, Any]:
        """Return the results of a calculator as its page shows them."""
        results: dict[str, Any] = self._answer(worked.shown, id, typed)
        return results

    def _answer(self, way: Callable[..., Any], id: str, typed: Mapping[str, Any]) -> Any:
        calculator = _known(catalogue.find, "There is no such calculator")(id)
        return self.answers.of(calculator, way.__name__, typed, lambda: way(self.root / "content", calculator, typed))


class _Unknown(Exception):
    """A page refers to something that does not exist."""


def stages() -> list[dict[str, str]]:
    """Return the nine stages in order, each with the question that it answers and its address."""
    return [
        {"id": id, "title": id.capitalize(), "question": question, "url": f"{id}/"} for id, question in STAGES.items()
    ]


def calculators() -> list[dict[str, str]]:
    """Return every calculator in order, with the address of its page."""
    return [
        {"id": each.id, "title": each.title, "summary": each.summary, "stage": each.stage, "url": _calculator_url(each)}
        for each in catalogue.every().values()
    ]


def _takes_picture(id: str) -> bool:
    return any(field.metadata["field"].kind == "picture" for field in fields(catalogue.find(id).inputs))


def write_pages(root: Path, out: Path, *, answers: Answers | None = None, compiled: Path | None = None) -> list[Page]:
    """Print every page of ``root`` into ``out``, which is emptied first, and return them.

    ``answers`` is a cache of calculators' answers (default: calculate all), ``compiled`` a folder for compiled
    templates (default: compile all).

    Raises ``Mistakes`` with all that is wrong in any page, each with its file and line.
    """
    shutil.rmtree(out, ignore_errors=True)
    content = root / "content"
    cache = _cache(compiled)
    templates = _templates(root, cache)
    printer = _Printer(root, templates, TablePrinter(templates, pages_of_tables(content)), answers or Answers(content))
    mistakes: list[str] = []
    pages = _write_content(root, out, printer, cache, mistakes)
    pages += _write_calculators(root, out, printer, mistakes)
    if mistakes:
        raise Mistakes(mistakes)
    pages += _write_rows(out, printer, pages)
    write_files(out)
    return pages


def _cache(folder: Path | None) -> jinja2.BytecodeCache | None:
    """Return a cache of compiled templates; it is a new one if this module is, since that has their settings."""
    if folder is None:
        return None
    own = folder / hashlib.sha256(Path(__file__).read_bytes()).hexdigest()[:16]
    if not own.is_dir():
        shutil.rmtree(folder, ignore_errors=True)
        own.mkdir(parents=True)
    return jinja2.FileSystemBytecodeCache(str(own))


def _templates(root: Path, cache: jinja2.BytecodeCache | None) -> jinja2.Environment:
    templates = jinja2.Environment(
        bytecode_cache=cache,
        loader=jinja2.FileSystemLoader(root / "builder" / "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    templates.filters["plain"] = numbers.plain
    templates.globals["sections"] = SECTIONS
    return templates


def _write_content(
    root: Path, out: Path, printer: _Printer, cache: jinja2.BytecodeCache | None, mistakes: list[str]
) -> list[Page]:
    """Write what is in ``content/`` and return its pages; what is wrong in them is added to ``mistakes``."""
    content = root / "content"
    environment = jinja2.Environment(
        bytecode_cache=cache,
        loader=jinja2.FileSystemLoader(content),
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        keep_trailing_newline=True,
        # The usual {# would swallow the ids of headings: ## Title {#id}
        comment_start_string="{##",
        comment_end_string="##}",
    )
    environment.globals.update(printer.globals())
    own_pages = {each["url"] for each in calculators()}
    pages: list[Page] = []
    metas = _front_matters(content)
    titles = {each["url"]: each["title"] for each in calculators()}
    titles |= {Page(name, meta).url: meta["title"] for name, meta in metas.items()}
    for path in sorted(content.rglob("*")):
        name = path.relative_to(content)
        if path.is_dir() or name.parts[0] == "figures":
            continue
        target = out / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if path.suffix != ".md":
            shutil.copyfile(path, target)
            continue
        printer.tables.go_to(Page(name, {}).url)
        try:
            text = figures_in_steps.indent(environment.get_template(name.as_posix()).render())
            meta = front_matter(text)
            leads = next_of(name, {**metas, name: meta}, titles)
        except Exception as error:  # an expression in a page may raise anything
            mistakes.append(_located(error, root, path))
            continue
        page = Page(name, meta)
        target.write_text(_completed(text, page, leads, printer), "utf-8")
        pages.append(Page(name, meta, listed=page.url not in own_pages))
    return pages


def _completed(text: str, page: Page, leads: Any, printer: _Printer) -> str:
    """Return a page with its cautions; its front matter also gets the next steps, and what search needs of a how-to."""
    end = text.index(f"\n{_FRONT_END}", len(_FRONT_END)) + 1
    front, body = text[:end], text[end + len(_FRONT_END) :]
    more: dict[str, Any] = {"leads": leads} if leads else {}
    if page.meta.get("kind") == "how-to":
        # Rank how-tos first: other pages may use the searched words more often.
        more |= {"how_to": how_to(page.meta, body), **({} if "search" in page.meta else {"search": {"boost": 3}})}
    front += "".join(f"{part}: {json.dumps(value, ensure_ascii=False)}\n" for part, value in more.items())
    return f"{front}{_FRONT_END}{printer.with_cautions(page, body)}"


def _write_calculators(root: Path, out: Path, printer: _Printer, mistakes: list[str]) -> list[Page]:
    """Write the pages of calculators that have none in ``content/``, and return them."""
    pages: list[Page] = []
    for each in catalogue.every().values():
        name = Path(_calculator_url(each).rstrip("/") + ".md")
        if (root / "content" / name).exists():
            if each.id not in printer.calculator_pages and not mistakes:
                mistakes.append(
                    f"content/{name}:1: stands in for the page of the calculator {each.id} but has no "
                    f'{{{{ calculator("{each.id}") }}}}'
                )
            continue
        meta = _calculator_meta(each)
        try:
            body = printer.calculator(each.id)
        except Exception as error:  # a calculator may raise anything
            mistakes.append(_located(error, root, root / name))
            continue
        pages.append(_write_page(out, name, meta, printer.with_cautions(Page(name, meta), body)))
    return pages


def _write_rows(out: Path, printer: _Printer, others: Sequence[Page]) -> list[Page]:
    """Write the pages of rows and return them.

    Raises ``Mistakes`` where one would stand in the place of another page.
    """
    stage_of = {page.path.as_posix(): page.meta.get("stage", "") for page in others}
    pages: list[Page] = []
    for of_table, place, meta, body in printer.tables.rows():
        meta["stage"] = stage_of[of_table.as_posix()]
        if str(place) in stage_of:
            raise Mistakes(
                [f"{meta['source']}:1:1: its page would have the address of content/{place}. Give the row another id"]
            )
        name = Path(place)
        pages.append(_write_page(out, name, meta, printer.with_cautions(Page(name, meta), _block(body))))
    return pages


def _write_page(out: Path, name: Path, meta: dict[str, Any], body: str) -> Page:
    """Write a page of HTML that stands in no folder of ours, and return it; it is out of navigation."""
    path = f"{out}/{name}"
    # JSON is valid YAML and is written a hundred times faster.
    text = f"---\n{json.dumps(meta, ensure_ascii=False)}\n---\n{body}".encode()
    # "x": no two pages may have one place.
    try:
        with open(path, "xb") as file:
            file.write(text)
    except FileNotFoundError:
        Path(path).parent.mkdir(parents=True)
        with open(path, "xb") as file:
            file.write(text)
    return Page(name, meta, listed=False, html=True)


def _front_matters(content: Path) -> dict[Path, dict[str, Any]]:
    """Return the front matter of every page that has one, as it is written.

    What is wrong with the others is told when they are printed.
    """
    found = {}
    for path in sorted(content.rglob("*.md")):
        try:
            found[path.relative_to(content)] = front_matter(path.read_text("utf-8"))
        except (ValueError, yaml.YAMLError):
            continue
    return found


def front_matter(text: str) -> dict[str, Any]:
    """Return the front matter of a page. Raises ``ValueError`` where it has none or no title."""
    found = _FRONT_MATTER.match(text)
    if not found:
        raise ValueError("begins without front matter: a line ---, then title: and description:, then a line ---")
    meta = yaml.load(found[1], Loader=LOADER)
    for name in ("title", "description"):
        if not isinstance(meta, dict) or not isinstance(meta.get(name), str):
            raise ValueError(f"has no {name}: in its front matter")
    return dict(meta)


def _calculator_url(calculator: Calculator) -> str:
    return f"{calculator.stage}/{calculator.id}/"


def _calculator_meta(calculator: Calculator) -> dict[str, Any]:
    source = Path(inspect.getsourcefile(calculator.compute) or "")
    ours = Path(messages.__file__).parents[2]
    return {
        "title": calculator.title,
        "description": calculator.summary,
        "stage": calculator.stage,
        "kind": "calculator",
        **({"source": source.relative_to(ours).as_posix()} if source.is_relative_to(ours) else {}),
        "hide": ["toc"],
        "search": {"boost": 3.5},  # a little above how-tos
        **({"tags": list(calculator.also)} if calculator.also else {}),
    }


def _block(*parts: object) -> str:
    """Return HTML as one block that Markdown leaves alone: no blank line within, one on each side."""
    return "\n\n" + "\n\n".join(_BLANK_LINES.sub("\n", str(part).strip()) for part in parts) + "\n\n"


def _known(look_up: Callable[..., Any], otherwise: str) -> Callable[..., Any]:
    def found(*key: str) -> Any:
        try:
            return look_up(*key)
        except KeyError:
            raise _Unknown(f"{otherwise}: {' '.join(key)}") from None

    return found


def _located(error: Exception, root: Path, page: Path) -> str:
    """Return a mistake of a page as ``file:line: text``, at the innermost line of a page or template."""
    path, line = page, 1
    if isinstance(error, jinja2.TemplateSyntaxError):
        path, line = Path(error.filename or page), error.lineno
    else:
        for frame in traceback.extract_tb(error.__traceback__):
            if frame.filename.endswith((".md", ".html")):
                path, line = Path(frame.filename), frame.lineno or 1
    what = str(error) if isinstance(error, (_Unknown, ValueError, jinja2.TemplateError)) else repr(error)
    place = path.relative_to(root) if path.is_relative_to(root) else path
    return f"{place.as_posix()}:{line}: {what}"
