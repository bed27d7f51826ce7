"""The theme's script as the site serves it: two changes, and a stop where the theme is another."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import material
import pytest

from builder.mistakes import Mistakes
from builder.theme_script import lighten_theme_script
from tests.tools import program

THEIRS = Path(material.__file__).parent / "templates" / "assets" / "javascripts"


def copied(folder: Path) -> Path:
    script = next(THEIRS.glob("bundle.*.min.js"))
    (folder / script.name).write_bytes(script.read_bytes())
    return folder / script.name


def test_style_sheets_keep_their_address_when_a_page_starts(tmp_path):
    script = copied(tmp_path)
    before = script.read_text("utf-8")
    lighten_theme_script(tmp_path)
    after = script.read_text("utf-8")
    assert "t.dwAddress=t.href" in after
    assert 0 < len(after) - len(before) < 200


def test_a_request_is_sent_in_a_task_of_its_own_and_can_be_stopped(tmp_path):
    script = copied(tmp_path)
    lighten_theme_script(tmp_path)
    # The theme's only function that asks for something: of an address it makes what subscribes and unsubscribes.
    text = script.read_text("utf-8")
    start = text.rindex("function", 0, text.index("new XMLHttpRequest"))
    function = text[start : text.index("}function", start) + 1]
    name = function.split("(")[0].removeprefix("function ")
    observable = re.search(r"return new (\w+)\(", function).group(1)
    played = f"""
      const happened = [];
      const note = (what) => () => happened.push(what);
      class XMLHttpRequest {{ open() {{}} addEventListener() {{}} send = note("sent"); abort = note("stopped"); }}
      class {observable} {{ constructor(subscribe) {{ this.subscribe = subscribe; }} }}
      {function}
      {name}("a").subscribe({{}});
      {name}("b").subscribe({{}})();
      happened.push("task over");
      setTimeout(() => console.log(happened.join()), 5);
    """
    node = subprocess.run([program("node", package="nodejs"), "-e", played], capture_output=True, text=True, check=True)
    assert node.stdout.strip() == "stopped,task over,sent"


def test_another_theme_script_stops_the_build(tmp_path):
    copied(tmp_path)
    lighten_theme_script(tmp_path)
    with pytest.raises(Mistakes, match="has no"):
        lighten_theme_script(tmp_path)
