"""Run inside Pyodide by pack.mjs: put Python's library, as far as it is of use, in one zip, and our own packages in another.

The bytecode must be made by the very Python that runs it, which is not the one on the builder's
machine. Globals given by pack.mjs: ``packages`` (names of the top packages in /pack/ours),
``left_out`` (modules of the library that no page needs, with all below them) and ``library`` (path
of Pyodide's own zip). The results are /pack/library.zip and /pack/calculators.zip; the last expression is a
JSON report with the modules of the library that calculators use.
"""

import importlib
import importlib._bootstrap_external as bytecode
import json
import pathlib
import sys
import types
import zipfile

OURS = pathlib.Path("/pack/ours")
#: Where the two lie when the page runs, for what a fault has to tell.
LIBRARY = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip"
CALCULATORS = "/lib/calculators.zip"


def compiled(source, name, archive, *, lines):
    """Return the bytes of a .pyc that is never compared with its source, which is not there.

    It has no docstrings: nobody reads them here, and they weigh a fifth. The numbers of its ``lines``
    are kept for what a fault of ours has to tell.
    """
    code = compile(source, f"{archive}/{name}", "exec", dont_inherit=True, optimize=2)
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


def of_the_library():
    """Yield (name in the zip, bytes): bytecode for every module that is wanted."""
    theirs = zipfile.ZipFile(library)
    for name in sorted(theirs.namelist()):
        if name.endswith(".py") and is_wanted(module_of(name)):
            yield f"{name}c", compiled(theirs.read(name), name, LIBRARY, lines=False)


def of_ours():
    """Yield (name in the zip, bytes): bytecode for every module, other files as they are."""
    for package in packages:
        for path in sorted((OURS / package).rglob("*")):
            name = path.relative_to(OURS).as_posix()
            # The command line has no place in a page.
            if path.is_dir() or path.name == "__main__.py":
                continue
            if path.suffix == ".py":
                yield f"{name}c", compiled(path.read_bytes(), name, CALCULATORS, lines=True)
            else:
                yield name, path.read_bytes()


def write(path, members):
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, content in members:
            # A fixed date, so that the same input makes the same bytes.
            archive.writestr(zipfile.ZipInfo(name), content, zipfile.ZIP_DEFLATED, 9)


def pack():
    sys.path.insert(0, str(OURS))
    # What the calculators import is wanted even where it stands on the list of what is left out.
    answer = importlib.import_module("calculators.answer").answer
    catalogue = importlib.import_module("calculators.catalogue")
    for package in packages:
        catalogue.include(package)
    for id in catalogue.every():
        # Where a calculator needs a library that is not here, the answer is a fault, and tells nothing.
        list(answer(json.dumps({"do": "answer", "calculator": id})))
    used = sorted(name for name in sys.modules if name.partition(".")[0] in sys.stdlib_module_names and name != "__main__")
    write("/pack/library.zip", of_the_library())
    write("/pack/calculators.zip", of_ours())
    return {"used": used}


json.dumps(pack())
