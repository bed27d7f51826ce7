"""Run inside Pyodide by pack.mjs: put Python's library, as far as it is of use, and our own packages in one zip.

The bytecode must be made by the very Python that runs it, which is not the one on the builder's
machine. Globals given by pack.mjs: ``packages`` (names of the top packages in /pack/ours),
``left_out`` (modules of the library that no page needs, with all below them) and ``library`` (path
of Pyodide's own zip). The result is /pack/library.zip; the last expression is a JSON report.
"""

import importlib
import importlib._bootstrap_external as bytecode
import json
import pathlib
import sys
import types
import zipfile

OURS = pathlib.Path("/pack/ours")
ARCHIVE = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip"


def compiled(source, name, *, lines):
    """Return the bytes of a .pyc that is never compared with its source, which is not there.

    It has no docstrings: nobody reads them here, and they weigh a fifth. The numbers of its ``lines``
    are kept for what a fault of ours has to tell.
    """
    code = compile(source, f"{ARCHIVE}/{name}", "exec", dont_inherit=True, optimize=2)
    if not lines:
        code = without_lines(code)
    return bytes(bytecode._code_to_hash_pyc(code, b"\0" * 8, False))


def without_lines(code):
    """Return code in which every instruction stands on the first line of its function.

    Where exactly something happened inside Python's library is asked by nobody here, and the tables
    that know it are a third of what there is to download.
    """
    units = len(code.co_code) // 2
    table = bytearray()
    while units:
        # An entry for up to 8 units in the form "no columns", with a line that is 0 further.
        covered = min(units, 8)
        table += bytes((0x80 | 13 << 3 | covered - 1, 0))
        units -= covered
    constants = tuple(without_lines(each) if isinstance(each, types.CodeType) else each for each in code.co_consts)
    return code.replace(co_linetable=bytes(table), co_consts=constants)


def module_of(name):
    parts = name.removesuffix(".py").split("/")
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def is_wanted(module):
    if module in sys.modules:
        return True
    tops = {module, *(module[:at] for at, letter in enumerate(module) if letter == ".")}
    return not tops.intersection(left_out)


def members():
    """Yield (name in the zip, bytes): bytecode for every module, other files as they are."""
    theirs = zipfile.ZipFile(library)
    for name in sorted(theirs.namelist()):
        if name.endswith(".py") and is_wanted(module_of(name)):
            yield f"{name}c", compiled(theirs.read(name), name, lines=False)
    for package in packages:
        for path in sorted((OURS / package).rglob("*")):
            name = path.relative_to(OURS).as_posix()
            # The command line has no place in a page.
            if path.is_dir() or path.name == "__main__.py":
                continue
            if path.suffix == ".py":
                yield f"{name}c", compiled(path.read_bytes(), name, lines=True)
            else:
                yield name, path.read_bytes()


def pack():
    sys.path.insert(0, str(OURS))
    # What start-up and a first request import is wanted even where it stands on the list of what is left out.
    for package in packages:
        importlib.import_module(package)
    answer = importlib.import_module("calculators.answer")
    answer.warm()
    packed = []
    with zipfile.ZipFile("/pack/library.zip", "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, content in members():
            # A fixed date, so that the same input makes the same bytes.
            archive.writestr(zipfile.ZipInfo(name), content, zipfile.ZIP_DEFLATED, 9)
            packed.append(name)
    return {"packed": packed}


json.dumps(pack())
