"""Bundles made by esbuild: few files, licences of their contents, and mistakes reported with their places."""

import re
from pathlib import Path

import pytest

from builder.bundle import bundle
from builder.mistakes import Mistakes

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def root(tmp_path):
    """A project with two scripts that share a third, and a package; esbuild is that of this project."""
    for name, text in {
        "one.mjs": 'import { shared } from "./shared.mjs";\nconsole.log(shared(), NUMBERS.length);\n'
        'export const later = () => import("./two.mjs");\n',
        "two.mjs": (
            'import told from "told-beside";\nimport { shared } from "./shared.mjs";\nexport default '
            "[shared(), told];\n"
        ),
        "shared.mjs": (
            '// What both need.\nimport { kept } from "@some/store";\nexport function shared() { return kept; }\n'
        ),
        "node_modules/@some/store/index.js": "/*! The store's own notice. */\nexport const kept = 7;\n",
        "node_modules/@some/store/package.json": '{"main": "index.js"}',
    }.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    (tmp_path / "node_modules" / "esbuild").symlink_to(ROOT / "node_modules" / "esbuild")
    return tmp_path


def made(root, **more):
    entries = {"one": root / "one.mjs", "two": root / "two.mjs"}
    return bundle(root, entries, root / "out", define={"NUMBERS": [1, 2]}, beside={"told-beside": "./told.mjs"}, **more)


def test_each_bundle_names_all_files_that_come_with_it(root):
    loads = made(root).loads
    (common,) = set(loads["one"][1:])
    assert loads == {"one": ["one.mjs", common], "two": ["two.mjs", common]}
    assert sorted(path.name for path in (root / "out").iterdir()) == sorted(["one.mjs", "two.mjs", common])
    assert '"./told.mjs"' in (root / "out" / "two.mjs").read_text("utf-8")


def test_packages_are_named_and_their_notices_stay_in_the_bundle(root):
    assert made(root).packages == ["@some/store"]
    assert "The store's own notice." in "".join(path.read_text("utf-8") for path in (root / "out").iterdir())


def test_a_linked_package_gives_the_same_names_of_files(root, tmp_path_factory):
    names = set(made(root).loads["one"])
    stored = root / "node_modules" / "@some"
    linked = stored.rename(tmp_path_factory.mktemp("elsewhere") / "packages")
    stored.symlink_to(linked)
    assert set(made(root).loads["one"]) == names


def test_a_legible_bundle_keeps_the_names_of_functions(root):
    made(root, legible=True)
    assert "function shared()" in "".join(path.read_text("utf-8") for path in (root / "out").iterdir())


def test_a_legible_bundle_leaves_out_all_comments_but_notices(root):
    within = "  // Within.\n  /**\n   * @param {number} n\n   */\n  of(n) { return n; }\n"
    with_class = f"/** Above. */\nexport class Kind {{\n{within}}}\n"
    (root / "one.mjs").write_text(f'{with_class}export {{ shared }} from "./shared.mjs";\n', "utf-8")
    made(root, legible=True)
    texts = "".join(path.read_text("utf-8") for path in (root / "out").iterdir())
    assert "of(n)" in texts and "The store's own notice." in texts
    assert not [each for each in ("Above", "Within", "@param", "What both need") if each in texts]


@pytest.mark.parametrize(
    ("script", "text", "message"),
    [
        ("shared.mjs", 'import "./gone.mjs";\n', 'shared.mjs:1:8: Could not resolve "./gone.mjs"'),
        ("two.mjs", "const a = 1;\nconst a = ;\n", 'two.mjs:2:11: Unexpected ";"'),
        (
            "two.mjs",
            'import { no } from "./shared.mjs";\nconsole.log(no);\n',
            'two.mjs:1:10: No matching export in "shared.mjs" for import "no"',
        ),
    ],
)
def test_a_mistake_in_a_script_is_told_with_its_place(root, script, text, message):
    (root / script).write_text(text, "utf-8")
    with pytest.raises(Mistakes) as stopped:
        made(root)
    assert message in stopped.value.texts


def test_an_entry_that_is_missing_is_named(root):
    (root / "two.mjs").unlink()
    with pytest.raises(Mistakes) as stopped:
        made(root)
    assert stopped.value.texts == ["two.mjs: is missing"]


def test_the_packed_worker_needs_no_other_script_to_begin(tmp_path):
    """Each imported file would add another round trip before the start."""
    runtime = {"files": {}, "librarySize": 0, "include": []}
    worker = ROOT / "theme" / "worker" / "worker.mjs"
    made = bundle(ROOT, {"worker": worker}, tmp_path, define={"RUNTIME": runtime}, legible=True)
    text = (tmp_path / "worker.mjs").read_text("utf-8")
    assert made.loads == {"worker": ["worker.mjs"]}
    # Python in a text also begins a line with import, but names no file.
    assert not re.search(r"^import\b.*[\"']|\bfrom\s+\"", text, re.MULTILINE)
    assert "librarySize: 0" in text
