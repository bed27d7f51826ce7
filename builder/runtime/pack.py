"""Runs inside Pyodide, called by pack.mjs: packs the useful part of Python's library
into a zip, and our own packages into parts.

Bytecode only works in the version of Python that compiled it, and the builder's machine has
another. Globals that pack.mjs sets: ``needed`` (the stages that need each file of ours), ``jobs`` (the name of the
part for jobs), ``for_jobs`` (its files), ``libraries`` (of a late part: the zip of the library that it brings),
``left_out`` (modules of the library that no page needs, with all below
them), ``library`` (path of Pyodide's own zip), ``ready_made`` (the source of ready_made.py) and ``surveyed`` (what
survey.py returned). The
results are /pack/library.zip and a file for each part in /pack/parts, in the form of theme/worker/parts.mjs; the last
expression is a JSON report with the names of the parts, the modules of the engine and the modules of the library that
calculators use.
"""

# ruff: noqa: F821 - pack.mjs sets the globals that are named above
# mypy: disable-error-code="name-defined"
import ast
import importlib._bootstrap_external as bytecode
import json
import pathlib
import re
import sys
import types
import zipfile
import zlib
from collections.abc import Collection, Iterable, Iterator, Sequence

import stage_parts  # builder/stage_parts.py, placed here by pack.mjs

OURS = pathlib.Path("/pack/ours")
#: The paths of both in the page, as traces show them.
LIBRARY = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip"
PLACE = "/lib/ours"
#: A file of an archive: its name and its content.
Member = tuple[str, bytes]
#: Placeholder in a module's code for the compiled texts of its dataclasses, until they are inserted.
READY_MADE = "\0ready made"


def compiled(
    source: str, name: str, archive: str, *, lines: bool, texts: Sequence[str] = (), asserts: bool = False
) -> bytes:
    """Return the bytes of a .pyc that Python never compares with its source, since the page has no source.

    It has no docstrings, which would be a fifth of its size. With ``lines`` it has line numbers, for traces of our
    faults, with ``asserts`` its assertions, by which some libraries find damaged files. ``texts`` are
    the texts that its dataclasses execute; the module has their code as ``__ready_made__``.
    """
    path = f"{archive}/{name}"
    changed = _changed(ast.parse(source, path), bool(texts)) if texts or may_decorate_a_class(source) else source
    if asserts:
        changed = without_docstrings(ast.parse(source, path))
    code = compile(changed, path, "exec", dont_inherit=True, optimize=0 if asserts else 2)
    if not lines:
        code = without_lines(code)
    if texts:
        ready = ready_made_of(texts)
        code = code.replace(co_consts=tuple(ready if each == READY_MADE else each for each in code.co_consts))
    made_file = bytecode._code_to_hash_pyc(code, b"\0" * 8, False)  # type: ignore[attr-defined]  # not in typeshed
    return bytes(made_file)


def without_docstrings(tree: ast.Module) -> ast.Module:
    """Return a module whose docstrings are empty. They stay where they are, since nothing else may stand before imports
    from the future.
    """
    for each in ast.walk(tree):
        if isinstance(each, ast.Module | ast.ClassDef | ast.FunctionDef) and ast.get_docstring(each, False) is not None:
            each.body[0] = ast.copy_location(ast.Expr(ast.copy_location(ast.Constant(""), each.body[0])), each.body[0])
    return tree


def may_decorate_a_class(source: str) -> bool:
    """Return whether a decorator and a class stand at the same indentation. A tree is made only then: it takes
    longer than all the rest.
    """
    decorators, classes = (set(re.findall(rf"^([ \t]*){begin}", source, re.MULTILINE)) for begin in ("@", r"class\b"))
    return not decorators.isdisjoint(classes)


def _changed(tree: ast.Module, is_ready_made: bool) -> ast.Module:
    """Give every decorated class a docstring, and the module a place for the code of its dataclasses."""
    for each in ast.walk(tree):
        if isinstance(each, ast.ClassDef) and each.decorator_list:
            # Without a docstring, a dataclass generates one, which takes longer than everything else it does.
            each.body.insert(0, _assignment("__doc__", ".", each.body[0]))
    if is_ready_made:
        place = next((at for at, each in enumerate(tree.body) if not _stands_first(each)), 0)
        tree.body.insert(place, _assignment("__ready_made__", READY_MADE, tree.body[0]))
    return tree


def _stands_first(statement: ast.stmt) -> bool:
    """Return whether a statement must come first: a docstring, or an import from the future."""
    is_text = isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)
    return is_text or (isinstance(statement, ast.ImportFrom) and statement.module == "__future__")


def _assignment(name: str, value: str, beside: ast.AST) -> ast.Assign:
    assignment = ast.Assign([ast.Name(name, ast.Store())], ast.Constant(value))
    return ast.fix_missing_locations(ast.copy_location(assignment, beside))


