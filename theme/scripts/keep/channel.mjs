/**
 * What tabs of this site tell each other. A browser without BroadcastChannel passes it on by localStorage, of which other
 * tabs hear; one that has neither passes nothing on, and each tab is then as good as alone.
 */

/**
 * @param {string} name
 * @param {(data: any) => void} hear what another tab said
 * @returns {(data: any) => void} says something to all other tabs
 */
export function openChannel(name, hear) {
  if (typeof BroadcastChannel !== "undefined") {
    const channel = new BroadcastChannel(name);
    channel.onmessage = ({ data }) => hear(data);
    return (data) => channel.postMessage(data);
  }
  const key = `${name}-said`;
  addEventListener("storage", (event) => {
    if (event.key === key && event.newValue) hear(JSON.parse(event.newValue).data);
  });
  return (data) => {
    try {
      // The time makes it another text each time: others hear of changes only.
      localStorage.setItem(key, JSON.stringify({ data, at: performance.timeOrigin + performance.now() }));
    } catch {
      // Nothing can be passed on.
    }
  };
}
