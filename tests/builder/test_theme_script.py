"""The theme's script as the site serves it: one change, and a stop where the theme is another."""

from __future__ import annotations

from pathlib import Path

import material
import pytest

from builder.mistakes import Mistakes
from builder.theme_script import lighten_theme_script

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
    assert 0 < len(after) - len(before) < 100


def test_another_theme_script_stops_the_build(tmp_path):
    copied(tmp_path)
    lighten_theme_script(tmp_path)
    with pytest.raises(Mistakes, match="has no"):
        lighten_theme_script(tmp_path)
