/**
 * Places the labels of points: outside the measured shape and clear of other points, each at the end of a leader.
 */

/** Distance from a point to the middle of its label. */
const AWAY_PX = 52;
/** Half the size of a label, margin included. */
const HALF_PX = 20;
/** Smallest distance of a label from points and from the lines between them. */
const CLEAR_PX = 34;
/** Directions to try, in radians from the one that points straight away from the shape. */
const TURNS = [0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180].map((degrees) => (degrees * Math.PI) / 180);

/**
 * @typedef {{at: [number, number], group: number, turn?: number}} Labelled a point on the screen; `turn` is the previous direction of its label
 */

/**
 * Returns the direction of each label, in radians.
 * @param {Labelled[]} points
 * @param {[number, number]} size of the frame
 * @returns {number[]}
 */
export function directions(points, [width, height]) {
  const placed = /** @type {number[][]} */ ([]);
  const lines = linesOf(points);
  return points.map((point) => {
    const straight = awayFrom(point, points.filter((other) => other !== point && other.group === point.group));
    const wanted = TURNS.map((turn) => straight + turn);
    // Prefer the previous direction, so that labels do not jump about during a drag.
    if (point.turn !== undefined) wanted.unshift(point.turn);
    /** @param {number} direction */
    const trouble = (direction) => {
      const [x, y] = endOf(point.at, direction);
      const outside = x < HALF_PX || y < HALF_PX || x > width - HALF_PX || y > height - HALF_PX;
      const near = points.filter((other) => other !== point && apart([x, y], other.at) < CLEAR_PX).length;
      const over = placed.filter((other) => apart([x, y], other) < 2 * HALF_PX).length;
      const across = lines.filter(([a, b]) => fromLine([x, y], a, b) < HALF_PX).length;
      return 8 * Number(outside) + 4 * over + 2 * near + across;
    };
    const best = wanted.reduce((found, each) => (trouble(each) < trouble(found) ? each : found));
    placed.push(endOf(point.at, best));
    return best;
  });
}

/**
 * Returns the middle of a label.
 * @param {[number, number]} at its point
 * @param {number} direction
 * @returns {[number, number]}
 */
export const endOf = ([x, y], direction) => [x + AWAY_PX * Math.cos(direction), y + AWAY_PX * Math.sin(direction)];

/**
 * @param {Labelled} point
 * @param {Labelled[]} others
 */
function awayFrom({ at: [x, y] }, others) {
  if (!others.length) return -Math.PI / 4;
  const middle = [0, 1].map((axis) => others.reduce((sum, { at }) => sum + at[axis], 0) / others.length);
  return Math.atan2(y - middle[1], x - middle[0]);
}

/** @param {Labelled[]} points */
function linesOf(points) {
  const groups = [...new Set(points.map(({ group }) => group))];
  return groups.flatMap((group) => {
    const ends = points.filter((point) => point.group === group);
    return ends.map(({ at }, place) => [at, ends[(place || ends.length) - 1].at]);
  });
}

/**
 * @param {number[]} one
 * @param {number[]} other
 */
const apart = ([x, y], [a, b]) => Math.hypot(x - a, y - b);

/**
 * @param {number[]} point
 * @param {number[]} start
 * @param {number[]} end
 */
function fromLine([x, y], [ax, ay], [bx, by]) {
  const length = (bx - ax) ** 2 + (by - ay) ** 2;
  const share = length ? Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length)) : 0;
  return apart([x, y], [ax + share * (bx - ax), ay + share * (by - ay)]);
}
