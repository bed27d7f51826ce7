"""Everything served has its licence text, and the bill of materials is complete."""

import json
import re
import zipfile
from pathlib import Path

import pytest
from cyclonedx.schema import _res
from jsonschema import Draft7Validator
from referencing import Registry, Resource

from builder.licences import BILL, FOLDER, bill, part_of, parts, text_of
from builder.mistakes import Unable
from builder.runtime import LIBRARIES, needed_packages

ROOT = Path(__file__).resolve().parents[2]
#: A sentence of each licence, as its own text has it.
SAYS = {
    "MPL-2.0": "Mozilla Public License",
    "PSF-2.0": "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2",
    "MIT": "Permission is hereby granted, free of charge",
    "Apache-2.0": "Apache License",
    "BSD": "Redistribution and use in source and binary forms",
    "OFL-1.1": "SIL OPEN FONT LICENSE Version 1.1",
    "ISC": "Permission to use, copy, modify, and/or distribute",
    "0BSD": "purpose with or without fee is hereby granted",
    "Zlib": "provided 'as-is'",
    "bzip2": "Redistribution and use in source and binary forms",
    "blessing": "May you do good and not evil",
    "W3C": "W3C SOFTWARE AND DOCUMENT NOTICE",
    "CC-BY-4.0": "Attribution 4.0 International",
}


def files_of(site):
    """Return the paths of all files of a built site, below its root."""
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())


@pytest.mark.parametrize("part", parts(), ids=lambda part: part.id)
def test_a_part_has_the_text_of_its_licence(part):
    text = " ".join(text_of(ROOT, part).split())
    for named in re.split(r" (?:AND|OR|WITH) ", part.licence):
        known = next((says for name, says in SAYS.items() if named.startswith(name)), None)
        if named not in ("NCSA", "LLVM-exception"):
            assert known is not None and known.lower() in text.lower(), named
    if part.licence.startswith("Apache-2.0"):
        assert "TERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION" in text
    if "LLVM-exception" in part.licence:
        assert "LLVM Exceptions to the Apache 2.0 License" in text


def test_a_package_without_a_text_stops_the_build(tmp_path):
    idb = next(part for part in parts() if part.id == "idb")
    with pytest.raises(Unable, match="idb: its package holds no licence text"):
        text_of(tmp_path, idb)


def test_a_star_does_not_stand_for_a_slash():
    assert part_of("assets/dw-0123/fonts/bitter-latin-700-normal.woff2").id == "bitter"
    assert part_of("assets/javascripts/workers/search.js").id == "mkdocs-material"
    assert part_of("assets/dw-0123/scripts/other/page.mjs") is None
    assert part_of("engine/unknown.wasm") is None


def test_every_served_file_has_a_served_licence_text(site_root):
    served = files_of(site_root.folder)
    assert [path for path in served if part_of(path) is None] == []
    for part in {part_of(path) for path in served}:
        assert (site_root.folder / FOLDER / f"{part.id}.txt").stat().st_size > 200


def test_every_pattern_of_a_part_matches_a_served_file(site_root):
    served = files_of(site_root.folder)
    unused = {
        (part.id, pattern)
        for part in parts()
        for pattern in part.files
        if not any(part.serves(path) and _only(part, pattern).serves(path) for path in served)
    }
    assert unused <= {("decalwright", "assets/dw-*/images/*")}


def _only(part, pattern):
    return type(part)(**{**vars(part), "files": (pattern,)})


def test_packages_in_bundles_fonts_and_libraries_are_parts(site_root):
    served, packages = files_of(site_root.folder), {part.package for part in parts()}
    bundled = [
        Path(path).name.removesuffix("-licence.txt") for path in served if re.search(r"/scripts/.*-licence\.txt$", path)
    ]
    fonts = [
        Path(path).name.removesuffix("-licence.txt") for path in served if re.search(r"/fonts/.*-licence\.txt$", path)
    ]
    libraries = {name for each in needed_packages().values() for name in each} | {*LIBRARIES.values()}
    assert bundled and fonts and libraries
    assert {f"npm/{name}" for name in bundled} | {f"npm/@fontsource/{name}" for name in fonts} | {
        f"python/{name}" for name in libraries
    } <= packages


def test_the_python_library_comes_from_pyodide_only(site_root):
    """Any other library would need a part of its own."""
    (library,) = (site_root.folder / "engine").glob("library.*.zip")
    with (
        zipfile.ZipFile(library) as held,
        zipfile.ZipFile(ROOT / "node_modules" / "pyodide" / "python_stdlib.zip") as theirs,
    ):
        served, brought = ({name.removesuffix("c") for name in each.namelist()} for each in (held, theirs))
    assert len(served) > 200
    assert served <= brought


