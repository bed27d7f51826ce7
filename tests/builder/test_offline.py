"""The offline worker lists every file of the site, and another site has another version."""

from __future__ import annotations

import hashlib
import json
import re

import pytest

from builder.offline import files_kept, write_offline_worker


@pytest.fixture
def site(tmp_path):
    for name, content in {
        "index.html": "<p>home", "size/index.html": "<p>size", "404.html": "<p>gone", "assets/Ä b.svg": "<svg/>",
        "sitemap.xml.gz": "", "robots.txt": "", ".nojekyll": "",
    }.items():  # fmt: skip
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, "utf-8")
    return tmp_path


def _listed(site) -> tuple[str, list[list]]:
    script = (site / "offline-worker.js").read_text("utf-8")
    version, files = re.match(r'const VERSION = "(\w+)";\nconst FILES = (\[.*?\n\]);\n', script, re.DOTALL).groups()
    return version, json.loads(files)


def test_all_that_a_reader_may_ask_for_is_kept_with_its_digest_and_size(site):
    assert files_kept(site) == [
        ("404.html", hashlib.sha256(b"<p>gone").hexdigest()[:16], 7),
        ("assets/%C3%84%20b.svg", hashlib.sha256(b"<svg/>").hexdigest()[:16], 6),
        ("index.html", hashlib.sha256(b"<p>home").hexdigest()[:16], 7),
        ("size/index.html", hashlib.sha256(b"<p>size").hexdigest()[:16], 7),
    ]


def test_the_worker_begins_with_its_version_and_the_list(site):
    write_offline_worker(site)
    version, files = _listed(site)
    assert [tuple(each) for each in files] == files_kept(site)
    write_offline_worker(site)
    assert _listed(site) == (version, files)


def test_a_changed_file_makes_another_version(site):
    write_offline_worker(site)
    before, _ = _listed(site)
    (site / "index.html").write_text("<p>another home", "utf-8")
    write_offline_worker(site)
    assert _listed(site)[0] != before
