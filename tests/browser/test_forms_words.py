"""Every sentence of the page's scripts and templates is one of calculators/messages/, and none there is idle."""

from __future__ import annotations

import re
from pathlib import Path

from calculators.messages import PAGE
from calculators.tables import MARKS

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = {str(path): path.read_text("utf-8") for path in (ROOT / "theme" / "scripts").rglob("*.mjs")}
TEMPLATES = {
    str(path): path.read_text("utf-8")
    for folder in ("builder/templates", "theme")
    for path in (ROOT / folder).rglob("*.html")
}
#: How a script or a template begins a key that it puts together; what may follow is the last part.
BEGUN = re.compile(r"""`(\w+_)\$\{|["'](\w+_)["'] ~""")
#: And how one ends a key that begins with a mark in place of a source.
ENDED = re.compile(r"""~ ["'](_\w+)["']\]""")
#: The outcomes that have a card of their own, each with a title and a text.
CARDS = ("no_engine_", "no_wasm_", "too_long_", "stopped_", "fault_")
NAMED = re.compile(r"""[sS]ay\(\s*"(\w+)"|messages\.(?!py\b)(\w+)""")


def keys(pattern: re.Pattern[str]) -> set[str]:
    texts = [*SCRIPTS.values(), *TEMPLATES.values()]
    return {key for text in texts for found in pattern.finditer(text) for key in found.groups() if key}


def test_every_named_sentence_exists():
    assert keys(NAMED) - set(PAGE) == set()
    assert len(keys(NAMED)) > 40


def test_every_sentence_is_used():
    """By its whole name, or by a name put together: from a beginning here, or from one of the outcomes' cards."""
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
