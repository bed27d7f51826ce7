"""Tables as pages and files: no text is executed, every row and source is linked, every value is listed."""

import csv
import html
import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath

import jinja2
import pytest

from builder import cautions, entry_pages, table_pages
from builder.pages import front_matter
from builder.table_pages import TablePrinter, as_csv, as_json, by_status, has_pages, pages_of_tables
from calculators import tables
from calculators.tables import ENTRIES, Fact, Judgement, Origin, Statement
from tests.builder.test_pages import FRONT, mistakes_of, root, write  # noqa: F401 - a fixture

ROOT = Path(__file__).resolve().parents[2]

HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "' onmouseover='alert(1)",
    "</td></tr></table><svg onload=alert(1)>",
    "{{ config }} {% raw %}",
    "<!-- \n\n <iframe src=//example.org>",
    "[a](javascript:alert(1)) ![b](x) <javascript:alert(1)>",
]
FORMULAS = ["=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1+1", "\r=1+1"]


@pytest.fixture(scope="module")
def pages(printed_pages):
    """The printed pages of the real content."""
    return printed_pages[0]


class Seen(HTMLParser):
    """A parsed page: its elements with their attributes, and its text."""

    def __init__(self, printed):
        super().__init__()
        self.elements, self.text = [], ""
        self.feed(str(printed))
        self.close()

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.text += data


def hostile_row(table, text):
    """A row of ``table`` with ``text`` in every part that holds text, bypassing the checks."""
    made = {}
    for name, column in tables.columns(tables.TABLES[table]).items():
        match column.holds:
            case "fact":
                made[name] = Fact(1, 2, text, "iso-216", at=text, status=text, note=text)
            case "texts":
                made[name] = (text, text)
            case "refs":
                made[name] = ()
            case "parts":
                made[name] = (column.row(**dict.fromkeys(tables.columns(column.row), text)),)
            case "judgements":
                made[name] = (Judgement("printers/laser", "never", text),)
            case "statements":
                made[name] = (Statement(text, "iso-216", text, text),)
            case "source":
                made[name] = Origin("iso-216", text)
            case "yes-no":
                made[name] = True
            case "whole":
                made[name] = 2000
            case "ref":
                made[name] = {"printers": "laser", "substrates": "clear-inkjet", "materials": "white-toner"}[
                    column.table[0]
                ]
            case "text" if name == "stage" and table in ENTRIES:
                made[name] = "seal"  # part of an address, and the checker knows all nine
            case _:
                made[name] = text
    return tables.TABLES[table](**made)


#: A swatch is drawn beside a colour only.
SWATCH = {"svg", "rect"}
#: What the pages of tables are made of.
TAGS = set(
    "div label button input p table thead tbody tr th td a ul ol li dl dt dd span small section nav h2 h3".split()
)


