"""The cost of a colour in the page, against a start of unmodified Pyodide on the same machine.

Run by ``make bench``.
"""

from __future__ import annotations

import statistics

import pytest

from tests.bench.stock import SETTLING_MS, launched, stock_start
from tests.browser.forms import answered

pytestmark = pytest.mark.bench

#: The first answer of an engine swings by a factor of two, and only a new browser has another one to measure: fewer
#: do not hold the median still. Stock swings less, and is started in every third round.
ROUNDS, ROUNDS_A_STOCK = 45, 3
#: Each answer works out three colours that were never asked for before, and all that follows from them; the same
#: answer once more has the colours at hand. The difference is what three colours
#: cost, and the first pays for its start.
COLOURS = 3
#: Of a stock start, for one colour: the first ones come with what they are worked
#: out with (15 ms where stock takes 2 s).
MOST_FIRST, MOST_LATER = 0.0075, 0.005

#: Asks the engine for answers with new colours each, and for each once more; returns milliseconds, in pairs.
ASK = """
async (count) => {
  const hex = (number) => "#" + (number & 0xffffff).toString(16).padStart(6, "0");
  const took = [];
  for (let at = 0; at < count; at += 1) {
    const [artwork_colour, base_a, base_b] = [0, 1, 2].map((part) => hex(0x1b3a57 * (3 * at + part + 1)));
    const pair = [];
    for (let time = 0; time < 2; time += 1) {
      const started = performance.now();
      const { envelope } = await dwEngine.ask(
        { do: "answer", calculator: "seen-colour", inputs: { artwork_colour, base_a, base_b }, files: {}, units: "mm" },
        { limitMs: 20000 },
      );
      pair.push(performance.now() - started);
      if (envelope.outcome !== "result") throw new Error(JSON.stringify(envelope));
    }
    took.push(pair);
  }
  return took;
}
"""


def test_a_colour_costs_a_two_hundredth_of_a_stock_start_and_the_first_little_more(host, chromium):
    stock, first, later, answer = [], [], [], []
    stock_start(host, chromium)  # the first start also fills the machine's caches
    for turn in range(ROUNDS):
        if turn % ROUNDS_A_STOCK == 0:
            stock.append(stock_start(host, chromium))
        browser = launched(chromium)
        page = browser.new_page()
        page.wait_for_timeout(SETTLING_MS)
        # A page that asks for no colour itself, so that the first one is ours.
        page.goto(f"{host.url}size/scale-size/", wait_until="load")
        answered(page)
        took = page.evaluate(ASK, 12)
        browser.close()
        again = statistics.median(second for _new, second in took)
        first.append((took[0][0] - again) / COLOURS)
        later.append((statistics.median(new for new, _second in took[1:]) - again) / COLOURS)
        answer.append(again)
    start = statistics.median(stock)
    of_first, of_later = statistics.median(first) / start, statistics.median(later) / start
    print(
        f"\nstock {start:.0f} ms; a colour: first {start * of_first:.1f} ms, ratio {of_first:.4f}, at most "
        f"{MOST_FIRST};"
        f" later {start * of_later:.1f} ms, ratio {of_later:.5f}, at most {MOST_LATER}; an answer without "
        f"{statistics.median(answer):.0f} ms"
    )
    assert of_first <= MOST_FIRST
    assert of_later <= MOST_LATER
