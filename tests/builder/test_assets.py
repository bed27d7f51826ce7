"""Tests that the theme's files in use are served, and no others."""

import json
from pathlib import Path

import pytest

from builder.assets import ALONE, collect, write_assets
from builder.mistakes import Mistakes

ROOT = Path(__file__).resolve().parents[2]
FONT = "bitter-latin-700-normal.woff2"
SHARED = {"messages": {"hello": "Good day – “you”"}, "job": {"format": 3}}


@pytest.fixture
def root(tmp_path):
    """A project with a small theme and the npm packages that it needs."""
    for name, text in {
        "theme/main.html": "<link href='fonts'>",
        "theme/scripts/frame/page.mjs": (
            'import told from "shared-config"; import("../form/calculators.mjs"); console.log(told)'
        ),
        "theme/scripts/frame/tables.mjs": "",
        "theme/scripts/frame/search-worker.js": "addEventListener('message', () => {})",
        "theme/scripts/form/calculators.mjs": 'import { openDB } from "idb"; openDB()',
        "theme/scripts/bench/bench.mjs": "",
        "theme/scripts/job/job.mjs": "",
        "theme/scripts/job/of-job.mjs": "",
        **{f"theme/scripts/{path}": "export const made = 1;" for path in ALONE.values()},
        "theme/styles/b.css": "/* what\nb has */\nb { color: red }\n",
        "theme/styles/a.css": f'@font-face {{ src: url("../fonts/{FONT}") }}',
        "theme/engine/engine.mjs": "",
        "theme/worker/worker.mjs": "",
        "node_modules/idb/index.js": "export const openDB = () => 1",
        "node_modules/idb/LICENSE": "ISC",
        f"node_modules/@fontsource/bitter/files/{FONT}": "font",
        "node_modules/@fontsource/bitter/files/bitter-latin-400-normal.woff2": "another",
        "node_modules/@fontsource/bitter/LICENSE": "OFL",
    }.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    (tmp_path / "node_modules" / "esbuild").symlink_to(ROOT / "node_modules" / "esbuild")
    return tmp_path


def written(root):
    """Return the description of a project's assets, and the names of the files in their folder."""
    assets = write_assets(root, root / "out", SHARED)
    folder = root / "out" / assets["folder"]
    return assets, sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_only_source_scripts_and_styles_in_use_are_served(root):
    alone = {f"scripts/{name}.mjs" for name in ALONE}
    assert alone <= {*written(root)[1]}
    assert [name for name in written(root)[1] if name not in alone] == [
        "fonts/bitter-latin-700-normal.woff2",
        "fonts/bitter-licence.txt",
        "scripts/bench.mjs",
        "scripts/calculators.mjs",
        "scripts/config.mjs",
        "scripts/idb-licence.txt",
        "scripts/job.mjs",
        "scripts/of-job.mjs",
        "scripts/page.mjs",
        "scripts/search-worker.mjs",
        "scripts/tables.mjs",
        "styles/all.css",
    ]


def test_assets_list_the_paths_each_kind_of_page_loads(root):
    assets, _ = written(root)
    folder = f"{assets['folder']}/scripts"
    assert assets["page"] == f"{folder}/page.mjs"
    assert assets["loads"]["page"] == [f"{folder}/page.mjs", f"{folder}/config.mjs"]
    assert assets["loads"]["calculators"] == [f"{folder}/calculators.mjs"]


def test_a_bundle_of_its_own_is_loaded_by_its_name_and_shares_nothing(root):
    scripts = root / "theme" / "scripts"
    (scripts / "keep" / "pure.mjs").write_text("export const pure = () => 'computed';")
    for path in ("form/calculators.mjs", ALONE["jobs"]):
        (scripts / path).write_text(
            'import { pure } from "../keep/pure.mjs"; console.log(pure()); import("alone-jobs");'
        )
    assets, names = written(root)
    folder = root / "out" / assets["folder"] / "scripts"
    assert assets["loads"]["jobs"] == [f"{assets['folder']}/scripts/jobs.mjs"]
    assert assets["loads"]["calculators"] == [f"{assets['folder']}/scripts/calculators.mjs"]
    assert all("computed" in (folder / name).read_text() for name in ("calculators.mjs", "jobs.mjs"))
    assert '"./jobs.mjs"' in (folder / "calculators.mjs").read_text()
    assert not [name for name in names if "chunk" in name]


def test_shared_settings_are_written_once_and_unchanged(root):
    assets, _ = written(root)
    text = (root / "out" / assets["folder"] / "scripts" / "config.mjs").read_text("utf-8")
    assert json.loads(text.removeprefix("export default ").removesuffix(";\n")) == SHARED


def test_the_folder_name_depends_on_every_file(root):
    first, _ = written(root)
    assert written(root)[0] == first
    assert first["styles"] == f"{first['folder']}/styles/all.css"
    assert (root / "out" / first["folder"] / "fonts" / FONT).read_text() == "font"
    (root / "theme" / "scripts" / "form" / "calculators.mjs").write_text("console.log('changed')")
    second, _ = written(root)
    assert second["folder"] != first["folder"]
    assert write_assets(root, root / "out", {**SHARED, "job": {"format": 4}})["folder"] not in (
        first["folder"],
        second["folder"],
    )


def test_stylesheets_are_joined_in_name_order_without_comments(root):
    assets, _ = written(root)
    assert (root / "out" / assets["styles"]).read_text(
        "utf-8"
    ) == f'@font-face {{ src: url("../fonts/{FONT}") }}b {{ color: red }}\n'


def test_scripts_of_all_kinds_are_found_without_a_list(root):
    form = root / "theme" / "scripts" / "form"
    (form / "calculators.mjs").write_text('import "scripts-of-kinds";')
    (form / "kinds.mjs").write_text("export const register = (kind, script) => console.log(kind, script.field);")
    (form / "kinds").mkdir()
    (form / "kinds" / "yes_no.mjs").write_text('export const field = "told of the kind";')
    assets, _ = written(root)
    script = (root / "out" / assets["folder"] / "scripts" / "calculators.mjs").read_text()
    assert "yes-no" in script and "told of the kind" in script


def test_an_unknown_font_is_reported_at_its_line(root):
    (root / "theme" / "styles" / "a.css").write_text("\n\nsrc: url(../fonts/bitter-latin-950-normal.woff2)")
    with pytest.raises(Mistakes) as stopped:
        collect(root)
    assert stopped.value.texts == [
        "theme/styles/a.css:3: there is no font bitter-latin-950-normal.woff2 in the packages of package.json"
    ]


def test_a_missing_file_is_named(root):
    (root / "node_modules" / "@fontsource" / "bitter" / "LICENSE").unlink()
    with pytest.raises(Mistakes) as stopped:
        collect(root)
    assert stopped.value.texts == ["node_modules/@fontsource/bitter/LICENSE: is missing (run make setup)"]


def test_a_script_that_is_missing_is_named(root):
    (root / "theme" / "scripts" / "frame" / "page.mjs").unlink()
    with pytest.raises(Mistakes) as stopped:
        write_assets(root, root / "out", SHARED)
    assert stopped.value.texts == ["theme/scripts/frame/page.mjs: is missing"]