@pytest.mark.parametrize("table", tables.TABLES)
@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_no_text_of_a_row_becomes_markup(monkeypatch, table, text):
    row = hostile_row(table, text)
    monkeypatch.setattr(
        table_pages.tables, "load", lambda name, load=tables.load: (row,) if name == table else load(name)
    )
    templates = jinja2.Environment(
        loader=jinja2.FileSystemLoader(ROOT / "builder" / "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    printer = TablePrinter(
        templates,
        {
            table: PurePosixPath("reference/t.md"),
            "sources": PurePosixPath("reference/sources.md"),
            "printers": PurePosixPath("reference/printers.md"),
        },
    )
    texts = [printer.table(table)]
    for _, _, meta, body in printer.rows():
        texts.append(body)
        # The theme prints these without escaping, also into attributes.
        assert not re.search("[<>\"']", meta["title"] + meta["description"])
        assert text in html.unescape(meta["title"])
    coloured = any(column.colour for column in tables.columns(tables.TABLES[table]).values())
    for printed in texts:
        seen = Seen(printed)
        assert {tag for tag, _ in seen.elements} <= (TAGS | SWATCH if coloured else TAGS)
        assert not [
            attributes
            for _, attributes in seen.elements
            if any(name.startswith("on") or name == "style" for name in attributes)
        ]
        assert " ".join(text.split()) in " ".join(seen.text.split())
        addresses = [attributes["href"] for tag, attributes in seen.elements if tag == "a"]
        # An address of a source is checked to be https before it comes here (test_check.py).
        assert [each for each in addresses if each.startswith("javascript")] == []


@pytest.mark.parametrize("formula", FORMULAS)
@pytest.mark.parametrize("table", tables.TABLES)
def test_no_text_is_a_formula_to_a_spreadsheet(table, formula):
    for line in csv.reader(io.StringIO(as_csv(table, [hostile_row(table, formula)]))):
        assert [cell for cell in line if re.match(r"[=+@\t\r]|-(?![\d.]+$)", cell)] == []


def test_a_negative_value_stays_a_number():
    row = hostile_row("solvents", "x")
    cold = row.__class__(**{**vars(row), "flash_point": Fact(-18, -18, "°C", "iso-216", status="read")})
    (line,) = csv.DictReader(io.StringIO(as_csv("solvents", [cold])))
    assert (line["flash_point"], line["flash_point_unit"], line["flash_point_status"]) == ("-18", "°C", "read")


@pytest.mark.parametrize("table", tables.TABLES)
def test_each_table_is_offered_as_files(pages, table):
    text = (pages / "tables" / f"{table}.csv").read_text("utf-8-sig")
    lines = list(csv.DictReader(io.StringIO(text)))
    assert [line["id"] for line in lines] == [row.id for row in tables.load(table)]
    made = json.loads((pages / "tables" / f"{table}.json").read_text("utf-8"))
    assert made["table"] == table
    assert [row["id"] for row in made["rows"]] == [row.id for row in tables.load(table)]
    assert set(made["rows"][0]) == set(made["columns"]) == set(tables.columns(tables.TABLES[table]))


def test_json_carries_value_and_source():
    row = next(each for each in json.loads(as_json("papers", tables.load("papers")))["rows"] if each["id"] == "a4")
    assert row["width"] == {
        "low": 210,
        "high": 210,
        "unit": "mm",
        "source": "iso-216",
        "at": "A series, trimmed size A4",
        "status": "read",
    }


def test_each_table_page_links_its_files_and_rows(pages):
    table_pages = pages_of_tables(ROOT / "content")
    assert set(table_pages) == set(tables.TABLES)
    for table, page in table_pages.items():
        text = (pages / page).read_text("utf-8")
        assert f'href="../../tables/{table}.csv" download' in text
        assert f'href="../../tables/{table}.json" download' in text
        for row in tables.load(table):
            if table in ENTRIES:
                assert f'<li id="entry-{row.id}"><a href="../../rescue/{row.id}/">' in text
                assert (pages / page.parent / f"{row.id}.md").is_file()
                continue
            assert f'<tr id="{row.id}">' in text
            if has_pages(table):
                assert f'<a href="../../reference/{table}/{row.id}/">' in text
                assert (pages / page.parent / table / f"{row.id}.md").is_file()


def test_a_row_page_names_its_data_file_and_stage(pages):
    meta = front_matter((pages / "reference" / "coats" / "clear-lacquer.md").read_text("utf-8"))
    assert meta["source"] == "data/coats.yaml"
    assert meta["stage"] == "seal"
    assert meta["title"] == tables.row("coats", "clear-lacquer").label


def test_the_page_of_an_entry(pages):
    text = (pages / "rescue" / "silvering.md").read_text("utf-8")
    row = tables.row("troubleshooting", "silvering")
    meta = front_matter(text)
    assert (meta["title"], meta["source"], meta["stage"]) == (
        row.title,
        f"data/troubleshooting/{row.id}.yaml",
        "rescue",
    )
    words = " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).split())
    place = 0
    for cause in row.causes:
        for sentence in (cause.cause, cause.test, cause.now):
            place = words.index(entry_pages.plain_sentences(sentence).replace("\N{NO-BREAK SPACE}", " ")[:40], place)
    for related in row.related:
        assert f'<a href="../../rescue/{related}/">' in text
    assert not re.search(r"\{[a-z-]+\}", text)


def test_entry_waits_have_timers_and_link_their_rows(pages):
    for row in tables.load("troubleshooting"):
        text = (pages / "rescue" / f"{row.id}.md").read_text("utf-8")
        for wait in row.waits:
            assert f'data-wait="{wait}"' in text
            assert f'<a href="../../reference/drying-times/{wait}/">' in text


def test_a_hazardous_entry_shows_its_caution_before_causes(pages):
    cautioned = 0
    for row in tables.load("troubleshooting"):
        text = (pages / "rescue" / f"{row.id}.md").read_text("utf-8")
        sentences = " ".join([*row.avoid, *(part for each in row.causes for part in (each.test, each.now))])
        assert text.count('id="cautions"') <= 1
        for hazard in cautions.cautions_for(entry_pages.plain_sentences(sentences)):
            assert text.count(f'data-hazard="{hazard.id}"') == 1
            assert text.index(f'data-hazard="{hazard.id}"') < text.index('id="causes"')
            cautioned += 1
    assert cautioned > 20


def test_an_entry_may_not_take_the_address_of_a_page(root):  # noqa: F811 - a fixture
    write(root, "rescue/index.md", FRONT + '{{ table("troubleshooting") }}\n')
    write(root, "rescue/silvering.md", FRONT)
    assert mistakes_of(root) == [
        (
            "data/troubleshooting/silvering.yaml:1:1: its page would have the address of content/rescue/silvering.md. "
            "Give the row another id"
        )
    ]


def test_every_link_between_rows_leads_somewhere(pages):
    """Mkdocs does not check links in inserted HTML, so this test does."""
    ids = {
        path.relative_to(pages).as_posix(): set(re.findall(r' id="([^"]+)"', path.read_text("utf-8")))
        for path in pages.rglob("*.md")
    }
    broken = []
    for path in [*pages.glob("reference/**/*.md"), *pages.glob("rescue/*.md")]:
        name = path.relative_to(pages)
        here = PurePosixPath(name.as_posix()).with_suffix("")
        for link in re.findall(r'<a href="(\.\.?/[^"]*|[a-z][^":]*)"', path.read_text("utf-8")):
            address, _, anchor = link.partition("#")
            parts: list[str] = list(here.parts)
            for part in address.split("/"):
                if part == "..":
                    parts.pop()
                elif part not in ("", "."):
                    parts.append(part)
            target = "/".join(parts)
            file = (
                target
                if target.startswith("tables/")
                else f"{target}.md"
                if f"{target}.md" in ids
                else f"{target}/index.md"
            )
            if not (pages / file).is_file() or (anchor and anchor not in ids[file]):
                broken.append(f"{name}: {link}")
    assert broken == []


def test_a_renamed_row_forwards_its_page_and_its_place(monkeypatch):
    monkeypatch.setattr(tables, "forwards", lambda table: {"old-lacquer": "clear-lacquer"} if table == "coats" else {})
    templates = jinja2.Environment(loader=jinja2.FileSystemLoader(ROOT / "builder" / "templates"), autoescape=True)
    printer = TablePrinter(templates, pages_of_tables(ROOT / "content"))
    moved = {str(path): body for _, path, _, body in printer.rows()}["reference/coats/old-lacquer.md"]
    assert 'content="0; url=../../../reference/coats/clear-lacquer/"' in moved
    printer.go_to("reference/coats/")
    assert '<span id="old-lacquer"></span>' in printer.table("coats")
    assert tables.row("coats", "old-lacquer") is tables.row("coats", "clear-lacquer")


def test_every_value_is_listed_once_under_how_it_is_known():
    facts = sum(
        isinstance(getattr(row, name), Fact)
        for table, declared in tables.TABLES.items()
        for row in tables.load(table)
        for name in tables.columns(declared)
    )
    found = by_status()
    assert list(found) == ["read", "package", "computed", "common-practice", "estimate", "drawn-up", "memory"]
    listed = [each for known in found.values() for each in known if isinstance(each.value, Fact)]
    assert len(listed) == facts > 200
    for status, each in found.items():
        for known in each:
            if isinstance(known.value, Fact):
                assert status == (known.value.status or known.value.source)


def test_each_paint_colour_has_a_swatch_of_it(pages):
    page = (pages / "reference" / "paint-colours.md").read_text("utf-8")
    colours = [row.colour for row in tables.load("paint-colours")]
    assert [attributes["fill"] for tag, attributes in Seen(page).elements if tag == "rect"] == colours


def test_an_empty_column_is_left_out(pages):
    head = (pages / "reference" / "cautions.md").read_text("utf-8").split("<thead>")[1].split("</thead>")[0]
    assert all(not each.status for each in tables.load("hazards"))
    assert "Caution" in head and "Status" not in head


def test_a_row_omits_false_properties_and_their_cautions(pages):
    # A backing piece is cut from film, so only "Needs spraying: no" would mention a spray.
    row = tables.row("ways", "backing-piece")
    assert not row.sprays
    page = (pages / "reference" / "ways" / "backing-piece.md").read_text("utf-8")
    assert "Needs spraying" not in page and 'data-hazard="blades"' in page and 'data-hazard="spray-mist"' not in page
    # A required true-or-false part is shown with either value.
    assert not tables.row("drying-times", "final-cure").attended
    assert "Somebody must be there" in (pages / "reference" / "drying-times" / "final-cure.md").read_text("utf-8")


@pytest.mark.parametrize(
    ("page", "hazard"),
    [
        # Water with wetting agent is compared with "Clear lacquer, spray can", but is never sprayed.
        ("reference/fluids/water-wetting-agent.md", "spray-mist"),
        # A urethane in one part, carried by water, has no isocyanates.
        ("reference/coats/final-matt-water.md", "isocyanates"),
    ],
)
def test_the_name_of_another_row_calls_for_no_caution(pages, page, hazard):
    assert f'data-hazard="{hazard}"' not in (pages / page).read_text("utf-8")
