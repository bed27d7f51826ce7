"""Runs inside Pyodide, called by pack.mjs: compiles our modules and those of libraries, and packs Python's library.

Bytecode only works in the version of Python that compiled it, and the builder's machine has
another. Globals that pack.mjs sets: ``modules`` (each with the arguments of ``compiled``); or, where it is empty,
``library`` (path of Pyodide's own zip), ``names`` (what of it is wanted) and ``ready_made`` (the source of
ready_made.py). The results are a file for each module in /pack/made, named by its number, or
/pack/made/library.zip.
"""

# ruff: noqa: F821 - pack.mjs sets the globals that are named above
# mypy: disable-error-code="name-defined"
import ast
import importlib._bootstrap_external as bytecode
import json
import marshal
import pathlib
import re
import sys
import types
import zipfile
import zlib
from collections.abc import Iterator, Sequence

MADE = pathlib.Path("/pack/made")
#: The paths of both in the page, as traces show them.
LIBRARY = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip"
PLACE = "/lib/ours"
#: Placeholder in a module's code for the compiled texts of its dataclasses, until they are inserted.
READY_MADE = "\0ready made"


def compiled(name: str, source: str, *, ours: bool = False, texts: Sequence[str] = (), asserts: bool = False) -> bytes:
    """Return the bytes of a .pyc that Python never compares with its source, since the page has no source.

    It has no docstrings, which would be a fifth of its size. Modules of ``ours`` have line numbers, for traces of our
    faults; with ``asserts`` it has its assertions, by which some libraries find damaged files. ``texts`` are
    the texts that its dataclasses execute; the module has their code as ``__ready_made__``.
    """
    path = f"{PLACE if ours else LIBRARY}/{name}"
    changed = _changed(ast.parse(source, path), bool(texts)) if texts or may_decorate_a_class(source) else source
    if asserts:
        changed = without_docstrings(ast.parse(source, path))
    code = compile(changed, path, "exec", dont_inherit=True, optimize=0 if asserts else 2)
    if not ours:
        code = without_lines(code)
    if texts:
        ready = ready_made_of(texts)
        code = code.replace(co_consts=tuple(ready if each == READY_MADE else each for each in code.co_consts))
    # Which constants are written as shared depends on what was compiled before, unless the code is read back.
    code = marshal.loads(marshal.dumps(code))
    made_file = bytecode._code_to_hash_pyc(code, b"\0" * 8, False)  # type: ignore[attr-defined]  # not in typeshed
    return bytes(made_file)


def without_docstrings(tree: ast.Module) -> ast.Module:
    """Return a module whose docstrings are empty. They stay where they are, since nothing else may stand before imports
    from the future.
    """
    for each in statements(tree):
        if isinstance(each, ast.Module | ast.ClassDef | ast.FunctionDef) and ast.get_docstring(each, False) is not None:
            each.body[0] = ast.copy_location(ast.Expr(ast.copy_location(ast.Constant(""), each.body[0])), each.body[0])
    return tree


def statements(tree: ast.AST) -> Iterator[ast.AST]:
    """Yield a module and all statements in it, at any depth. Expressions, which hold none, are twenty times as many."""
    waiting = [tree]
    while waiting:
        each = waiting.pop()
        yield each
        for name in ("body", "orelse", "finalbody", "handlers", "cases"):
            inside = getattr(each, name, ())
            waiting += inside if isinstance(inside, list) else ()


def may_decorate_a_class(source: str) -> bool:
    """Return whether a decorator and a class stand at the same indentation. A tree is made only then: it takes
    longer than all the rest.
    """
    decorators, classes = (set(re.findall(rf"^([ \t]*){begin}", source, re.MULTILINE)) for begin in ("@", r"class\b"))
    return not decorators.isdisjoint(classes)


def _changed(tree: ast.Module, is_ready_made: bool) -> ast.Module:
    """Give every decorated class a docstring, and the module a place for the code of its dataclasses."""
    for each in statements(tree):
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
    # Entries for up to 8 units each, of the kind "no columns", with a line offset of 0.
    whole, rest = divmod(len(code.co_code) // 2, 8)
    table = bytes((0x80 | 13 << 3 | 7, 0)) * whole + (bytes((0x80 | 13 << 3 | rest - 1, 0)) if rest else b"")
    constants = tuple(without_lines(each) if isinstance(each, types.CodeType) else each for each in code.co_consts)
    return code.replace(co_linetable=table, co_consts=constants)


def write_library() -> None:
    """Write bytecode for every module of Python's library that is wanted."""
    theirs = zipfile.ZipFile(library)
    with zipfile.ZipFile(MADE / "library.zip", "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in names:
            added = ready_made if name == "dataclasses.py" else ""
            content = compiled(name, theirs.read(name).decode() + added)
            # A fixed date, so that the same input makes the same bytes.
            archive.writestr(zipfile.ZipInfo(f"{name}c"), content, zipfile.ZIP_DEFLATED, 9)


def pack() -> int:
    """Write what is asked for, and return how many modules that was."""
    if not modules:
        write_library()
    for number, each in enumerate(modules):
        (MADE / str(number)).write_bytes(compiled(**each))
    return len(modules)


json.dumps(pack())
