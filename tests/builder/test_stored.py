"""What is stored under a digest is made once, made again when damaged, and deleted when no build uses it."""

from __future__ import annotations

import os
import time

import pytest

from builder.stored import Stored, digest

DAY_S = 24 * 3600


@pytest.fixture
def stored(tmp_path) -> Stored:
    return Stored(tmp_path / "stored")


def test_a_result_is_made_once_for_its_inputs(stored):
    made = []

    def make() -> bytes:
        made.append(1)
        return bytes(made)

    assert [stored.of(["step", b"a"], make) for _ in range(2)] == [b"\1", b"\1"]
    assert stored.of(["step", b"b"], make) == b"\1\1"
    assert stored.of(["another", b"a"], make) == b"\1\1\1"


def test_a_digest_tells_where_each_input_ends():
    assert len({digest(each) for each in (["ab", "c"], ["a", "bc"], ["abc"], ["abc", ""], [])}) == 5
    assert digest(["é"]) == digest(["é".encode()])


@pytest.mark.parametrize("damage", [lambda content: content[:-1], lambda content: content[:-1] + b"?", lambda _: b""])
def test_a_damaged_file_is_made_again(stored, tmp_path, damage):
    stored.of(["step"], lambda: b"right")
    [path] = (tmp_path / "stored").iterdir()
    path.write_bytes(damage(path.read_bytes()))
    assert stored.of(["step"], lambda: b"again") == b"again"
    assert stored.find(digest(["step"])) == b"again"


def test_what_is_not_used_for_a_week_is_deleted(stored, tmp_path):
    for name in ("used", "unused"):
        stored.keep(name, b"")
        old = time.time() - 8 * DAY_S
        os.utime(tmp_path / "stored" / name, (old, old))
    assert stored.find("used") == b""
    stored.tidy()
    assert [path.name for path in (tmp_path / "stored").iterdir()] == ["used"]
    Stored(tmp_path / "none").tidy()
