"""Splits our packages into the engine and a part for each stage, with the files that it needs.

The sources tell which module imports which, also inside functions, and which tables and data files it names. For
``runtime.py`` and ``packed.py``.
"""

from __future__ import annotations

import ast
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

#: The name of the part that every page has.
ENGINE = "engine"
#: The package that loads the tables: it names them all, and needs none of them itself.
_LOADER = "calculators.tables"
#: The folder of a part that holds modules of Python's library.
LIBRARY = "library"
#: Shared files up to this many packed bytes are copied into the part of each stage: another request would cost more.
SMALL = 14_000
#: Two pieces of up to this many packed bytes that so many parts share are one: another request would cost more.
LIGHT, SHARED_BY = 48_000, 3


@dataclass(frozen=True)
class _Module:
    """A source file: the names that it may import, those outside functions, and its texts that may name a file."""

    file: str
    imports: frozenset[str]
    at_once: frozenset[str]
    texts: frozenset[str]


def needed_files(
    root: Path,
    packages: Sequence[str],
    engine: Iterable[str],
    calculators: Mapping[str, str],
    tables: Collection[str],
    late: Mapping[str, str],
    owners: Mapping[str, str] | None = None,
) -> dict[str, frozenset[str]]:
    """Return the stages that need each file of ``packages``, by its path below
    ``root``; ``{ENGINE}`` for what all need.

    ``engine`` names the modules that every page starts with, ``calculators`` the stage of each module that holds a
    calculator, or a part of its own, ``late`` the part of each module that comes when a function first imports it: both
    kinds of parts are named as if they were stages. What has always come before a part is among ``owners``, such as the
    stage whose calculators alone use it, and the part has none of its files.
    A table is in the files whose names begin with its name and a dot. What no
    calculator needs is left out.
    """
    modules = _modules(root, packages, late)
    common = _closure(modules, engine)
    needed: dict[str, set[str]] = {name: {ENGINE} for name in common}
    owners = owners or {}
    # What comes before a part is known before the part.
    in_order = sorted((*calculators.items(), *late.items()), key=lambda item: len([*_owners_of(item[1], owners)]))
    for module, stage in in_order:
        before = set(_owners_of(stage, owners))
        for name in _closure(modules, [module]) - common:
            if before.isdisjoint(needed.get(name, ())):
                needed.setdefault(name, set()).add(stage)
    files = {modules[name].file: frozenset(stages) for name, stages in needed.items()}
    for path in _data_files(root, packages):
        users = _users(path, modules, needed, tables)
        stages = frozenset().union(*(needed[name] for name in users))
        if stages:
            # Modules of the engine come in the memory snapshot, not as files.
            stages = frozenset(calculators.values()) if ENGINE in stages else stages
            files[path] = frozenset(each for each in stages if stages.isdisjoint(_owners_of(each, owners)))
    return files


def _owners_of(part: str, owners: Mapping[str, str]) -> Iterator[str]:
    """Yield what has come before a part: its owner, and the owner of that."""
    while part in owners:
        part = owners[part]
        yield part


def part_alone(
    root: Path,
    packages: Sequence[str],
    engine: Iterable[str],
    module: str,
    tables: Collection[str],
    late: Collection[str],
) -> list[str]:
    """Return the files of a part that is loaded when ``module`` is first asked, beyond those of the engine.

    It has all that the module imports at once, whatever other parts have of it too. What its functions import comes
    with the stages that its requests name. ``late`` as for ``needed_files``.
    """
    modules = _modules(root, packages, late)
    common = _closure(modules, engine)
    own = _closure(modules, [module], at_once=True) - common
    needed = {name: {ENGINE} for name in common} | {name: {module} for name in own}
    data = [path for path in _data_files(root, packages) if set(_users(path, modules, needed, tables)) & own]
    return sorted([*(modules[name].file for name in own), *data])


def files_behind(
    root: Path, packages: Sequence[str], engine: Iterable[str], modules: Iterable[str], tables: Collection[str]
) -> dict[str, list[str]]:
    """Return the files that an answer of each of ``modules`` depends on: its own, those of the engine, and what all
    of them import, late or not.
    """
    read = _modules(root, packages, ())
    common = _closure(read, engine)
    data_files = _data_files(root, packages)
    found = {}
    for module in modules:
        names = _closure(read, [module]) | common
        needed = {name: {ENGINE} if name in common else {module} for name in names}
        data = [path for path in data_files if _users(path, read, needed, tables)]
        found[module] = sorted([*(read[name].file for name in names), *data])
    return found


def parts(needed: Mapping[str, frozenset[str]], weights: Mapping[str, int]) -> dict[str, list[str]]:
    """Return the files of each part: the engine, each stage, and what some stages
    share, named by them ("artwork-underlay").

    ``weights`` are the packed bytes of each file. What stages share and weighs no more than ``SMALL`` is
    in the part of each of them; light pieces that many share are joined.
    """
    shared: dict[frozenset[str], list[str]] = {}
    for path in sorted(needed):
        shared.setdefault(needed[path], []).append(path)
    made: dict[str, list[str]] = {}
    for stages, files in _joined(shared, weights).items():
        together = len(stages) == 1 or sum(weights[path] for path in files) > SMALL
        for name in ["-".join(sorted(stages))] if together else sorted(stages):
            made.setdefault(name, []).extend(files)
    return {name: sorted(made[name]) for name in sorted(made)}


