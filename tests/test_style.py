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
FOLDERS = (".ci", ".github", "builder", "calculators", "tests", "theme")
SUFFIXES = (".py", ".mjs", ".cjs", ".js", ".ts", ".css", ".html", ".sh", ".yml")
SOURCES = [
    path
    for folder in FOLDERS
    for path in sorted((ROOT / folder).rglob("*"))
    if path.is_file() and (path.suffix in SUFFIXES or folder == ".ci")
] + [ROOT / name for name in ("Makefile", "pyproject.toml", "tsconfig.json", "tsconfig.nulls.json")]
PYTHON = [path for path in SOURCES if path.suffix == ".py"]
SCRIPTS = [path for path in SOURCES if path.suffix in (".mjs", ".cjs", ".js")]
#: Asks a tool to pass over something, and what follows up to the next such request.
PASSED_OVER = re.compile(
    r"(?:#\s*(?:(?:ruff|flake8): )?noqa(?::\s*[A-Z]+\d+(?:,\s*[A-Z]+\d+)*)?"
    r"|#\s*type: ignore(?:\[[\w, -]+\])?"
    r"|#\s*mypy:|#\s*pragma:|#\s*fmt: (?:off|on|skip)"
    r"|@ts-(?:ignore|expect-error|nocheck))"
    r"(?P<reason>(?:(?!#\s*(?:noqa|type: ignore)).)*)"
)
#: Words for several things; DEVELOPERS.md has what we write instead.
VAGUE = {"told", "untold", "said", "kept", "unkept", "given"}
#: What a reader says of a trouble, and the verdict that says that colours were kept.
MEANT = {"said", "KEPT"}
_STRING_OR_COMMENT = re.compile(r"""/\*.*?\*/|(?<![:\\])//[^\n]*|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'""", re.DOTALL)


def _named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [
        (sys.executable, "-m", "ruff", "check"),
        (sys.executable, "-m", "ruff", "format", "--check"),
        (sys.executable, "-m", "mypy"),
        ("npx", "--no-install", "tsc", "--build", ".", "tsconfig.nulls.json", "builder/runtime"),
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
        "--no-install tsc --build . tsconfig.nulls.json builder/runtime",
        "builder check",
    ]


def test_only_one_configuration_switches_a_type_check_off():
    configurations = [ROOT / "tsconfig.json", ROOT / "tsconfig.nulls.json", ROOT / "builder/runtime/tsconfig.json"]
    texts = {_named(path): path.read_text("utf-8") for path in configurations}
    assert {name: re.findall(r'"(\w+)": false', text) for name, text in texts.items()} == {
        "tsconfig.json": ["strictNullChecks", "useUnknownInCatchVariables"],
        "tsconfig.nulls.json": [],
        "builder/runtime/tsconfig.json": [],
    }
    assert '"strict": true' in texts["tsconfig.json"]
    clean = re.findall(r'"(theme/[^"]+)"', texts["tsconfig.nulls.json"])
    assert len(clean) >= 20 and all(list(ROOT.glob(each)) for each in clean)


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


def _script_lengths(text: str) -> list[tuple[str, int]]:
    """Return the first line of each function of a script with its number of lines.

    As all of ours are written, a function begins at a line that ends in "{" and ends at the next "}" of that indent.
    """
    lines, lengths = text.splitlines(), []
    for at, line in enumerate(lines):
        if not re.match(r" *(?:(?:export |default |async |static |get |set )*(?:function\b|#?\w+\()|.*=> \{$)", line):
            continue
        if not line.endswith("{") or re.match(r" *(?:if|for|while|switch|else|do|try|return)\b", line):
            continue
        indent = line[: len(line) - len(line.lstrip())]
        ends = (end for end in range(at + 1, len(lines)) if re.match(rf"{indent}\}}", lines[end]))
        lengths.append((line.strip(), next(ends, at) - at + 1))
    return lengths


def test_no_function_of_a_script_is_long():
    found = {(_named(path), *each) for path in SCRIPTS for each in _script_lengths(path.read_text("utf-8"))}
    assert len(found) > 300
    assert not {each for each in found if each[2] > MOST_OF_FUNCTION}


def test_the_functions_of_a_script_are_measured():
    body = "  f();\n" * 3
    assert _script_lengths(f"function one() {{\n{body}}}\n") == [("function one() {", 5)]
    assert _script_lengths("class A {\n  #b(c) {\n    if (c) {\n    }\n  }\n}\n") == [("#b(c) {", 4)]


def test_the_lines_of_a_function_are_counted_without_its_docstring(tmp_path):
    path = tmp_path / "one.py"
    path.write_text('def one():\n    """Say.\n\n    More.\n    """\n    a = 1\n    return a\n')
    assert _lengths(path) == [("one", 3)]


def _bare(line: str) -> bool:
    """Return whether a request to pass over something gives no reason, of two words at least, on its line."""
    return any(len(re.findall(r"[A-Za-z]+", each["reason"])) < 2 for each in PASSED_OVER.finditer(line))


def test_whatever_a_tool_shall_pass_over_has_its_reason():
    bare = [
        f"{_named(path)}:{number}: {line.strip()}"
        for path in SOURCES
        if path != Path(__file__).resolve()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if _bare(line)
    ]
    assert not bare


@pytest.mark.parametrize(
    ("line", "is_bare"),
    [
        ("import a  # noqa: F401", True),
        ("import a  # noqa: F401 - the hook is found by its name", False),
        ("x = f()  # type: ignore[arg-type]", True),
        ("x = f()  # type: ignore[arg-type]  # noqa: F401 - the second alone has a reason", True),
        ("// @ts-expect-error", True),
        ("// @ts-expect-error - browsers have it before the types do", False),
        ("a = [1,2]  # fmt: skip", True),
    ],
)
def test_a_request_to_pass_over_needs_a_reason(line, is_bare):
    assert _bare(line) is is_bare


def _names(path: Path) -> set[str]:
    """Return the names that a Python file gives to variables, arguments, functions and classes."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)):
            names.add(node.name)
        elif isinstance(node, ast.arg):
            names.add(node.arg)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            names.add(node.id)
    return names


def _vague(name: str) -> bool:
    """Return whether a name has a vague word among its words, be it written one_two or oneTwo."""
    return bool(VAGUE & {each.lower() for each in re.findall(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+", name)})


def test_names_have_one_meaning():
    python = {
        (_named(path), name)
        for path in PYTHON
        if path.parts[len(ROOT.parts)] in ("builder", "calculators")
        for name in _names(path) - MEANT
    }
    scripts = {
        (_named(path), name)
        for path in SCRIPTS
        if "tests" not in path.parts
        for name in re.findall(r"[\w$]+", _STRING_OR_COMMENT.sub(" ", path.read_text("utf-8")))
    }
    assert len(python) > 1000 and len(scripts) > 1000
    assert sorted(each for each in python | scripts if _vague(each[1])) == []


def test_words_of_a_name_are_told_apart():
    assert [_vague(each) for each in ("told_of", "MOST_TOLD", "loadingTold", "#told", "threshold", "Unkept")] == [
        True,
        True,
        True,
        True,
        False,
        True,
    ]
