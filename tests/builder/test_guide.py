"""The guide for contributors: what it shows is in order as it stands, remarks and all."""

import re
import shutil
from pathlib import Path

from builder.check import check

ROOT = Path(__file__).resolve().parents[2]


def test_the_entry_of_the_guide_passes_the_check(tmp_path):
    guide = (ROOT / "data" / "README.md").read_text("utf-8")
    (entry,) = re.findall(r"```yaml\n(# yaml-language-server: \$schema=\.\./schemas/troubleshooting\.json\n.*?)```", guide, re.DOTALL)
    shutil.copytree(ROOT / "data", tmp_path / "data")
    assert check(tmp_path) == []
    (tmp_path / "data" / "troubleshooting" / "bright-patches.yaml").write_text(entry, "utf-8")
    assert [str(each) for each in check(tmp_path)] == []