def test_pages_link_the_licences_and_name_no_generator(site_root):
    pages = [path for path in files_of(site_root.folder) if path.endswith(".html")]
    assert len(pages) > 100
    for path in pages:
        text = (site_root.folder / path).read_text("utf-8")
        assert '<meta name="generator"' not in text
        assert 'rel="license" href="https://creativecommons.org/licenses/by/4.0/"' in text
        lead = "./" if path == "made-of/index.html" else '[^"]*made-of/'
        assert re.search(
            f'<footer class="dw-footer">.*href="{lead}">What this site is made of</a>.*</footer>', text, re.DOTALL
        ), path


def test_the_theme_s_own_icons_are_not_served(site_root):
    assert not list(site_root.folder.glob("assets/images/favicon*"))
    assert '<link rel="icon" href="logo.svg">' in (site_root.folder / "index.html").read_text("utf-8")


def test_the_page_leads_to_the_text_of_every_part(site_root):
    page = (site_root.folder / "made-of" / "index.html").read_text("utf-8")
    for part in parts():
        assert f'href="../{FOLDER}/{part.id}.txt"' in page
    assert f'href="../{FOLDER}/{BILL}"' in page
    # MPL-2.0, 3.2: recipients must be told where to get the source.
    assert 'href="https://github.com/pyodide/pyodide">its source</a>' in page


# -- The bill of materials


def wrong_by_schema(made):
    """Return the errors of a bill by the strict CycloneDX 1.6 schema from the CycloneDX library."""
    folder = Path(_res.__path__[0])
    names = ("bom-1.6.SNAPSHOT.schema.json", "spdx.SNAPSHOT.schema.json", "jsf-0.82.SNAPSHOT.schema.json")
    schemas = {name: json.loads((folder / name).read_text("utf-8")) for name in names}
    # The schemas refer to each other by file name, relative to the address of the first.
    base = schemas[names[0]]["$id"].rpartition("/")[0]
    registry = Registry().with_resources(
        (f"{base}/{name}", Resource.from_contents(each)) for name, each in schemas.items()
    )
    return [each.message for each in Draft7Validator(schemas[names[0]], registry=registry).iter_errors(made)]


def test_the_bill_is_valid_by_the_schema_of_cyclonedx(site_root):
    text = (site_root.folder / FOLDER / BILL).read_text("utf-8")
    assert wrong_by_schema(json.loads(text)) == []
    assert json.loads(text) == bill(ROOT)


def test_the_schema_rejects_a_wrong_bill():
    wrong = {**bill(ROOT), "components": [{"type": "thing", "name": "x"}]}
    assert len(wrong_by_schema(wrong)) == 1
    unknown = {
        **bill(ROOT),
        "components": [{"type": "library", "name": "x", "licenses": [{"license": {"id": "MITT"}}]}],
    }
    assert wrong_by_schema(unknown) != []


def test_every_pinned_package_is_in_the_bill_with_its_version():
    listed = {each.get("purl") for each in bill(ROOT)["components"]}
    text = (ROOT / "requirements-site.txt").read_text("utf-8")
    pinned = re.findall(r"(?m)^([a-z0-9.-]+)==(\S+) \\$", text)
    assert len(pinned) == len(re.findall(r"(?m)^[a-z]", text)) > 30
    assert {f"pkg:pypi/{name}@{version}" for name, version in pinned} <= listed
    lock = json.loads((ROOT / "package-lock.json").read_text("utf-8"))["packages"]
    npm = {
        f"pkg:npm/{path.removeprefix('node_modules/').replace('@', '%40')}@{held['version']}"
        for path, held in lock.items()
        if path
    }
    assert len(npm) > 100
    assert npm <= listed
    assert len(listed - {None}) == len(pinned) + len(npm)


def test_served_packages_are_required_and_build_packages_excluded():
    scopes = {each["name"]: each["scope"] for each in bill(ROOT)["components"]}
    assert (
        scopes["pyodide"] == scopes["pydyf"] == scopes["rectpack"] == scopes["CPython"] == scopes["lunr"] == "required"
    )
    assert scopes["jinja2"] == scopes["axe-core"] == "excluded"


def test_every_served_file_is_named_in_the_bill(site_root):
    made = bill(ROOT)
    patterns = [
        each["value"]
        for part in [made["metadata"]["component"], *made["components"]]
        for each in part.get("properties", ())
        if each["name"] == "decalwright:files"
    ]
    as_part = type(parts()[0])(id="all", name="", licence="", text="", does="", files=tuple(patterns))
    assert [path for path in files_of(site_root.folder) if not as_part.serves(path)] == []


def test_all_but_a_few_packages_name_their_licence():
    unnamed = {each["name"] for each in bill(ROOT)["components"] if "licenses" not in each}
    assert unnamed <= {"pkginfo"}
