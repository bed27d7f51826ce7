"""What does not fit on a page: what sticks out, lies over something else, is cut off, too pale or out of reach.

Each check is a function for ``page.evaluate`` that returns what is wrong, in words.
"""

from __future__ import annotations

from playwright.sync_api import Page

#: What is swiped in a frame of its own, drawn, or only read aloud may be wider than the page.
_FRAMED = ".dw-table-frame, .dw-scenes-frame, .dw-points-frame, .md-typeset__table, svg, pre, .dw-spoken"

STICKS_OUT = f"""() => {{
  const wide = document.documentElement.clientWidth;
  const whole = document.scrollingElement.scrollWidth;
  return [...document.querySelectorAll(".dw-calculator *, .dw-article > *, .dw-header *, .dw-footer *, .dw-beside *")]
    .filter((each) => each.checkVisibility() && !each.closest("{_FRAMED}"))
    .map((each) => [each, each.getBoundingClientRect()])
    .filter(([, box]) => box.width && (box.left < -1 || box.right > wide + 1))
    .map(([each, box]) => `${{Math.round(box.left)}} to ${{Math.round(box.right)}}: ${{each.outerHTML.slice(0, 100)}}`)
    .concat(whole > wide ? [`the page is ${{whole}} px wide`] : []);
}}"""

#: Texts, controls and pictures in the flow of the page that share more than a hair.
LIES_OVER = """() => {
  const what = "h1, h2, h3, p, li, dt, dd, th, td, .dw-label, .dw-box, .dw-drop, .dw-check, button, select, summary, " +
    "figcaption, .dw-figure svg, .dw-scenes-frame, .dw-points-frame, .dw-tool, .dw-rule a, .dw-home";
  const frames = ".dw-scenes-frame, .dw-points-frame";
  const hidden = (each) => each.closest(".dw-spoken, .dw-verdict-line, .dw-sheet-handle, .dw-search, " + frames);
  const boxes = [...document.querySelectorAll(what)]
    .filter((each) => each.checkVisibility({ visibilityProperty: true, opacityProperty: true }))
    .filter((each) => !hidden(each) || each.matches(frames))
    .filter((each) => !each.parentElement.closest("svg"))
    .map((each) => [each, each.getBoundingClientRect()])
    .filter(([, box]) => box.width && box.height)
    .sort(([, a], [, b]) => a.top - b.top);
  const found = [];
  // The box of a line is higher than its letters, the more so the larger they are.
  const hair = (4 * parseFloat(getComputedStyle(document.documentElement).fontSize)) / 18;
  // The panel and the sheet have their own scroll: what is in them lies over nothing outside. Neither does a frame.
  const place = (each) => each.closest(".dw-form, .dw-table-frame, .md-typeset__scrollwrap");
  for (const [at, [one, a]] of boxes.entries()) {
    for (let next = at + 1; next < boxes.length && boxes[next][1].top < a.bottom - hair; next += 1) {
      const [other, b] = boxes[next];
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - b.top;
      if (across <= 2 || down <= hair) continue;
      if (one.contains(other) || other.contains(one) || place(one) !== place(other)) continue;
      const [first, second] = [one, other].map((each) => each.outerHTML.slice(0, 70));
      found.push(`${Math.round(across)} x ${Math.round(down)}: ${first} / ${second}`);
    }
  }
  return found;
}"""

#: Texts of drawings that share more than a hair, or that end outside their drawing.
DRAWN_OVER = """() => {
  const found = [];
  for (const drawing of document.querySelectorAll(".dw-article svg[viewBox]")) {
    if (!drawing.checkVisibility() || drawing.parentElement.closest("svg")) continue;
    const edge = drawing.getBoundingClientRect();
    const texts = [...drawing.querySelectorAll("text")]
      .filter((each) => each.checkVisibility({ visibilityProperty: true }) && each.textContent.trim())
      .map((each) => [each.textContent.trim(), each.getBoundingClientRect()]);
    for (const [at, [one, a]] of texts.entries()) {
      const out = Math.max(edge.left - a.left, a.right - edge.right, edge.top - a.top, a.bottom - edge.bottom);
      if (out > 2) found.push(`"${one}" ends ${Math.round(out)} px outside its drawing`);
      for (const [other, b] of texts.slice(at + 1)) {
        const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        // The box of a line of text is higher than its letters.
        if (across > 1 && down > 0.3 * Math.min(a.height, b.height)) {
          found.push(`"${one}" and "${other}" share ${Math.round(across)} x ${Math.round(down)} px`);
        }
      }
    }
  }
  return found;
}"""

