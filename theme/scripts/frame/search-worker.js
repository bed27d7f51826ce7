// Prepares questions in plain English for the theme's search. The theme matches each word as a prefix: "a" finds
// everything that starts with an a, and "how to" finds every how-to. So this removes the words on the theme's own list of
// common words. The query of this script's address names the theme's script.
//
// The index is large and few visits search. So this reports "ready" at once, loads the theme's script and the index only
// at the first question, and then asks the question that was waiting.

const asked = new WeakSet();

// The theme's message types: index, ready, question, result.
const [SETUP, READY, QUERY, RESULT] = [0, 1, 2, 3];

let configured = null; // the theme's set-up message
let loading = null; // a promise of its script and index
let waiting = null;

/** Further words of questions: half of this book's titles contain one of the first, and all of it is about the others. */
const PUT_WITH = new Set(["need", "needs", "use", "used", "using", "decal", "decals", "transfer", "transfers", "waterslide"]);

/** The theme's list of common words has "off", without which these words lose their meaning. */
const TAKE_OFF = /\b(?:take|taking|get|getting|peel|peeling)\s+(?:it\s+|them\s+)?off\b/gi;

// Registered before the theme's listener, so that the theme gets only the prepared question.
addEventListener("message", (event) => {
  if (asked.has(event)) return;
  event.stopImmediatePropagation();
  const { type, data } = event.data;
  if (type === SETUP) {
    configured = data;
    send({ type: READY });
  }
  if (type !== QUERY) return;
  if (!data.trim() && !loading) {
    send({ type: RESULT, data: { items: [] } });
    return;
  }
  waiting = event.data; // Only the last one, since it contains what was typed before.
  loading ??= load();
  loading.then(askWaiting, () => (loading = null)); // The next letter tries again.
});

function askWaiting() {
  if (waiting) ask(waiting);
  waiting = null;
}

const send = self.postMessage.bind(self);

/** Fetch the theme's script, which is served beside the bundles (builder/assets.py), and the index, and set it up. */
async function load() {
  const here = new URL(location.href);
  const index = await fetch(new URL("../../../search/whole_index.json", here));
  if (!index.ok) throw new Error(`the index: the server answered ${index.status}`);
  const { docs } = await index.json();
  importScripts(new URL(`../../javascripts/workers/${here.search.slice(1)}`, here));
  await new Promise((resolve) => {
    self.postMessage = (message, ...more) => {
      if (message?.type === READY) resolve();
      else send(message?.type === RESULT ? withoutTags(message) : message, ...more);
    };
    hand({ type: SETUP, data: { ...configured, docs } });
  });
}

/** Return what was found without its tags: they are other words for a page, to find it by and not to be read. */
function withoutTags({ data, ...message }) {
  const items = data.items.map((found) => found.map(({ tags, ...part }) => part));
  return { ...message, data: { ...data, items } };
}

function ask(question) {
  hand({ ...question, data: withoutCommonWords(question.data) });
}

/** Pass a message to the theme's script. */
function hand(data) {
  const anew = new MessageEvent("message", { data });
  asked.add(anew);
  dispatchEvent(anew);
}

/** Return a question without common words, or unchanged if it has no others. Quoted text is left alone. */
function withoutCommonWords(question) {
  if (question.includes('"')) return question;
  const words = question.replace(TAKE_OFF, "remove").replace(/[?!.,;:](?=\s|$)/g, "").split(/\s+/);
  const left = words.filter((word) => self.lunr.stopWordFilter(word.toLowerCase()) && !PUT_WITH.has(word.toLowerCase()));
  return left.length ? left.join(" ") : question;
}
