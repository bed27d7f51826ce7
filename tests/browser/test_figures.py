"""The drawings of the pages in the site's font: no label is clipped or overlaps another."""

from base64 import b64encode
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FIGURES = sorted((ROOT / "content" / "figures").glob("*.svg"))
TYPE = ROOT / "node_modules" / "@fontsource" / "atkinson-hyperlegible-next" / "files"
#: The width of a how-to step on a tablet in portrait.
WIDTH_PX = 640

#: Boxes of two lines may overlap by this share of their height, since the letters do not fill them.
MEASURE = """
(slack) => [...document.querySelectorAll("svg")].flatMap((drawing) => {
  const whole = drawing.getBoundingClientRect();
  const labels = [...drawing.querySelectorAll("text")]
    .map((each) => ({ said: each.textContent, at: each.getBoundingClientRect() }));
  const clipped = labels
    .filter(({ at }) => at.left < whole.left || at.right > whole.right
      || at.top < whole.top || at.bottom > whole.bottom)
    .map(({ said }) => `${drawing.dataset.name}: ${said}`);
  const crossed = labels.flatMap(({ said, at }, number) =>
    labels
      .slice(number + 1)
      .filter(({ at: other }) => at.left < other.right && other.left < at.right
        && at.top + slack < other.bottom - slack && other.top + slack < at.bottom - slack)
      .map((other) => `${drawing.dataset.name}: ${said} / ${other.said}`));
  return [...clipped, ...crossed];
})
"""


def _face(weight: int) -> str:
    data = b64encode((TYPE / f"atkinson-hyperlegible-next-latin-{weight}-normal.woff2").read_bytes()).decode()
    return (
        f"@font-face {{ font-family: 'Atkinson Hyperlegible Next'; font-weight: {weight}; src: "
        f"url(data:font/woff2;base64,{data}) }}"
    )


def test_no_label_is_clipped_or_overlapped(browser):
    drawings = "".join(
        each.read_text("utf-8").replace("<svg ", f'<svg data-name="{each.stem}" ', 1) for each in FIGURES
    )
    page = browser.new_page(viewport={"width": WIDTH_PX, "height": 1180})
    try:
        page.set_content(
            f"<style>{_face(400)}{_face(700)}svg {{ display: block; width: {WIDTH_PX}px }}</style>{drawings}"
        )
        page.evaluate("document.fonts.ready.then(() => true)")
        assert page.locator("svg").count() == len(FIGURES) and page.locator("text").count() > len(FIGURES)
        assert page.evaluate(MEASURE, 3) == []
    finally:
        page.close()
