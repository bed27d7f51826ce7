"""From content to the Markdown that mkdocs reads. The content here is made up; the calculators are the real ones."""

import re
from pathlib import Path
from xml.etree import ElementTree

import markdown
import pytest
import yaml

from builder.answers import Answers
from builder.mistakes import Mistakes
from builder.pages import Page, calculators, front_matter, stages, write_pages
from builder.waits import seconds
from calculators import catalogue, tables

ROOT = Path(__file__).resolve().parents[2]
FRONT = "---\ntitle: A page\ndescription: What it says.\n---\n"


@pytest.fixture
def root(tmp_path):
    """A project with the real templates and one page."""
    (tmp_path / "builder").mkdir()
    (tmp_path / "builder" / "templates").symlink_to(ROOT / "builder" / "templates")
    write(tmp_path, "index.md", FRONT + "Words.\n")
    return tmp_path


def write(root, name, text):
    path = root / "content" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")


def printed_all(root):
    """Print every page. Calculators' answers are shared by all tests, since they are the same in each."""
    return write_pages(root, root / "out", answers=Answers(root / "content", root.parent / "answers", "tests"))


def printed(root, name):
    printed_all(root)
    return (root / "out" / name).read_text("utf-8")


def mistakes_of(root):
    with pytest.raises(Mistakes) as stopped:
        printed_all(root)
    return stopped.value.texts


def test_a_page_without_expressions_is_passed_on_as_it_stands(root):
    text = FRONT + "## A part {#part}\n\nA | b\n--|--\n1 | 2\n"
    write(root, "size/page.md", text)
    assert printed(root, "size/page.md") == text


def test_every_calculator_has_a_page_with_form_and_example(root):
    pages = {page.url: page for page in printed_all(root)}
    assert {each.id for each in catalogue.every().values()} >= {"scale-size", "resolution"}
    for each in catalogue.every().values():
        page = pages[f"{each.stage}/{each.id}/"]
        assert not page.listed
        text = (root / "out" / page.path).read_text("utf-8")
        meta = front_matter(text)
        assert (meta["title"], meta["description"]) == (each.title, each.summary)
        assert (ROOT / meta["source"]).is_file()
        assert text.count(f'data-calculator="{each.id}"') == 1


def test_the_worked_example_is_answered_in_the_page(root):
    # models.md: the eye resolves 25.4 / (2 d tan(1/120 degree)) ppi, 291.06 at d = 300 mm.
    page = printed(root, "artwork/resolution.md")
    row = re.search(r'<tr[^>]*data-result="eye_ppi".*?</tr>', page, re.DOTALL)
    assert row and re.search(r">\s*291(\.\d+)?\s*<", row[0])


def test_inserted_html_is_one_block_without_blank_lines(root):
    body = printed(root, "size/scale-size.md").split("---\n", 2)[2]
    blocks = [block for block in re.split(r"\n\s*\n", body) if block.strip()]
    assert [block for block in blocks if not block.startswith("<")] == []


def test_a_page_of_content_stands_in_for_the_calculators_own(root):
    write(root, "size/scale-size.md", FRONT + 'Before.\n\n{{ calculator("scale-size") }}\n\nAfter.\n')
    text = printed(root, "size/scale-size.md")
    assert "Before." in text and "After." in text and 'data-calculator="scale-size"' in text
    page = next(page for page in printed_all(root) if page.url == "size/scale-size/")
    assert not page.listed


def test_a_page_that_stands_in_must_hold_the_calculator(root):
    write(root, "size/scale-size.md", FRONT + "Nothing here.\n")
    assert mistakes_of(root) == [
        (
            "content/size/scale-size.md:1: stands in for the page of the calculator scale-size but has no "
            '{{ calculator("scale-size") }}'
        )
    ]


def test_a_table_shows_every_row(root):
    write(root, "size/scales.md", FRONT + '{{ table("scales") }}\n')
    text = printed(root, "size/scales.md")
    assert all(f'id="{row.id}"' in text for row in tables.load("scales"))


def test_a_drawing_is_put_into_the_page(root):
    write(root, "figures/steps.svg", '<svg viewBox="0 0 1 1">\n\n<path d="M0 0"/></svg>')
    write(root, "size/page.md", FRONT + '{{ figure("steps") }}\n')
    assert '<svg viewBox="0 0 1 1">\n<path d="M0 0"/></svg>' in printed(root, "size/page.md")
    assert not (root / "out" / "figures").exists()


def test_a_page_can_work_with_results_and_rows(root):
    write(
        root,
        "size/page.md",
        FRONT
        + (
            '{{ "%.2f" | format(worked("resolution", viewing_distance_mm="300 mm").eye_ppi) }} '
            '{{ row("papers", "a4").width.value }}\n'
        ),
    )
    # models.md for the eye; ISO 216 for the width of A4.
    assert printed(root, "size/page.md").endswith("291.06 210\n")


def test_a_wait_is_printed_with_its_timer_data(root):
    write(root, "apply/page.md", FRONT + 'For {{ wait("soak") }}.\n')
    row = tables.row("drying-times", "soak")
    span = ElementTree.fromstring(re.search(r"<span.*</span>", printed(root, "apply/page.md"))[0])
    assert "".join(span.itertext()) == f"{row.usual.low} to {row.usual.high}\N{NO-BREAK SPACE}s"
    assert span.get("class") == "dw-wait" and span.get("data-wait") == "soak"
    assert (span.get("data-low-s"), span.get("data-high-s")) == (str(row.usual.low), str(row.usual.high))
    assert (span.get("data-label"), span.get("data-ends")) == (row.label, row.ends)


