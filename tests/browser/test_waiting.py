"""What Playwright does while an ``expect`` waits: no more than to look again."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

PAGE = "<h1 class=title>Found</h1><p>Something else on the page"


def test_no_page_is_described_while_an_expect_waits(browser):
    """Describing took longer than what the tests do, and is switched off within Playwright, which has no option."""
    page = browser.new_page()
    page.set_content(PAGE)
    with pytest.raises(AssertionError) as other:
        expect(page.locator("h1")).to_have_text("Expected", timeout=200)
    with pytest.raises(AssertionError) as none:
        expect(page.locator("h2")).to_be_visible(timeout=200)
    page.close()
    for failed, words in ((other, ("'Expected'", "Actual value: Found")), (none, ('locator("h2")', "not found"))):
        assert all(each in str(failed.value) for each in words)
        assert "Something else" not in str(failed.value) and "Aria snapshot" not in str(failed.value)