#: Closed lists whose choice is wider than what shows it, and texts that are cut.
CUT_OFF = """() => {
  const pen = document.createElement("canvas").getContext("2d");
  const lists = [...document.querySelectorAll(".dw-calculator select")].filter((each) => {
    if (!each.checkVisibility()) return false;
    const chosen = each.selectedOptions[0]?.textContent;
    const shown = each.parentElement.querySelector(".dw-chosen");
    if (shown) return shown.scrollWidth > shown.clientWidth + 1 || shown.textContent !== chosen;
    const style = getComputedStyle(each);
    pen.font = style.font;
    const room = each.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 20;
    return pen.measureText(chosen ?? "").width > room;
  });
  const texts = "h1, h2, h3, .dw-verdict h2, .dw-label, .dw-tool, button, summary, .dw-help, .dw-measures td, " +
    ".dw-measures th, .dw-leads a, .dw-next a, .dw-caution, .dw-save, .dw-to-calculator, .dw-article > p";
  const cut = [...document.querySelectorAll(texts)]
    .filter((each) => each.checkVisibility({ visibilityProperty: true }) && !each.closest("svg, .dw-spoken"))
    .filter((each) => getComputedStyle(each).display !== "inline" && each.scrollWidth > each.clientWidth + 3);
  return [...lists, ...cut].map((each) => each.outerHTML.slice(0, 120));
}"""

#: WCAG 2.2, success criterion 1.4.3: text has 4.5 to 1, from 24 px or bold from 18.66 px on 3 to 1. Looks at each
#: text in each of the `palettes`. Asked again at another size, it leaves out the texts that had 4.5 to 1 in all of
#: them, unless a rule for some sizes only can change their colours.
PALE = """(palettes) => {
  const parsed = new Map();
  const pen = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const rgba = (colour) => {
    if (!parsed.has(colour)) {
      pen.clearRect(0, 0, 1, 1);
      pen.fillStyle = colour;
      pen.fillRect(0, 0, 1, 1);
      const [r, g, b, a] = pen.getImageData(0, 0, 1, 1).data;
      parsed.set(colour, [r, g, b, a / 255]);
    }
    return parsed.get(colour);
  };
  const over = ([r, g, b, a], below) => [r, g, b].map((each, at) => each * a + below[at] * (1 - a));
  const light = (colour) => {
    const linear = (c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    const [r, g, b] = colour.map((each) => linear(each / 255));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (one, other) => {
    const [high, low] = [light(one), light(other)].sort((a, b) => b - a);
    return (high + 0.05) / (low + 0.05);
  };
  let grounds;
  const ground = (element) => {
    if (!element) return [255, 255, 255];
    if (!grounds.has(element)) {
      const colour = rgba(getComputedStyle(element).backgroundColor);
      grounds.set(element, colour[3] === 1 ? colour.slice(0, 3) : over(colour, ground(element.parentElement)));
    }
    return grounds.get(element);
  };
  // What is painted last at the middle of a text of a drawing, among what comes before it.
  const painted = (text) => {
    const svg = text.ownerSVGElement;
    const box = text.getBoundingClientRect();
    const middle = new DOMPoint(box.left + box.width / 2, box.top + box.height / 2);
    let below = ground(svg.parentElement);
    for (const shape of svg.querySelectorAll("rect, path, circle, ellipse, polygon")) {
      if (!(shape.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING)) break;
      const style = getComputedStyle(shape);
      if (shape.closest("defs, clipPath, mask, pattern, symbol") || !/^(rgb|color)/.test(style.fill)) continue;
      const matrix = shape.getScreenCTM()?.inverse();
      if (!matrix || !shape.checkVisibility() || !shape.isPointInFill(middle.matrixTransform(matrix))) continue;
      const [r, g, b, a] = rgba(style.fill);
      below = over([r, g, b, a * Number(style.fillOpacity) * Number(style.opacity)], below);
    }
    return below;
  };
  let opacities;
  const opacityOf = (element) => {
    if (!element) return 1;
    if (!opacities.has(element)) {
      opacities.set(element, Number(getComputedStyle(element).opacity) * opacityOf(element.parentElement));
    }
    return opacities.get(element);
  };
  const found = new Set();
  /** Report a text that is too pale, and return its contrast. */
  const look = (palette, element, colour, below, words) => {
    const style = getComputedStyle(element);
    const size = parseFloat(style.fontSize);
    const least = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700) ? 3 : 4.5;
    const opacity = opacityOf(element);
    if (!opacity) return 0;
    const [r, g, b, a] = rgba(colour);
    const reached = ratio(over([r, g, b, a * opacity], below), below);
    if (reached >= least) return reached;
    const where = `"${words.trim().slice(0, 40)}" in ${element.outerHTML.slice(0, 60)}`;
    found.add(`${palette}: ${reached.toFixed(2)} of ${least}: ${where}`);
    return reached;
  };
  // Selectors of the rules that hold at some sizes only and that name a colour or an opacity.
  const paints = ["color", "background-color", "fill", "fill-opacity", "opacity"];
  const changing = (rules, isSized) => [...rules].flatMap((rule) => {
    const ofSize = rule instanceof CSSContainerRule || /width|height|orientation|ratio/.test(rule.media?.mediaText);
    const sized = isSized || ofSize;
    const isColour = (name) => name.startsWith("--") && CSS.supports("color", rule.style.getPropertyValue(name));
    const named = sized && [...(rule.style ?? [])].some((name) => paints.includes(name) || isColour(name));
    const own = named && !rule.selectorText.includes("::") ? [rule.selectorText] : [];
    return [...own, ...changing(rule.cssRules ?? [], sized)];
  });
  const allChanging = () => [...document.styleSheets].flatMap(({ cssRules }) => changing(cssRules, false)).join();
  globalThis.changing ??= allChanging() || ":not(*)";
  const legible = (globalThis.legible ??= new WeakSet());
  const isKnown = (node, element) => legible.has(node) && !element.closest(globalThis.changing);
  const unseen = "script, style, template, option, .dw-spoken, .dw-search, .headerlink";
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const texts = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || isKnown(node, element) || element.closest(unseen)) continue;
    if (!element.checkVisibility({ visibilityProperty: true }) || element.closest(":disabled")) continue;
    texts.push([node, element]);
  }
  const wordless = "[type=range], [type=checkbox], [type=radio], [type=file], [type=color]";
  const fields = [...document.querySelectorAll(`input:not(${wordless}), select, textarea`)]
    .filter((field) => !isKnown(field, field))
    // A closed list whose choice is written over it shows none of its own.
    .filter((field) => field.checkVisibility() && field.value && !field.parentElement.querySelector(".dw-chosen"));
  const least = new Map();
  const present = document.body.dataset.mdColorScheme;
  for (const palette of palettes.toSorted((one, other) => (other === present) - (one === present))) {
    if (!texts.length && !fields.length) break;
    if (document.body.dataset.mdColorScheme !== palette) document.body.dataset.mdColorScheme = palette;
    [grounds, opacities] = [new Map(), new Map()];
    const remember = (node, reached) => least.set(node, Math.min(reached, least.get(node) ?? Infinity));
    for (const [node, element] of texts) {
      const text = element.closest("text");
      const style = getComputedStyle(element);
      const seen = text ? [style.fill, painted(text)] : [style.color, ground(element)];
      remember(node, look(palette, element, ...seen, node.data));
    }
    for (const field of fields) {
      remember(field, look(palette, field, getComputedStyle(field).color, ground(field), field.value));
    }
  }
  for (const [node, reached] of least) if (reached >= 4.5) legible.add(node);
  return [...found];
}"""

