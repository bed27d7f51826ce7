"""Saves a job from the page as a file: ``python -m tests.jobs.save_from_page SITE OUT``.

SITE is a built site (``python -m builder build --out SITE``). A reader works through six calculators in a headless
browser, and saves the job as OUT/job.zip.
"""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, sync_playwright

from tests.browser.forms import READ_JOB, visitor
from tests.conftest import BROWSER_ARGUMENTS, ROOT
from tests.jobs.typed import TYPED
from tests.servers import Server

DEMO = ROOT / "content" / "demo"


def main(site: Path, out: Path) -> None:
    """Work through the calculators, and save the job."""
    with Server(site) as server, sync_playwright() as playwright:
        program = shutil.which("chromium-headless-shell") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=program, args=BROWSER_ARGUMENTS)
        with visitor(browser) as context:
            for path, texts, picture in TYPED:
                page = opened(context, f"{server.url}{path}/")
                if picture:
                    page.set_input_files("#in-picture", str(DEMO / picture))
                    page.wait_for_function(
                        "name => [...document.querySelectorAll('.dw-drop-name')].some(one => one.innerText == name)",
                        arg=picture,
                    )
                for name, text in texts.items():
                    field = page.locator(f"#in-{name}")
                    field.evaluate("field => field.closest('details')?.setAttribute('open', '')")
                    field.fill(text)
                page.keyboard.press("Tab")
                answered(page)
                stored(page, path.rpartition("/")[2], texts, picture)
                page.close()
            keep_outlines(opened(context, f"{server.url}artwork/trace/"))
            page = context.new_page()
            page.goto(f"{server.url}job/")
            save(page, out)
        browser.close()


def opened(context: BrowserContext, address: str) -> Page:
    """Open a calculator, and wait until it has answered."""
    page = context.new_page()
    page.goto(address)
    answered(page)
    return page


def answered(page: Page) -> None:
    """Wait for an answer, which takes long on a busy machine."""
    page.locator(".dw-answer[data-state=answered]").wait_for(timeout=120_000)


def keep_outlines(page: Page) -> None:
    """Trace the picture, and keep its outlines for the other calculators."""
    page.locator(".dw-keep").first.evaluate("button => button.click()")
    page.wait_for_selector("[data-note=shared]")
    wait_for_job(page, "job => Boolean(job?.markings?.[0]?.files?.outlines)")


def stored(page: Page, calculator: str, texts: dict[str, str], picture: str) -> None:
    """Wait until what was typed is in the job."""
    last = [*texts][-1]
    wait_for_job(
        page,
        f"""job => {{ const entry = job?.markings?.[0]?.calculators?.[{json.dumps(calculator)}];
        return entry && entry.inputs[{json.dumps(last)}]?.startsWith({json.dumps(texts[last])})
          && (!{json.dumps(picture)} || entry.files.picture?.name === {json.dumps(picture)}); }}""",
    )


def wait_for_job(page: Page, condition: str) -> None:
    """Wait until the stored job meets a condition, a function in JavaScript."""
    page.wait_for_function(f"async () => {{ const found = await ({READ_JOB})(); return ({condition})(found.job); }}")


def save(page: Page, out: Path) -> None:
    """Save the job as a file, as a reader does."""
    page.get_by_text("Not checked yet").first.wait_for()
    page.get_by_role("button", name="Check 1 row").click()
    page.get_by_text("All rows are checked").wait_for()
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save as a file").click()
    out.mkdir(parents=True, exist_ok=True)
    saving.value.save_as(out / "job.zip")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
