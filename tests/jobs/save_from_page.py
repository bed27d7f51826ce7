"""Saves the job of a page as it is stored on the device: ``python -m tests.jobs.save_from_page SITE OUT``.

SITE is a built site (``python -m builder build --out SITE``). A reader works through six calculators in a headless
browser; what IndexedDB then holds goes to OUT: job.json, and the files by their hash.
"""

from __future__ import annotations

import base64
import json
import shutil
import sys
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.browser.forms import READ_JOB, answered, open_calculator, visitor
from tests.conftest import BROWSER_ARGUMENTS, ROOT
from tests.servers import Server

DEMO = ROOT / "content" / "demo"
#: What is typed into which calculator, in the order of the work: fields, then a picture.
TYPED: tuple[tuple[str, dict[str, str], str], ...] = (
    ("size/scale-size", {"full_size_mm": "620 mm", "scale": "1:43.5", "thinnest_line_full_mm": "12 mm"}, ""),
    ("size/drawing-size", {"known_mm": "1480 mm"}, "railcar-panel.png"),
    ("artwork/resolution", {"width_mm": "0.6 in", "viewing_distance_mm": "25 cm"}, "crest-600px-enlarged.png"),
    ("artwork/white-areas", {"marks": "1 wanted"}, ""),
    ("underlay/underlay", {"base_a": "#efe4c4", "base_b": "#6b1f30", "markings": "4", "white_layers": "3"}, ""),
)
READ_FILES = """hashes => new Promise((done, failed) => {
  const opened = indexedDB.open("decalwright");
  opened.onsuccess = () => {
    const files = opened.result.transaction("files").objectStore("files");
    const bytes = {};
    const encoded = (buffer) => btoa(Array.from(new Uint8Array(buffer), (byte) => String.fromCharCode(byte)).join(""));
    let left = hashes.length;
    for (const hash of hashes) {
      files.get(hash).onsuccess = ({ target }) => {
        bytes[hash] = encoded(target.result);
        if (!--left) { opened.result.close(); done(bytes); }
      };
    }
  };
  opened.onerror = failed;
})"""


def main(site: Path, out: Path) -> None:
    """Work through the calculators, and write what is stored."""
    with Server(site) as server, sync_playwright() as playwright:
        program = shutil.which("chromium-headless-shell") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=program, args=BROWSER_ARGUMENTS)
        with visitor(browser) as context:
            for path, texts, picture in TYPED:
                page = open_calculator(context, f"{server.url}{path}/")
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
            keep_outlines(open_calculator(context, f"{server.url}artwork/trace/"))
            page = open_calculator(context, f"{server.url}underlay/underlay/")
            write(page, out)
        browser.close()


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


def write(page: Page, out: Path) -> None:
    """Write the stored job and its files."""
    found = page.evaluate(READ_JOB)
    (out / "files").mkdir(parents=True, exist_ok=True)
    (out / "job.json").write_text(
        json.dumps(found["job"], indent=1, ensure_ascii=False, sort_keys=True) + "\n", "utf-8"
    )
    for hash, text in page.evaluate(READ_FILES, found["files"]).items():
        (out / "files" / hash).write_bytes(base64.b64decode(text))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