@pytest.mark.parametrize(
    ("low", "high", "unit", "words", "low_s", "high_s"),
    [
        # ISO 80000-3: 1 min = 60 s, 1 h = 3600 s, 1 d = 86 400 s.
        (10, 30, "s", "10 to 30 s", "10", "30"),
        (1.5, 1.5, "min", "1.5 min", "90", "90"),
        (12, 24, "h", "12 to 24 h", "43200", "86400"),
        (1, 2, "d", "1 to 2 days", "86400", "172800"),
        (1, 1, "d", "1 day", "86400", "86400"),
    ],
)
def test_waits_in_words_and_in_seconds(low, high, unit, words, low_s, high_s):
    wait = tables.Fact(low, high, unit, "common-practice")
    assert wait.in_words.replace("\N{NO-BREAK SPACE}", " ") == words
    assert seconds(wait) == (low_s, high_s)


def test_a_wait_links_to_its_row(root):
    write(root, "reference/times.md", FRONT + '{{ table("drying-times") }}\n')
    write(root, "apply/page.md", FRONT + 'For {{ wait("soak", "longest") }}.\n')
    assert '<a href="../../reference/drying-times/soak/">60\N{NO-BREAK SPACE}s</a>' in printed(root, "apply/page.md")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("\n{{ missing }}\n", "content/size/page.md:6: 'missing' is undefined"),
        ("{% if %}\n", "content/size/page.md:5: Expected an expression, got 'end of statement block'"),
        ('{{ calculator("nothing") }}', "content/size/page.md:5: There is no such calculator: nothing"),
        ('{{ table("nothing") }}', "content/size/page.md:5: There is no such table: nothing"),
        ('{{ row("papers", "a99") }}', "content/size/page.md:5: There is no such row: papers a99"),
        ('{{ wait("nothing") }}', "content/size/page.md:5: There is no such wait: nothing"),
        (
            '{{ wait("soak", "mean") }}',
            "content/size/page.md:5: A wait has no such part: mean. It is one of shortest, usual, longest",
        ),
        ('{{ figure("nothing") }}', "content/size/page.md:5: There is no drawing content/figures/nothing.svg"),
    ],
)
def test_a_mistake_is_reported_with_file_and_line(root, text, message):
    write(root, "size/page.md", FRONT + text)
    assert mistakes_of(root) == [message]


def test_a_problem_in_a_requested_result_is_reported(root):
    write(root, "size/page.md", FRONT + '{{ worked("resolution", viewing_distance_mm="far").eye_ppi }}')
    (message,) = mistakes_of(root)
    assert message.startswith("content/size/page.md:5: viewing_distance_mm: ")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("Words.\n", "begins without front matter: a line ---, then title: and description:, then a line ---"),
        ("---\ntitle: A\n---\n", "has no description: in its front matter"),
        ("---\ndescription: A\n---\n", "has no title: in its front matter"),
    ],
)
def test_a_page_needs_its_title_and_description(root, text, message):
    write(root, "size/page.md", text)
    assert mistakes_of(root) == [f"content/size/page.md:1: {message}"]


def test_all_mistakes_are_told_at_once(root):
    write(root, "size/a.md", FRONT + "{{ one }}")
    write(root, "size/b.md", FRONT + "{{ two }}")
    assert mistakes_of(root) == ["content/size/a.md:5: 'one' is undefined", "content/size/b.md:5: 'two' is undefined"]


def test_pages_of_removed_sources_are_deleted(root):
    write(root, "size/old.md", FRONT)
    printed_all(root)
    (root / "content" / "size" / "old.md").unlink()
    printed_all(root)
    assert not (root / "out" / "size" / "old.md").exists()


def test_addresses_follow_from_paths():
    assert Page(Path("index.md"), {}).url == ""
    assert Page(Path("size/index.md"), {}).url == "size/"
    assert Page(Path("size/scales.md"), {}).url == "size/scales/"


def test_the_nine_stages_are_those_of_the_job():
    # job.md, "The stages, in the order of the work".
    names = ["size", "artwork", "underlay", "sheet", "print", "seal", "apply", "finish", "rescue"]
    assert [stage["id"] for stage in stages()] == names
    assert [stage["url"] for stage in stages()] == [f"{name}/" for name in names]


def test_calculators_are_listed_with_the_address_of_their_page():
    listed = {each["id"]: each for each in calculators()}
    assert listed["resolution"]["url"] == "artwork/resolution/"
    assert yaml.safe_load(yaml.safe_dump(calculators())) == calculators()


def test_a_drawing_in_a_step_leaves_the_list_whole(root):
    write(root, "figures/drop.svg", "<svg>\n<text>a *drop*</text>\n</svg>\n")
    write(root, "size/page.md", FRONT + '1. One\n\n    {{ figure("drop") }}\n\n2. Two\n')
    body = printed(root, "size/page.md").split("---\n", 2)[2]
    html = markdown.markdown(body, extensions=["md_in_html", "builder.figures_in_steps"])
    figure = '<figure class="dw-figure"> <svg> <text>a *drop*</text> </svg> </figure>'
    assert re.sub(r"\s*\n\s*", "", html) == f"<ol><li><p>One</p>{figure}</li><li><p>Two</p></li></ol>"
