// node --test: checks what the page parses, writes and calculates by itself against the same cases as Python.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { borderAt, sidesOf } from "../../theme/scripts/picture/border-line.mjs";
import { hexColour, marksText, numberText, pointText } from "../../theme/scripts/form/texts.mjs";
import { shownName, sizeText } from "../../theme/scripts/frame/words.mjs";
import { withoutUnit, withUnit } from "../../theme/scripts/frame/units.mjs";

const read = (name) => JSON.parse(readFileSync(new URL(name, import.meta.url), "utf8"));
const cases = read("cases.json");

const each = (name, check) => {
  for (const one of cases[name]) test(`${name} ${JSON.stringify(one.typed ?? one.set)}`, () => check(one));
};

each("without_unit", ({ typed }) => {
  for (const unit of ["mm", "in"]) {
    assert.equal(withUnit(typed, unit), `${typed.trim()} ${unit}`);
    assert.equal(withoutUnit(`${typed.trim()} ${unit}`, unit), typed.trim());
  }
});
each("with_unit", ({ typed }) => {
  for (const unit of ["mm", "in"]) {
    assert.equal(withUnit(typed, unit), typed);
    // Only the unit beside the box can be omitted in it.
    const own = typed.endsWith(` ${unit}`);
    assert.equal(withoutUnit(typed, unit), own ? typed.slice(0, -unit.length - 1) : typed);
  }
});
for (const { typed, bare = false } of read("people.json").lengths) {
  test(`the unit beside ${JSON.stringify(typed)}`, () => {
    for (const unit of ["mm", "in"]) assert.equal(withUnit(typed, unit), bare ? `${typed.trim()} ${unit}` : typed);
  });
}
each("hex_colours", ({ typed, colour }) => assert.equal(hexColour(typed), colour));
each("names", ({ typed, shown }) => assert.equal(shownName(typed), shown));
each("sizes", ({ typed, shown }) => assert.equal(sizeText(typed), shown));
each("numbers", ({ set, text, read: value }) => same(numberText(set), { text, value }));
each("points", ({ set, text, read: value }) => same(pointText(set), { text, value }));
each("marks", ({ set, text }) => assert.equal(marksText(set), text));

for (const { why, box, wide, normal, limit, first, second, band, ...rest } of read("border.json")) {
  test(`border ${why}`, () => {
    const at = borderAt(rest, rest);
    near([...at.normal, at.limit], [...normal, limit]);
    for (const [found, wanted] of sidesOf(rest, rest, box, wide).map((polygon, place) => [polygon, [first, second, band][place]])) {
      near(tidy(found).flat(), tidy(wanted).flat());
    }
  });
}

// 0 and -0 are the same text and the same place.
function same(found, wanted) {
  assert.equal(found.text, wanted.text);
  near([found.value].flat(), [wanted.value].flat(), 0);
}

function near(found, wanted, within = 1e-9) {
  assert.equal(found.length, wanted.length, `${found} is not ${wanted}`);
  for (const [place, value] of found.entries()) assert.ok(Math.abs(value - wanted[place]) <= within, `${found} is not ${wanted}`);
}

/** Returns the distinct corners of a polygon in sorted order, independent of its first corner. */
function tidy(polygon) {
  const corners = polygon.map((corner) => corner.map((part) => Math.round(part * 1e9) / 1e9 + 0));
  const once = new Map(corners.map((corner) => [corner.join(" "), corner]));
  return [...once.values()].sort(([x, y], [otherX, otherY]) => x - otherX || y - otherY);
}
