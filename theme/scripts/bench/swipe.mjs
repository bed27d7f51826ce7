/** A swipe of one finger to the side. */

const LEAST_PX = 60;
const MOST_MS = 800;

/**
 * Reports swipes over an element. A mostly vertical one is a scroll, and one over an element that scrolls sideways is
 * left to that element.
 * @param {HTMLElement} element
 * @param {(way: "left" | "right") => void} onSwipe
 * @param {AbortSignal} signal
 */
export function swipes(element, onSwipe, signal) {
  let start = /** @type {{x: number, y: number, timeStamp: number} | null} */ (null);
  /** @param {TouchEvent} event */
  const begin = ({ touches, target, timeStamp }) => {
    const sideways = scrollsAside(target, element);
    start = touches.length === 1 && !sideways ? { x: touches[0].clientX, y: touches[0].clientY, timeStamp } : null;
  };
  /** @param {TouchEvent} event */
  const finish = ({ changedTouches, timeStamp }) => {
    if (!start) return;
    const [x, y] = [changedTouches[0].clientX - start.x, changedTouches[0].clientY - start.y];
    const swiped = Math.abs(x) >= LEAST_PX && Math.abs(x) > 2 * Math.abs(y) && timeStamp - start.timeStamp <= MOST_MS;
    start = null;
    if (swiped) onSwipe(x < 0 ? "left" : "right");
  };
  element.addEventListener("touchstart", begin, { signal, passive: true });
  element.addEventListener("touchend", finish, { signal, passive: true });
  element.addEventListener("touchcancel", () => (start = null), { signal, passive: true });
}

/**
 * @param {any} target
 * @param {Element} within
 */
function scrollsAside(target, within) {
  for (let each = target; each && each !== within; each = each.parentElement) {
    if (each.scrollWidth > each.clientWidth + 1 && /auto|scroll/.test(getComputedStyle(each).overflowX)) return true;
  }
  return false;
}
