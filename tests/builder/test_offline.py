"""The offline worker lists every file of the site, and another site has another version."""

from __future__ import annotations

import hashlib
import json
import re

import pytest

from builder.offline import offline_files, write_offline_worker


@pytest.fixture
def site(tmp_path):
    for name, content in {
        "index.html": "<p>home",
        "size/index.html": "<p>size",
        "404.html": "<p>gone",
        "assets/Ä b.svg": "<svg/>",
        "robots.txt": "",
        ".nojekyll": "",
    }.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, "utf-8")
    return tmp_path


def _listed(site) -> tuple[str, list[list]]:
    script = (site / "offline-worker.js").read_text("utf-8")
    version, files = re.match(r'const VERSION = "(\w+)";\nconst FILES = (\[.*?\n\]);\n', script, re.DOTALL).groups()
    return version, json.loads(files)


def test_every_served_file_is_listed_with_digest_and_size(site):
    assert offline_files(site) == [
        ("404.html", hashlib.sha256(b"<p>gone").hexdigest()[:12], 7),
        ("assets/%C3%84%20b.svg", hashlib.sha256(b"<svg/>").hexdigest()[:12], 6),
        ("index.html", hashlib.sha256(b"<p>home").hexdigest()[:12], 7),
        ("size/index.html", hashlib.sha256(b"<p>size").hexdigest()[:12], 7),
    ]


def test_the_worker_begins_with_its_version_and_the_list(site):
    write_offline_worker(site)
    version, files = _listed(site)
    assert [tuple(each) for each in files] == offline_files(site)
    write_offline_worker(site)
    assert _listed(site) == (version, files)


def test_a_changed_file_makes_another_version(site):
    write_offline_worker(site)
    before, _ = _listed(site)
    (site / "index.html").write_text("<p>another home", "utf-8")
    write_offline_worker(site)
    assert _listed(site)[0] != before


def test_pages_needed_at_the_bench_are_saved_first(tmp_path):
    addresses = [
        "about/index.html",
        "assets/dw-1/scripts/page.mjs",
        "engine/wasm.1.packed",
        "index.html",
        "reference/sources/index.html",
        "rescue/silvering/index.html",
        "safety/index.html",
        "seal/seal-a-sheet/index.html",
        "size/scale-size/index.html",
    ]
    for address in addresses:
        path = tmp_path / address
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(address)
    order = [address for address, _, _ in offline_files(tmp_path)]
    assert sorted(order) == addresses

    def before(one: str, other: str) -> bool:
        return max(order.index(each) for each in addresses if one in each) < min(
            order.index(each) for each in addresses if other in each
        )

    assert before("page.mjs", "seal-a-sheet") and before("safety", "seal-a-sheet")
    assert before("seal-a-sheet", "engine") and before("scale-size", "engine")
    assert before("engine", "reference") and before("engine", "about")


def test_the_edition_holds_version_and_sizes(site):
    write_offline_worker(site)
    edition = json.loads((site / "edition.json").read_text("utf-8"))
    version, files = _listed(site)
    assert edition["edition"] == version
    assert edition["bytes"] == sum(size for _, _, size in files) == 27
    assert edition["fetched"] > 0
    assert "edition.json" not in {address for address, _, _ in files}
