"""Files are listed as the standard library lists them, and rows are taken as PyYAML reads them."""

from pathlib import Path

import pytest
import yaml

from builder.check_file import LOADER, plain_value
from builder.listing import files_below
from calculators.tables.declaration import columns
from calculators.tables.rows import TABLES
from calculators.tables.rules import UNSEEN, wrong_text

ROOT = Path(__file__).resolve().parents[2]
NAMES = ("b.html", "a/index.html", "a-b/index.html", "a/.hidden/x", "a b/ü.txt", "a.html")


def test_files_are_listed_in_the_order_of_their_paths(tmp_path):
    for name in NAMES:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).touch()
    (tmp_path / "empty").mkdir()
    paths = sorted(path for path in tmp_path.rglob("*") if path.is_file())
    assert files_below(tmp_path) == [path.relative_to(tmp_path).as_posix() for path in paths]


def test_rows_taken_from_the_check_are_those_that_yaml_reads():
    files = sorted((ROOT / "data").rglob("*.yaml"))
    assert len(files) > 100
    for path in files:
        text = path.read_text("utf-8-sig")
        assert repr(plain_value(yaml.compose(text, Loader=LOADER))) == repr(yaml.load(text, Loader=LOADER)), path


def test_every_kind_of_plain_value_is_taken_as_yaml_reads_it():
    text = "[1, -2, 0x1F, 0o7, 1.5, 1e3, .inf, true, no, ~, '', \"1\", yes, 2026-11-28, a b, {k: [v]}]"
    assert repr(plain_value(yaml.compose(text, Loader=LOADER))) == repr(yaml.load(text, Loader=LOADER))


@pytest.mark.parametrize("address", ["https://a", "FTP://a", "WWW. a", "Www.a", "shop.co.uk", "a-b.DE", "x.io."])
def test_an_address_is_found_wherever_it_stands_in_a_text(address):
    column = columns(TABLES["coats"])["label"]
    wrong = [wrong_text(text, "label", column) for text in (address, f"look at {address}", f"({address} has it)")]
    assert all(each and "address" in each[0] for each in wrong)


def test_every_sign_that_is_refused_is_one_that_cannot_be_printed():
    """The check looks for them only in texts that cannot be printed."""
    signs = [chr(code) for code in range(0x110000)]
    refused = [sign for sign in signs if UNSEEN.match(sign)]
    assert len(refused) > 100
    assert not any(sign.isprintable() for sign in refused)
