/**
 * Calculates where the border of two paints lies on a picture, since a drag cannot wait for Python. The same as
 * calculators/shapes/border.py: the cases in tests/typed/border.json test that both agree.
 */

/**
 * @typedef {{width: number, height: number}} Size of a picture, in its pixels
 * @typedef {{percent: number, degrees: number}} Place of the border
 */

/**
 * Returns the unit vector from the first paint to the second, the lowest and highest dot product of the picture's
 * points with it, and the dot product of the points on the border.
 * @param {Size} size
 * @param {Place} place
 * @returns {{normal: number[], low: number, high: number, limit: number}}
 */
export function borderAt({ width, height }, { percent, degrees }) {
  const angle = (degrees * Math.PI) / 180;
  const normal = [-Math.sin(angle), Math.cos(angle)];
  const reach = [0, width].flatMap((x) => [0, height].map((y) => x * normal[0] + y * normal[1]));
  const [low, high] = [Math.min(...reach), Math.max(...reach)];
  return { normal, low, high, limit: low + ((high - low) * percent) / 100 };
}

/**
 * Returns the parts of a box (left, top, right, bottom) on the first paint, on the second, and within `wide` of the
 * border.
 * @param {Size} size
 * @param {Place} place
 * @param {number[]} box
 * @param {number} wide
 * @returns {number[][][]}
 */
export function sidesOf(size, place, box, wide) {
  const { normal, limit } = borderAt(size, place);
  const corners = cornersOf(box);
  const back = normal.map((each) => -each);
  const band = clip(clip(corners, normal, limit + wide), back, wide - limit);
  return [clip(corners, normal, limit), clip(corners, back, -limit), band];
}

/**
 * Returns the corners of a box, clockwise.
 * @param {number[]} box
 */
export const cornersOf = ([left, top, right, bottom]) => [[left, top], [right, top], [right, bottom], [left, bottom]];

/**
 * Clips a convex polygon to the points whose dot product with `normal` is at most `limit`.
 * @param {number[][]} polygon
 * @param {number[]} normal
 * @param {number} limit
 */
function clip(polygon, normal, limit) {
  /** @param {number[]} point */
  const beyond = ([x, y]) => x * normal[0] + y * normal[1] - limit;
  return polygon.flatMap((here, place) => {
    const before = polygon[(place || polygon.length) - 1];
    const [was, now] = [beyond(before), beyond(here)];
    const points = [];
    if (was <= 0 !== now <= 0) {
      const share = was / (was - now);
      points.push([0, 1].map((axis) => before[axis] + share * (here[axis] - before[axis])));
    }
    if (now <= 0) points.push(here);
    return points;
  });
}
