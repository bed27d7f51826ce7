"""The guides for contributors: their examples pass the check, and their commands exist."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from builder.__main__ import _parser, main
from builder.check import check
from builder.describe import described, first_row
from builder.mistakes import Mistakes
from calculators.tables import FOLDERS, TABLES, columns, required
from calculators.tables.rules import file_of

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "data" / "README.md").read_text("utf-8")
SENDING = (ROOT / "CONTRIBUTING.md").read_text("utf-8")


def test_the_row_in_the_guide_passes_the_check(tmp_path):
    (row,) = re.findall(r"```yaml\n(.*?)```", GUIDE, re.DOTALL)
    shutil.copytree(ROOT / "data", tmp_path / "data")
    path = tmp_path / "data" / "scales.yaml"
    shipped = path.read_text("utf-8")
    (own,) = re.findall(r"(?ms)^- id: railway-00$.*?(?=^- |\Z)", shipped)
    path.write_text(shipped.replace(own, row), "utf-8")
    assert [str(each) for each in check(tmp_path)] == []


def test_the_guide_to_the_tables_is_one_screen():
    assert len(GUIDE.splitlines()) <= 60 and max(map(len, GUIDE.splitlines())) <= 160


def test_the_guide_to_sending_says_where_and_how():
    for words in ("rescue/contribute/", "data/troubleshooting/", "propose", "git push", "open an issue"):
        assert words in SENDING


@pytest.mark.parametrize("text", [GUIDE, SENDING], ids=["tables", "sending"])
def test_a_guide_names_commands_and_targets_that_exist(text):
    makefile = (ROOT / "Makefile").read_text("utf-8")
    called = re.findall(r"python -m builder (\w+)((?: [a-z-]+)?)", text)
    assert called
    for command, table in called:
        _parser().parse_args([command, *table.split()])
        assert not table or table.strip() in TABLES
    for target in re.findall(r"(?m)^make (\w+)|`make (\w+)", text):
        assert re.search(rf"(?m)^{''.join(target)}:", makefile)


@pytest.mark.parametrize("table", TABLES)
def test_describe_lists_every_part_and_a_shipped_row(table):
    text = described(ROOT, table)
    assert text.startswith(f"{file_of(table)}: {TABLES[table].__doc__}")
    for name, column in columns(TABLES[table]).items():
        if name == "id" and table in FOLDERS:
            continue
        (found,) = re.findall(rf"(?m)^{name}: .*\n    (.*)", text)
        assert column.help in found
        assert found.startswith("optional; ") == (name not in required(TABLES[table]))
        assert all(each in found for each in column.one_of)
    assert first_row(ROOT, table) in text


def test_describe_lists_every_table_with_its_row(capsys):
    assert main(["describe"]) == 0
    out = capsys.readouterr().out
    for table, declared in TABLES.items():
        assert re.search(rf"(?m)^{re.escape(file_of(table))} +{re.escape(declared.__doc__.splitlines()[0])}$", out)


def test_a_closed_pipe_ends_describe_quietly():
    read, write = os.pipe()
    os.close(read)
    ran = subprocess.run(
        [sys.executable, "-m", "builder", "describe", "coats"],
        cwd=ROOT,
        stdout=write,
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    os.close(write)
    assert (ran.returncode, ran.stderr) == (141, "")


def test_an_unknown_table_is_reported_with_the_known_ones():
    with pytest.raises(Mistakes, match=r"There is no table 'paper'\. The tables are scales, "):
        described(ROOT, "paper")
