/**
 * The ring: two generated tones, and a vibration if the device can. Browsers allow sound only after a user gesture, so
 * the tap that starts a timer enables sound, and after a reload the next gesture of any kind.
 */

/** Tones of a ring: pitch in Hz and when each begins in s. The first end rings twice, the last one six times. */
const TONES = {
  low: [[660, 0], [880, 0.28]],
  high: [0, 0.9, 1.8].flatMap((start) => [[880, start], [660, start + 0.28]]),
};
const TONE_S = 0.25;
const LOUDNESS = 0.3;
const SHAKES_MS = { low: [200, 100, 200], high: [400, 150, 400, 150, 400] };

/** @type {AudioContext | null} */
let sound = null;

/** Enables sound. Call it from a touch or key event, as browsers require. */
export function openSound() {
  const Context = globalThis.AudioContext;
  if (!Context) return;
  sound ??= new Context();
  if (sound.state === "suspended") sound.resume().catch(() => {});
}

/** Whether a ring would be audible, as far as the page can know. */
export function canSound() {
  return sound?.state === "running";
}

/**
 * Rings for the first or the last end of a wait.
 * @param {"low" | "high"} end
 */
export function ring(end) {
  globalThis.navigator.vibrate?.(SHAKES_MS[end]);
  if (!sound) return;
  for (const [pitch, start] of TONES[end]) tone(sound, pitch, sound.currentTime + start);
}

/**
 * @param {AudioContext} context
 * @param {number} pitch
 * @param {number} start
 */
function tone(context, pitch, start) {
  const swing = new OscillatorNode(context, { type: "triangle", frequency: pitch });
  const level = new GainNode(context, { gain: 0 });
  // Fade in and out within some hundredths of a second to avoid clicks.
  level.gain.setValueAtTime(0, start);
  level.gain.linearRampToValueAtTime(LOUDNESS, start + 0.02);
  level.gain.setValueAtTime(LOUDNESS, start + TONE_S - 0.05);
  level.gain.linearRampToValueAtTime(0, start + TONE_S);
  swing.connect(level).connect(context.destination);
  swing.start(start);
  swing.stop(start + TONE_S);
}
