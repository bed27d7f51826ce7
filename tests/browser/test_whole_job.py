"""A calculator of the whole job: the page hands over the current one, and the browser decodes its pictures."""

from __future__ import annotations

import json
from urllib.request import urlopen

from playwright.sync_api import expect

from calculators.answer import answer
from tests.browser.forms import open_calculator

#: Stops while the work waits for pixels, then asks again and lets it have them.
STOPPED_WHILE_IT_WAITS = """async address => {
  const bytes = await (await fetch(address)).arrayBuffer();
  const { pixelsOf } = await import(new URL("pixels.mjs", document.querySelector("script[src*='/scripts/']").src));
  const request = { do: "answer", calculator: "job-pictures", inputs: {}, files: { job: { name: "demo.zip", bytes } } };
  const stop = new AbortController();
  const onWanted = () => (stop.abort(), new Promise(() => {}));
  const stopped = await dwEngine.ask(request, { signal: stop.signal, onWanted });
  const without = await dwEngine.ask(request);
  const whole = await dwEngine.ask(request, { onWanted: ({ media, header }, [data]) => pixelsOf(data, media, header) });
  return [stopped.envelope.outcome, without.envelope.outcome, whole.envelope.result?.pictures, dwEngine.boots];
}"""


def test_the_current_job_is_handed_over_with_the_pixels_of_its_pictures(context, workbench_server, with_workbench):
    address = f"{workbench_server.url}job/demo-job.zip"
    with urlopen(address) as response:
        expected = _natively(response.read())
    page = open_calculator(context, f"{workbench_server.url}artwork/job-pictures/")
    field = page.locator("[data-field=job]")
    expect(field).to_contain_text("There is no job on this device yet")
    page.goto(f"{workbench_server.url}job/#demo")
    expect(page.locator(".dw-marking")).to_have_count(expected["markings"])
    workbench_server.broken[r"/scripts/pixels\.mjs$"] = 404
    page.goto(f"{workbench_server.url}artwork/job-pictures/")
    expect(field).to_contain_text(expected["name"])
    # What reads pixels cannot come: that is no fault of the pictures.
    expect(page.locator(".dw-outcome")).to_have_attribute("data-outcome", "no-engine", timeout=20_000)
    workbench_server.broken.clear()
    page.locator(".dw-again").click()
    for name in ("name", "pictures", "rgba_sha256"):
        expect(page.locator(f"[data-result={name}] [data-part=shown]")).to_have_text(str(expected[name]))
    boots = page.evaluate("dwEngine.boots")
    assert page.evaluate(STOPPED_WHILE_IT_WAITS, address) == ["stopped", "problems", expected["pictures"], boots]


def _natively(data: bytes) -> dict:
    """Return what the command line answers for a saved job, with Pillow's pixels."""
    request = {"do": "answer", "calculator": "job-pictures", "files": {"job": {"name": "job.zip", "bytes": 0}}}
    *_, (text, _buffers) = answer(json.dumps(request), [data])
    return json.loads(text)["result"]
