/**
 * Messages between tabs of this site. Without BroadcastChannel they go through localStorage, whose changes other tabs
 * see; without either, no messages are sent and each tab works alone.
 */

/**
 * @param {string} name
 * @param {(data: any) => void} hear receives messages of other tabs
 * @returns {(data: any) => void} sends a message to all other tabs
 */
export function openChannel(name, hear) {
  if (typeof BroadcastChannel !== "undefined") {
    const channel = new BroadcastChannel(name);
    channel.onmessage = ({ data }) => hear(data);
    return (data) => channel.postMessage(data);
  }
  const key = `${name}-message`;
  addEventListener("storage", (event) => {
    if (event.key === key && event.newValue) hear(JSON.parse(event.newValue).data);
  });
  return (data) => {
    try {
      // The time makes each text different, since other tabs only see changes.
      localStorage.setItem(key, JSON.stringify({ data, at: performance.timeOrigin + performance.now() }));
    } catch {
      // No message can be sent.
    }
  };
}
