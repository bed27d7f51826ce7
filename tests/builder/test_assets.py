"""What the theme serves, and only that."""

import posixpath
import re
from pathlib import Path

import pytest

from builder.assets import collect, write_assets
from builder.mistakes import Mistakes

IMPORT = re.compile(r"""(?:\bfrom|\bimport)\s*\(?\s*["'](\.[^"']+)["']""")
FONT = "bitter-latin-700-normal.woff2"


@pytest.fixture
def root(tmp_path):
    """A project with a small theme and the npm packages that it leans on."""
    for name, text in {
        "theme/main.html": "<link href='fonts'>",
        "theme/scripts/frame/page.mjs": "import '../form/form.mjs'",
        "theme/scripts/form/form.mjs": "",
        "theme/styles/b.css": "",
        "theme/styles/a.css": f'@font-face {{ src: url("../fonts/{FONT}") }}',
        "theme/engine/engine.mjs": "",
        "theme/worker/worker.mjs": "",
        "node_modules/idb/build/index.js": "export {}",
        "node_modules/idb/LICENSE": "ISC",
        f"node_modules/@fontsource/bitter/files/{FONT}": "font",
        "node_modules/@fontsource/bitter/files/bitter-latin-400-normal.woff2": "another",
        "node_modules/@fontsource/bitter/LICENSE": "OFL",
    }.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return tmp_path


def test_what_is_served_and_what_is_not(root):
    assert sorted(collect(root)) == [
        "engine/engine.mjs",
        "fonts/bitter-latin-700-normal.woff2",
        "fonts/bitter-licence.txt",
        "scripts/form/form.mjs",
        "scripts/frame/page.mjs",
        "scripts/idb-licence.txt",
        "scripts/idb.mjs",
        "styles/a.css",
        "styles/b.css",
    ]


def test_the_folder_is_named_for_all_that_it_holds(root):
    first = write_assets(root, root / "out")
    assert write_assets(root, root / "out") == first
    assert first["page"] == f"{first['folder']}/scripts/frame/page.mjs"
    assert first["styles"] == [f"{first['folder']}/styles/a.css", f"{first['folder']}/styles/b.css"]
    assert (root / "out" / first["folder"] / "fonts" / FONT).read_text() == "font"
    (root / "theme" / "scripts" / "form" / "form.mjs").write_text("// changed")
    assert write_assets(root, root / "out")["folder"] != first["folder"]


def test_a_font_that_no_package_has_is_a_mistake_of_its_line(root):
    (root / "theme" / "styles" / "a.css").write_text("\n\nsrc: url(../fonts/bitter-latin-950-normal.woff2)")
    with pytest.raises(Mistakes) as stopped:
        collect(root)
    assert stopped.value.texts == [
        "theme/styles/a.css:3: there is no font bitter-latin-950-normal.woff2 in the packages of package.json"
    ]


def test_what_is_missing_is_named(root):
    (root / "theme" / "scripts" / "frame" / "page.mjs").unlink()
    (root / "node_modules" / "idb" / "build" / "index.js").unlink()
    with pytest.raises(Mistakes) as stopped:
        collect(root)
    assert stopped.value.texts == [
        "node_modules/idb/build/index.js: is missing (run make setup)",
        "theme/scripts/frame/page.mjs: is missing",
    ]


def test_every_import_of_the_real_scripts_is_served():
    served = collect(Path(__file__).resolve().parents[2])
    scripts = [name for name in served if name.endswith(".mjs")]
    missing = [
        f"{name} imports {imported}"
        for name in scripts
        for imported in IMPORT.findall(served[name].read_text("utf-8"))
        if posixpath.normpath(posixpath.join(posixpath.dirname(name), imported)) not in served
    ]
    assert len(scripts) > 5 and missing == []