def ready_made_of(texts: Sequence[str]) -> tuple[tuple[int, types.CodeType], ...]:
    """Return pairs of a checksum and the code of a text, for ready_made.py."""
    by_sum = {zlib.crc32(text.encode()): text for text in texts}
    if len(by_sum) != len(set(texts)):
        raise ValueError("two texts of dataclasses of one module have the same checksum")
    return tuple(
        (checksum, without_lines(compile(text, "<string>", "exec", dont_inherit=True)))
        for checksum, text in by_sum.items()
    )


def without_lines(code: types.CodeType) -> types.CodeType:
    """Return code whose instructions all refer to the first line of their function.

    Line tables would be a third of the download, and nobody needs line numbers within Python's library.
    """
    units = len(code.co_code) // 2
    table = bytearray()
    while units:
        # An entry for up to 8 units, of the kind "no columns", with a line offset of 0.
        covered = min(units, 8)
        table += bytes((0x80 | 13 << 3 | covered - 1, 0))
        units -= covered
    constants = tuple(without_lines(each) if isinstance(each, types.CodeType) else each for each in code.co_consts)
    return code.replace(co_linetable=bytes(table), co_consts=constants)


def module_of(name: str) -> str:
    parts = name.removesuffix(".py").split("/")
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def is_wanted(module: str) -> bool:
    if module in surveyed["started"]:
        return True
    tops = {module, *(module[:at] for at, letter in enumerate(module) if letter == ".")}
    return not tops.intersection(left_out)


def of_the_library() -> Iterator[Member]:
    """Yield (name in the zip, bytes): bytecode for every module that is wanted."""
    theirs = zipfile.ZipFile(library)
    for name in sorted(theirs.namelist()):
        if name.endswith(".py") and is_wanted(module_of(name)):
            added = ready_made if name == "dataclasses.py" else ""
            yield f"{name}c", compiled(theirs.read(name).decode() + added, name, LIBRARY, lines=False)


def of_ours(files: Iterable[str]) -> dict[str, bytes]:
    """Return files by their name in a page: bytecode for modules, and other files unchanged."""
    made = {}
    for name in files:
        content = (OURS / name).read_bytes()
        made[f"{name}c" if name.endswith(".py") else name] = (
            compiled(content.decode(), name, PLACE, lines=True, texts=surveyed["texts"].get(module_of(name), ()))
            if name.endswith(".py")
            else content
        )
    return made


def placed_library(modules: Collection[str], path: str, *, asserts: bool = False) -> dict[str, bytes]:
    """Return those of ``modules`` that the zip at ``path`` has: Python's library, which the page would otherwise
    fetch as a whole, or another one.
    """
    theirs = zipfile.ZipFile(path)
    wanted = {name: module_of(name) for name in theirs.namelist() if name.endswith(".py")}
    return {
        f"{stage_parts.LIBRARY}/{name}c": compiled(
            theirs.read(name).decode(), name, LIBRARY, lines=False, asserts=asserts
        )
        for name, module in sorted(wanted.items())
        if module in modules
    }


def brought_with(part: str) -> dict[str, bytes]:
    """Return the library that a late part brings, with what that needs of Python's."""
    modules = surveyed["brought"].get(part, ())
    if not modules:
        return {}
    return placed_library(modules, library) | placed_library(modules, libraries[part]["sources"], asserts=True)


def write_parts() -> tuple[list[str], list[str]]:
    """Write /pack/parts; return the names of the parts, and the modules of the engine."""
    made = {name: of_ours([name]) for name in needed}
    weights = {name: sum(len(zlib.compress(content, 9)) for content in each.values()) for name, each in made.items()}
    split = stage_parts.parts({name: frozenset(stages) for name, stages in needed.items()}, weights)
    for part, files in split.items():
        own = [member for name in files for member in made[name].items()]
        write_part(f"/pack/parts/{part}", [*own, *brought_with(part).items()])
    for_them = placed_library(surveyed["forJobs"], library)
    write_part(f"/pack/parts/{jobs}", [*of_ours(for_jobs).items(), *for_them.items()])
    return [*split, jobs], [module_of(name) for name in split[stage_parts.ENGINE] if name.endswith(".py")]


def write_part(path: str, members: Sequence[Member]) -> None:
    head = json.dumps([[name, len(content)] for name, content in members]).encode()
    with open(path, "wb") as file:
        file.write(len(head).to_bytes(4, "little") + head)
        file.writelines(content for _, content in members)


def write(path: str, members: Iterable[Member]) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, content in members:
            # A fixed date, so that the same input makes the same bytes.
            archive.writestr(zipfile.ZipInfo(name), content, zipfile.ZIP_DEFLATED, 9)


def pack() -> dict[str, list[str]]:
    write("/pack/library.zip", of_the_library())
    parts, engine = write_parts()
    return {"parts": parts, "engine": engine, "used": surveyed["used"]}


json.dumps(pack())