#: The controls that are covered by something else when the keyboard gets to them. After the tenth row of a table every
#: tenth is enough: all rows of a table scroll past the same edges, and each focus lays out the whole page.
OUT_OF_REACH = """() => {
  const covered = [];
  const looksAt = (row) => !row || row.sectionRowIndex < 10 || row.sectionRowIndex % 10 === 0;
  const controls = "a[href], button, input:not([type=file]), select, summary, textarea, [tabindex='0']";
  for (const each of document.querySelectorAll(controls)) {
    if (!each.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    if (each.disabled || each.closest(".dw-search, .dw-spoken")) continue;
    if (each.matches(".headerlink, .dw-skip, .md-skip") || !looksAt(each.closest("tr"))) continue;
    each.focus({ preventScroll: true });
    if (document.activeElement !== each) continue;
    each.scrollIntoView({ block: "nearest", behavior: "instant" });
    const box = each.getClientRects()[0];
    const x = Math.min(Math.max(box.left + box.width / 2, 1), innerWidth - 2);
    const y = Math.max(0, box.top) / 2 + Math.min(innerHeight, box.bottom) / 2;
    const top = document.elementFromPoint(x, y);
    const own = top && (each.contains(top) || top.contains(each) || top.closest("label")?.control === each);
    if (!own) covered.push(`${each.outerHTML.slice(0, 80)} below ${top?.outerHTML.slice(0, 60)}`);
  }
  return covered;
}"""


def settled(page: Page) -> None:
    """Wait until the page is laid out for a new size, observers included."""
    page.evaluate(
        "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))))"
    )


#: Texts of drawings below 9 px, which nobody reads on a phone.
TINY = """() => [...document.querySelectorAll(".dw-article svg[viewBox] text")]
  .filter((each) => each.checkVisibility() && each.textContent.trim() && !each.parentElement.closest("svg svg"))
  .map((each) => {
    const { a, b } = each.getScreenCTM();
    return [parseFloat(getComputedStyle(each).fontSize) * Math.hypot(a, b), each.textContent];
  })
  .filter(([size]) => size < 9)
  .map(([size, words]) => `${size.toFixed(1)} px: "${words}"`)"""


def misfits(page: Page) -> list[str]:
    """Return what sticks out, lies over something else or is cut off."""
    return [each for check in (STICKS_OUT, LIES_OVER, DRAWN_OVER, CUT_OFF) for each in page.evaluate(check)]


def pale_texts(page: Page) -> list[str]:
    """Return the texts that have too little contrast in the light or in the dark palette."""
    return page.evaluate(PALE, ["default", "slate"])
