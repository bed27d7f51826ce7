"""How the sources are written: what the four tools of `make check` find, and how long files and functions are."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
MOST_LINES, MOST_OF_FUNCTION = 400, 60
#: In the first lines of a longer file: why it is not taken apart.
REASON = re.compile(r"Over 400 lines: \w+")
FOLDERS = ("builder", "calculators", "tests", "theme")
SOURCES = [
    path
    for folder in FOLDERS
    for path in sorted((ROOT / folder).rglob("*"))
    if path.suffix in (".py", ".mjs", ".js", ".css", ".html", ".sh")
]
PYTHON = [path for path in SOURCES if path.suffix == ".py"]
#: Asks a tool to pass over something, and what follows on the line.
PASSED_OVER = re.compile(
    r"#\s*(?:ruff: )?noqa(?::\s*[A-Z]+\d+(?:,\s*[A-Z]+\d+)*)?(.*)"
    r"|#\s*type: ignore(?:\[[\w, -]+\])?(.*)"
    r"|@ts-(?:ignore|expect-error|nocheck)(.*)"
)


def _named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [
        (sys.executable, "-m", "ruff", "check"),
        (sys.executable, "-m", "ruff", "format", "--check"),
        (sys.executable, "-m", "mypy"),
        ("npx", "--no-install", "tsc", "--build", ".", "builder/runtime"),
    ],
    ids=["ruff check", "ruff format", "mypy", "tsc"],
)
def test_no_tool_finds_anything(command):
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stdout + ran.stderr


def test_make_check_calls_the_same_tools():
    recipe = re.search(r"(?m)^check: .*\n((?:\t.*\n)+)", (ROOT / "Makefile").read_text("utf-8"))[1]
    assert [line.split(maxsplit=1)[1] for line in recipe.splitlines()] == [
        "ruff check",
        "ruff format --check",
        "mypy",
        "--no-install tsc --build . builder/runtime",
        "builder check",
    ]


def test_a_long_file_begins_with_its_reason():
    long = {
        _named(path): len(lines)
        for path in SOURCES
        if len(lines := path.read_text("utf-8").splitlines()) > MOST_LINES
        and not any(REASON.search(line) for line in lines[:10])
    }
    assert not long


def _lengths(path: Path) -> list[tuple[str, int]]:
    """Return each function of a file with its number of lines, those of its docstring left out."""
    lengths = []
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            first = node.body[0]
            has_docstring = ast.get_docstring(node) is not None
            docstring = first.end_lineno - first.lineno + 1 if has_docstring else 0
            lengths.append((node.name, node.end_lineno - node.lineno + 1 - docstring))
    return lengths


def test_no_function_is_long():
    long = {
        (_named(path), name): count for path in PYTHON for name, count in _lengths(path) if count > MOST_OF_FUNCTION
    }
    assert not long


def test_the_lines_of_a_function_are_counted_without_its_docstring(tmp_path):
    path = tmp_path / "one.py"
    path.write_text('def one():\n    """Say.\n\n    More.\n    """\n    a = 1\n    return a\n')
    assert _lengths(path) == [("one", 3)]


def test_whatever_a_tool_shall_pass_over_has_its_reason():
    bare = [
        f"{_named(path)}:{number}: {line.strip()}"
        for path in SOURCES
        if path != Path(__file__).resolve()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if (found := PASSED_OVER.search(line)) and not re.search(r"[a-z]{2}", "".join(filter(None, found.groups())))
    ]
    assert not bare
