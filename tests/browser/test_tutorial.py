"""Follows the tutorial on one device in its order: the pages give the results that it states."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

import builder.worked
from builder.pages import write_pages
from calculators.declare import ChoiceField, FileField, asked
from tests.browser.forms import answered, open_calculator, result_text, typed, visitor, wait_for_stored
from tests.browser.jobs import field, put

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


#: What the reader leaves as the job has it.
FROM_JOB = {"scale", "width_of", "own_width_mm"}


def follow(page: Page, calculator, texts: dict[str, str]) -> None:
    for name, declared in asked(calculator.inputs).items():
        if name not in texts or name in FROM_JOB:
            continue
        if isinstance(declared, FileField):
            page.set_input_files(f"#in-{name}", CONTENT / texts[name])
            expect(page.locator(".dw-drop-name")).to_have_text(Path(texts[name]).name)
        elif isinstance(declared, ChoiceField):
            typed(page, name).select_option(texts[name])
        else:
            typed(page, name).fill(texts[name])
    answered(page)


def named(words: str) -> str:
    """Return what the tutorial tells the reader to tap or read."""
    assert f"**{words}**" in (CONTENT / "tutorial.md").read_text("utf-8")
    return words


def begin_job(page: Page, address: str) -> None:
    """Make the crest a marking of a job."""
    page.goto(address)
    put(page.locator(".dw-job-about"), "name", "Rowanskerry")
    page.get_by_role("button", name=named("Add a marking")).click()
    put(page.locator(".dw-marking"), "name", "Crest")
    page.locator("summary", has_text=named("Models and their paints")).click()
    put(page.locator(".dw-model"), "name", "Railcar 12")
    put(page.locator(".dw-model"), "scale", "43.5")
    expect(page.get_by_role("heading", name=named("1 marking"))).to_be_visible()
    wait_for_stored(
        page,
        lambda found: (found["job"].get("name"), found["job"]["models"][0].get("scale")) == ("Rowanskerry", "43.5"),
    )


def set_width(device, address: str, width: str) -> None:
    """Type the width of the crest into the job."""
    page = device.new_page()
    page.goto(address)
    put(page.locator(".dw-marking"), "width", width)
    wait_for_stored(page, lambda found: found["job"]["markings"][0].get("width") == width)
    page.close()


def look_at_job(page: Page, address: str) -> None:
    """The job has what the calculators made of the crest, and takes its partner."""
    page.goto(address)
    page.get_by_role("button", name=named("Check 1 row")).click()
    crest = page.get_by_role("listitem", name="Crest", exact=True)
    verdicts = crest.locator(".dw-job-verdict")
    expect(verdicts).to_have_text([re.compile("^size: "), re.compile("^artwork: ")])
    expect(crest.locator(".dw-marking-picture img")).to_have_count(1)
    expect(field(crest, "width")).not_to_have_value("")
    expect(crest.locator(".dw-marking-next")).not_to_be_empty()
    crest.locator(".dw-marking-more > summary").click()
    crest.get_by_label("Partner").select_option(label=named("Mirrored"))
    crest.get_by_role("button", name=named("Add its partner")).click()
    expect(page.get_by_role("heading", name=named("2 markings"))).to_be_visible()
    with page.expect_download():
        page.get_by_role("button", name=named("Save as a file")).click()


@pytest.mark.bench
def test_tutorial_results_match_the_pages(browser, server, asked_for):
    assert len(asked_for) >= 10
    with visitor(browser) as device:
        page = device.new_page()
        begin_job(page, f"{server.url}job/")
        page.close()
        has_width = False
        for calculator, texts, results in asked_for:
            if not has_width and "own_width_mm" in texts:
                has_width = True
                set_width(device, f"{server.url}job/", texts["own_width_mm"])
            page = open_calculator(device, f"{server.url}{calculator.stage}/{calculator.id}/")
            expect(page.locator(".dw-current-open")).to_have_text("Crest")
            follow(page, calculator, texts)
            for name in FROM_JOB & texts.keys():
                expect(typed(page, name)).to_have_value(texts[name].removesuffix(" mm"))
            for name, result in results.items():
                if result["kind"] in ("measure", "words") and result["shown"] is not None:
                    expect(result_text(page, name)).to_have_text(result["shown"], timeout=20_000)
                elif result["kind"] == "verdict":
                    expect(page.locator(".dw-verdict").first).to_contain_text(result["title"], timeout=20_000)
            page.close()
        look_at_job(device.new_page(), f"{server.url}job/")
