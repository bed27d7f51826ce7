"""Common practice without a source, and where how-tos take their figures from."""

import re

import pytest

from tests.content.test_content import CONTENT, body_of, how_tos, name_of, one_line

BENCH_STAGES = ("seal", "apply", "finish", "rescue")

#: What pages must state although no source publishes it.
PRACTICE = {
    "seal/judge-the-ink.md": ("fingertip", "waste corner", "smudge"),
    "seal/seal-a-sheet.md": ("look along it against the light", "sealer has missed every dull patch"),
    "apply/float-a-marking-off.md": ("large piece may stay in the water a little longer",),
    "apply/blot-from-the-middle.md": ("blot, do not rub", "middle"),
    "rescue/remove-from-gloss.md": ("fresh markings come off cured gloss with pressed-down tape",),
    "rescue/remove-from-flat-paint.md": ("on flat primer or flat paint, tape can pull the primer off",),
    "finish/why.md": ("clear edges show on plain gloss", "on plain gloss a stencil is the better way"),
}

#: A figure with a unit written in the text itself instead of coming from a table.
_TYPED = re.compile(r"\d\s*(?:mm|cm|µm|°C|%|s|min|h|d|seconds?|minutes?|hours?|days?|weeks?)\b")
_FILLED = re.compile(r"\{\{.*?\}\}|\{%.*?%\}", re.DOTALL)
_WRITTEN = re.compile(
    r"\b(?:two|three|four|five|six|eight|ten|twelve) (?:minutes|hours|days|weeks)\b"
    r"|\b(?:for|after|wait|rest)(?: for)? (?:an?|half an) (?:minute|hour|day|week)\b"
)


@pytest.mark.parametrize("name", PRACTICE)
def test_common_practice_is_marked_where_used(name):
    text = one_line(body_of(CONTENT / name).replace("**", ""))
    assert [words for words in PRACTICE[name] if words not in text] == []
    assert "common practice" in text


def bench_how_tos():
    return [page for page in how_tos() if name_of(page).split("/")[0] in BENCH_STAGES]


@pytest.mark.parametrize("page", bench_how_tos(), ids=name_of)
def test_waits_and_distances_at_the_bench_come_from_the_tables(page):
    text = _FILLED.sub("", body_of(page))
    assert _TYPED.findall(text) + _WRITTEN.findall(text) == []


@pytest.mark.parametrize("stage", BENCH_STAGES)
def test_a_stage_leads_to_each_of_its_how_tos(stage):
    index = body_of(CONTENT / stage / "index.md")
    missing = [page.name for page in how_tos() if page.parent.name == stage and f"]({page.name})" not in index]
    assert missing == []


@pytest.mark.parametrize("page", bench_how_tos(), ids=name_of)
def test_a_step_at_the_bench_is_short(page):
    text = _FILLED.sub("", body_of(page))
    steps = re.findall(r"^\d+\. (.*?)(?=\n\d+\. |\n\n|\Z)", text, re.MULTILINE | re.DOTALL)
    assert [step for step in steps if len(re.findall(r"[.!?](?:\s|$)", step)) > 3] == []
