"""The symptom finder with ten thousand entries: reading its index and answering, against a stock start in the same run.

Run by ``make bench``.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys

import pytest

from tests.bench.entries import plant
from tests.bench.stock import launched, stock_start

pytestmark = pytest.mark.bench

ROUNDS = 5
COUNT = 10_000
#: Of a stock start.
MOST = 0.3

#: Packs the runtime of a project without the rest of its site, and prints the engine's configuration.
PACK = """
import json, sys
from pathlib import Path
root, folder = (Path(each) for each in sys.argv[1:])
from builder.runtime import build_runtime
from builder.wheel import build_wheel
print(json.dumps(build_runtime(root, folder / "engine", build_wheel(root, root / "wheel"), [])))
"""

#: Starts an engine of its own with that runtime, waits until Python has answered
#: something else, and then asks what went wrong.
ASK = """
async ({ config, below, seen }) => {
  const Engine = dwEngine.constructor;
  const engine = new Engine(config, new URL(below, document.baseURI));
  const ask = async (calculator, inputs) => {
    const started = performance.now();
    const { envelope } = await engine.ask(
      { do: "answer", calculator, inputs, files: {}, units: "mm" },
      { limitMs: 60000 },
    );
    if (envelope.outcome !== "result") throw new Error(JSON.stringify(envelope));
    return { took: performance.now() - started, entries: envelope.result.entries };
  };
  await ask("scale-size", {});
  const first = await ask("symptom-finder", { seen, stage: "any" });
  const later = await ask("symptom-finder", { seen: `${seen} at the edge`, stage: "seal" });
  return { first: first.took, later: later.took, entries: first.entries.length };
}
"""


@pytest.fixture(scope="module")
def many(host, tmp_path_factory):
    """The engine's configuration for a runtime with ten thousand generated entries below the site."""
    root = tmp_path_factory.mktemp("many")
    plant(root, COUNT, "troubleshooting")
    packed = subprocess.run(
        [sys.executable, "-c", PACK, str(root), str(host.folder / "many")],
        cwd=root,
        capture_output=True,
        text=True,
        check=False,
    )
    assert packed.returncode == 0, packed.stderr[-2000:]
    return json.loads(packed.stdout)


def test_ten_thousand_entries_are_searched_quickly(host, many, chromium):
    stock, first, later = [], [], []
    for turn in range(ROUNDS + 1):
        started = stock_start(host, chromium)
        browser = launched(chromium)
        page = browser.new_page()
        page.goto(host.url, wait_until="load")
        took = page.evaluate(
            ASK, {"config": many, "below": "many/", "seen": "frosty silvery patches under the clear film after sprayng"}
        )
        browser.close()
        assert took["entries"] > 0
        if turn:
            stock.append(started)
            first.append(took["first"])
            later.append(took["later"])
    whole = statistics.median(stock)
    print(
        f"\nstock {whole:.0f} ms; index and answer {statistics.median(first):.0f} ms, ratio "
        f"{statistics.median(first) / whole:.3f}, at most {MOST};"
        f" a later answer {statistics.median(later):.0f} ms"
    )
    assert statistics.median(first) <= MOST * whole
