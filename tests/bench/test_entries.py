"""Many entries cost little more than their pages."""

import os

import pytest

from tests.bench.entries import MOST_RATIO, measure


@pytest.mark.bench
@pytest.mark.parametrize("table", ["substrates", "troubleshooting"])
def test_ten_thousand_entries_beside_mkdocs_alone(table):
    """From the check to the finished site, at most 1.25 times what mkdocs takes for the same pages."""
    count = int(os.environ.get("ENTRIES", "10000"))
    build, mkdocs = measure(count, table=table)
    print(f"{table}: build {build:.1f} s, mkdocs alone {mkdocs:.1f} s, ratio {build / mkdocs:.3f} of {MOST_RATIO}")
    assert build / mkdocs <= MOST_RATIO
