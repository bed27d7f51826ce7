"""Follows the tutorial on one device in its order: the pages give the results that it states."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

import builder.worked
from builder.pages import write_pages
from calculators.declare import ChoiceField, FileField, asked
from tests.browser.forms import answered, open_calculator, result_text, typed, visitor

ROOT = Path(__file__).resolve().parents[2]
CONTENT = ROOT / "content"


@pytest.fixture
def asked_for(tmp_path, monkeypatch) -> list:
    """The calculators that the tutorial calls while it is printed: (calculator, typed texts, expected results)."""
    calls = []
    render = builder.worked.shown

    def recording(content, calculator, typed):
        results = render(content, calculator, typed)
        calls.append((calculator, typed, results))
        return results

    monkeypatch.setattr(builder.worked, "shown", recording)
    (tmp_path / "content").mkdir()
    for name in ("tutorial.md", "figures", "demo"):
        (tmp_path / "content" / name).symlink_to(CONTENT / name)
    (tmp_path / "builder").symlink_to(ROOT / "builder")
    write_pages(tmp_path, tmp_path / "pages")
    return calls


def follow(page: Page, calculator, texts: dict[str, str]) -> None:
    for name, field in asked(calculator.inputs).items():
        if name not in texts:
            continue
        if isinstance(field, FileField):
            page.set_input_files(f"#in-{name}", CONTENT / texts[name])
        elif isinstance(field, ChoiceField):
            typed(page, name).select_option(texts[name])
        else:
            typed(page, name).fill(texts[name])
    answered(page)


@pytest.mark.bench
def test_tutorial_results_match_the_pages(browser, server, asked_for):
    assert len(asked_for) >= 10
    with visitor(browser) as device:
        for calculator, texts, results in asked_for:
            page = open_calculator(device, f"{server.url}{calculator.stage}/{calculator.id}/")
            follow(page, calculator, texts)
            for name, result in results.items():
                if result["kind"] in ("measure", "words") and result["shown"] is not None:
                    expect(result_text(page, name)).to_have_text(result["shown"], timeout=20_000)
                elif result["kind"] == "verdict":
                    expect(page.locator(".dw-verdict").first).to_contain_text(result["title"], timeout=20_000)
            page.close()
