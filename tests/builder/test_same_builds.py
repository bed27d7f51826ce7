"""Two builds of the same sources are identical, and a changed fact changes few files that a reader has saved."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from filecmp import cmp
from pathlib import Path
from urllib.parse import unquote

import pytest

from builder.offline import EDITION, NAME, offline_files
from tests.builder.checkouts import checkout_in
from tests.servers import served_bytes

#: Settings of another machine: each of these has leaked into a build once, or could.
ELSEWHERE = {
    "LC_ALL": "de_DE.UTF-8",
    "LANG": "tr_TR.UTF-8",
    "TZ": "Pacific/Auckland",
    "USER": "someone",
    "LOGNAME": "someone",
    "PYTHONHASHSEED": "77",
}

pytestmark = pytest.mark.slow


#: Runs a command as a user of another number, where the kernel allows it.
AS_ANOTHER_USER = ("unshare", "--user", "--map-user=12345", "--map-group=12345")


def _build(folder: Path, out: str, *before: str, **environment: str) -> Path:
    made = subprocess.run(
        [*before, sys.executable, "-m", "builder", "build", "--out", str(folder / out)],
        cwd=folder,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(folder), **environment},
        check=False,
    )
    assert made.returncode == 0, made.stderr[-3000:]
    return folder / out


@pytest.fixture(scope="module")
def first(site_root) -> Path:
    """The site that other tests look at, as this folder's build made it."""
    return site_root.built


@pytest.fixture(scope="module")
def elsewhere(tmp_path_factory) -> Path:
    """A separate checkout, in which nothing was built before."""
    return checkout_in(tmp_path_factory.mktemp("same") / "elsewhere")


@pytest.fixture(scope="module")
def same(elsewhere) -> Path:
    """The site, made by what looks like another user on another machine."""
    as_another = AS_ANOTHER_USER if _allows(*AS_ANOTHER_USER) else ()
    print("as another user" if as_another else "as the same user, since this system allows no other")
    return _build(elsewhere, "same", *as_another, **ELSEWHERE)


@pytest.fixture(scope="module")
def changed(elsewhere, same) -> Path:
    """The site after one solvent's note was changed, made in the same folder as ``same``."""
    table = elsewhere / "data" / "solvents.yaml"
    text = table.read_text("utf-8")
    longer, times = re.subn(r"(?m)^(\s+note: .*?)(['\"]?)$", r"\1 It was looked at again.\2", text, count=1)
    assert times == 1
    table.write_text(longer, "utf-8")
    return _build(elsewhere, "changed")


def _differing(one: Path, other: Path) -> list[str]:
    """Return the files that only one of two folders has, and those whose bytes differ."""
    files, others = (
        {path.relative_to(root): path for path in root.rglob("*") if not path.is_dir()} for root in (one, other)
    )
    differ = [name for name in files.keys() & others.keys() if not cmp(files[name], others[name], shallow=False)]
    return sorted(map(str, (files.keys() ^ others.keys()) | set(differ)))


def _fetched(before: Path, after: Path) -> dict[str, int]:
    """Return bytes by address that a reader fetches for another edition: the edition file and changed files."""
    saved = {(address, digest) for address, digest, _ in offline_files(before)}
    new = {
        address: served_bytes(after / unquote(address))
        for address, digest, _ in offline_files(after)
        if (address, digest) not in saved
    }
    return {**{name: served_bytes(after / name) for name in (NAME, EDITION)}, **new}


def _allows(*before: str) -> bool:
    """Return whether a command can run so. Only some systems let a process take another user's number."""
    return bool(shutil.which(before[0])) and subprocess.run([*before, "true"], check=False).returncode == 0


def test_another_folder_user_machine_and_time_make_the_same_site(first, same):
    assert _differing(first, same) == []


def test_an_unchanged_build_costs_at_most_20_kb(first):
    fetched = _fetched(first, first)
    print(fetched)
    assert set(fetched) == {NAME, EDITION} and sum(fetched.values()) <= 20_000


def test_one_changed_note_costs_at_most_half_a_megabyte(same, changed):
    fetched = _fetched(same, changed)
    print(sum(fetched.values()), fetched)
    assert any("solvents" in address for address in fetched)
    assert sum(fetched.values()) <= 500_000


def test_one_changed_note_changes_only_its_pages(same, changed):
    pages = [address for address in _fetched(same, changed) if address.endswith(".html")]
    assert pages
    for address in pages:
        assert "It was looked at again" in (changed / address).read_text("utf-8"), address


def test_pages_name_only_the_starting_engine_file(first):
    named = set()
    for page in first.rglob("*.html"):
        named.update(re.findall(r"(?<!theme/)engine/[\w./-]+", page.read_text("utf-8")))
    assert named == {"engine/worker.mjs"}
