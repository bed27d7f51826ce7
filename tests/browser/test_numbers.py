"""Chromium gives the same numbers as the command line. Firefox and WebKit: tests/other_browsers."""

from __future__ import annotations

from tests.browser.forms import open_calculator, visitor
from tests.same_numbers import COLOURS_ASKED, check_same, defaults_asked

ASK = """async (asked) => {
  const { pixelsOf } = await import(new URL("pixels.mjs", document.querySelector("script[src*='/scripts/']").src));
  const onWanted = ({ media, header }, [data]) => pixelsOf(data, media, header);
  const results = [];
  for (const request of asked) results.push((await dwEngine.ask(request, { onWanted })).envelope.result);
  return results;
}"""


def test_the_page_answers_the_command_line_s_numbers(browser, server):
    asked = [*COLOURS_ASKED, *defaults_asked()]
    with visitor(browser) as context:
        results = open_calculator(context, f"{server.url}underlay/seen-colour/").evaluate(ASK, asked)
    check_same(asked, results)
