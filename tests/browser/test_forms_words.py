"""Every sentence of the page's scripts and templates is one of calculators/messages.py, and none there is idle."""

from __future__ import annotations

import re
from pathlib import Path

from calculators.messages import PAGE

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = {path.name: path.read_text("utf-8") for path in (ROOT / "theme" / "scripts").glob("*.mjs")}
TEMPLATE = (ROOT / "builder" / "templates" / "calculator.html").read_text("utf-8")
#: Keys that a script puts together: the fixed beginning, and what may follow.
MADE = {
    "unkept_": ("unavailable", "newer", "older", "failed"),
    "file_": ("too_big", "unreadable"),
    "offline_": ("unavailable", "off", "saving", "ready", "failed", "full"),
}


def used() -> set[str]:
    text = "\n".join(SCRIPTS.values())
    keys = set(re.findall(r'[sS]ay\(\s*"(\w+)"', text))
    for pair in re.findall(r'say\([^()]*\? "(\w+)" : "(\w+)"', text):
        keys.update(pair)
    keys |= {f"{begin}{end}" for begin, ends in MADE.items() for end in ends}
    keys |= set(re.findall(r'#tell\("(\w+)"\)', text))
    for pair in re.findall(r'#tell\(\w+ \? "(\w+)" : "(\w+)"\)', text):
        keys.update(pair)
    for pair in re.findall(r'=== "picture" \? "(\w+)" : "(\w+)"', text):
        keys.update(pair)
    cards = re.search(r"const CARDS = \{(.*?)\}", text)[1]
    keys |= {f"{card}_{part}" for card in re.findall(r': "(\w+)"', cards) for part in ("title", "text")}
    keys |= set(re.findall(r"messages\.(\w+)", TEMPLATE))
    keys |= {key for key in PAGE if key.startswith("takes_")}
    return keys


def test_every_sentence_that_is_used_is_there_and_every_one_there_is_used():
    assert used() == set(PAGE)


def test_no_script_holds_a_sentence():
    """A sentence is two words or more in quotes, the first with a capital. Reports to the console are not shown."""
    found = []
    for name, text in SCRIPTS.items():
        code = re.sub(r"/\*.*?\*/|^\s*//.*$", "", text, flags=re.DOTALL | re.MULTILINE)
        found += [f"{name}: {each}" for each in re.findall(r"[\"'`][A-Z][a-z]+ [a-z]+[^\"'`]*[\"'`]", code)]
    assert not found
