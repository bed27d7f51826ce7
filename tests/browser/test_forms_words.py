"""Every sentence of scripts and templates is in calculators/messages/, and every sentence there is used."""

from __future__ import annotations

import re
from pathlib import Path

from calculators.jobs.page_sentences import WORDS as JOB_PAGE
from calculators.jobs.strip_sentences import STRIP
from calculators.messages import PAGE
from calculators.tables import MARKS

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = {str(path): path.read_text("utf-8") for path in (ROOT / "theme" / "scripts").rglob("*.mjs")}
TEMPLATES = {
    str(path): path.read_text("utf-8")
    for folder in ("builder/templates", "theme")
    for path in (ROOT / folder).rglob("*.html")
}
#: How scripts and templates start a composed key, before its last part.
BEGUN = re.compile(r"""`(\w+_)\$\{|["'](\w+_)["'] ~""")
#: How they end a key that starts with a mark instead of a source.
ENDED = re.compile(r"""~ ["'](_\w+)["']\]""")
#: The outcomes that have a card of their own, each with a title and a text.
CARDS = ("no_engine_", "no_wasm_", "too_long_", "stopped_", "fault_")
NAMED = re.compile(r"""[sS]ay\(\s*"(\w+)"|messages\.(?!py\b)(\w+)""")


def keys(pattern: re.Pattern[str]) -> set[str]:
    texts = [*SCRIPTS.values(), *TEMPLATES.values()]
    return {key for text in texts for found in pattern.finditer(text) for key in found.groups() if key}


def test_every_named_sentence_exists():
    assert keys(NAMED) - {*PAGE, *JOB_PAGE, *STRIP} == set()
    assert len(keys(NAMED)) > 40


def test_every_sentence_is_used():
    """By its full name, or by a composed name: from a start above, or from one of the outcomes' cards."""
    texts = "\n".join([*SCRIPTS.values(), *TEMPLATES.values()])
    begun = tuple(keys(BEGUN))
    marks = {mark.replace("-", "_") for mark in MARKS}
    of_marks = marks | {mark + end for mark in marks for end in keys(ENDED)}
    idle = [
        key
        for key in PAGE
        if not re.search(rf"\b{key}\b", texts) and not key.startswith(begun + CARDS) and key not in of_marks
    ]
    assert idle == []


def test_no_script_contains_a_sentence():
    """A sentence is two words or more in quotes, the first with a capital. Reports to the console are not shown."""
    found = []
    for name, text in SCRIPTS.items():
        code = re.sub(r"/\*.*?\*/|^\s*//.*$", "", text, flags=re.DOTALL | re.MULTILINE)
        found += [f"{name}: {each}" for each in re.findall(r"[\"'`][A-Z][a-z]+ [a-z]+[^\"'`]*[\"'`]", code)]
    assert not found