def _joined(shared: Mapping[frozenset[str], list[str]], weights: Mapping[str, int]) -> dict[frozenset[str], list[str]]:
    """Return the files by those who share them, with each two light pieces in one that are mostly loaded together."""
    joined = dict(shared)
    light = [each for each, files in joined.items() if SMALL < sum(weights[path] for path in files) <= LIGHT]
    while light:
        first = light.pop(0)
        other = next((each for each in light if len(first & each) >= SHARED_BY), None)
        if other:
            light.remove(other)
            both = sorted([*joined.pop(first), *joined.pop(other)])
            joined.setdefault(first | other, []).extend(both)
    return joined


def stages_of(part: str) -> list[str]:
    """Return the stages that need a part, by its name; none for the engine, which all need.

    >>> stages_of("artwork-underlay")
    ['artwork', 'underlay']
    """
    return [] if part == ENGINE else part.split("-")


def _modules(root: Path, packages: Sequence[str], late: Collection[str]) -> dict[str, _Module]:
    """Return every module of ``packages`` by name, but the command line, which has no place in a page. None imports
    those of ``late`` in functions.
    """
    paths = {_name(path.relative_to(root)): path for package in packages for path in (root / package).rglob("*.py")}
    return {
        name: _read(name, path, root, frozenset(late))
        for name, path in sorted(paths.items())
        if path.name != "__main__.py"
    }


def _name(path: Path) -> str:
    parts = path.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _read(name: str, path: Path, root: Path, late: frozenset[str]) -> _Module:
    beside = tuple(sorted(each.stem for each in path.parent.glob("*.py") if each != path))
    is_package = path.name == "__init__.py"
    file = path.relative_to(root).as_posix()
    module = _module(name, file, path.read_bytes(), beside if is_package else ())
    # A name imported from a late module stands below it.
    soon = {each for each in module.imports if each not in late and each.rpartition(".")[0] not in late}
    return replace(module, imports=module.at_once | soon)


@cache
def _module(name: str, file: str, source: bytes, beside: tuple[str, ...]) -> _Module:
    """Return what a source says. ``beside`` names the modules in the folder of a package."""
    tree = ast.parse(source)
    package = name if file.endswith("/__init__.py") else name.rpartition(".")[0]
    imports, texts = _named(name, package, beside, _executed(tree, in_functions=True))
    at_once, _texts = _named(name, package, beside, _executed(tree, in_functions=False))
    return _Module(file, frozenset(imports), frozenset(at_once), frozenset(texts))


def _executed(tree: ast.AST, *, in_functions: bool) -> Iterator[ast.AST]:
    """Yield the nodes that are executed while a module is imported, and those within its functions, if wanted.

    What only a type checker sees is left out.
    """
    yield tree
    if isinstance(tree, ast.If) and isinstance(tree.test, ast.Name) and tree.test.id == "TYPE_CHECKING":
        return
    for each in ast.iter_child_nodes(tree):
        if in_functions or not isinstance(each, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)):
            yield from _executed(each, in_functions=in_functions)


def _named(name: str, package: str, beside: Iterable[str], nodes: Iterable[ast.AST]) -> tuple[set[str], set[str]]:
    """Return the names that nodes of a module import, and the last parts of its texts."""
    imports: set[str] = set()
    texts: set[str] = set()
    for node in nodes:
        if isinstance(node, ast.Import):
            imports.update(each.name for each in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
            base = ".".join([*above, *([node.module] if node.module else [])])
            # A name imported from a package may be a module.
            imports.update([base, *(f"{base}.{each.name}" for each in node.names)])
        elif isinstance(node, ast.Name) and node.id == "__path__":
            # The package searches its own folder, so it imports all its modules.
            imports.update(f"{name}.{each}" for each in beside)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            texts.add(node.value.rpartition("/")[2])
    return imports, texts


def _closure(modules: Mapping[str, _Module], start: Iterable[str], *, at_once: bool = False) -> set[str]:
    """Return the modules that are imported with those in ``start``, themselves and the packages above included.

    ``at_once`` leaves out what only functions import.
    """
    found: set[str] = set()
    waiting = list(start)
    while waiting:
        name = waiting.pop()
        if name not in modules or name in found:
            continue
        found.add(name)
        imports = modules[name].at_once if at_once else modules[name].imports
        waiting += [*imports, name.rpartition(".")[0]]
        waiting += [each.rpartition(".")[0] for each in imports]
    return found


def _data_files(root: Path, packages: Sequence[str]) -> list[str]:
    paths = (path for package in packages for path in (root / package).rglob("*") if path.is_file())
    return sorted(path.relative_to(root).as_posix() for path in paths if path.suffix not in (".py", ".pyc"))


def _users(
    path: str, modules: Mapping[str, _Module], needed: Mapping[str, Collection[str]], tables: Collection[str]
) -> list[str]:
    """Return the modules that read a data file: those with its name, or with that of its table, among their texts."""
    name = path.rpartition("/")[2]
    table = name.partition(".")[0]
    if table in tables:
        # The engine gets table names from declarations; in its own files such a text is a key or a label.
        return [
            each
            for each, stages in needed.items()
            if table in modules[each].texts and ENGINE not in stages and not f"{each}.".startswith(f"{_LOADER}.")
        ]
    named = [each for each in needed if name in modules[each].texts]
    # A file that no module names may be found at run time, so it goes with its package.
    package = path.rpartition("/")[0].replace("/", ".")
    return named or [each for each in needed if each == package]
