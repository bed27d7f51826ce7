/**
 * Where the border of two paints lies on a picture, worked out here since a drag cannot wait for Python.
 * It is calculators/shapes/border.py once more: tests/typed/border.json holds both to the same.
 */

/**
 * @typedef {{width: number, height: number}} Size of a picture, in its pixels
 * @typedef {{percent: number, degrees: number}} Place of the border
 */

/**
 * Returns the direction from the first paint to the second, the least and greatest product of the picture's points
 * with it, and the product that points of the border have.
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
 * Returns the parts of a box (left, top, right, bottom) on either paint, and that within `wide` of the border.
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
  const band = kept(kept(corners, normal, limit + wide), back, wide - limit);
  return [kept(corners, normal, limit), kept(corners, back, -limit), band];
}

/**
 * Returns the corners of a box, clockwise.
 * @param {number[]} box
 */
export const cornersOf = ([left, top, right, bottom]) => [[left, top], [right, top], [right, bottom], [left, bottom]];

/** Returns the part of a convex polygon whose points have a product with `normal` of at most `limit`. */
function kept(polygon, normal, limit) {
  const beyond = ([x, y]) => x * normal[0] + y * normal[1] - limit;
  return polygon.flatMap((here, place) => {
    const before = polygon.at(place - 1);
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
