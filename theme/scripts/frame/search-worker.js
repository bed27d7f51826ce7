// The theme's search, asked a question as a person asks it. By itself it takes each word for the beginning of one that is to
// be found: "a" finds whatever begins with an a, and "how to" finds every how-to. So the words that its own list calls
// common are taken out of a question before it is asked. The theme's script is named by this one's query.
//
// The index is large and few visits search. So the theme is told that all is ready, is given neither its own script nor the index
// before something is asked, and is asked only then what waited meanwhile.

const asked = new WeakSet();

// The theme's numbers: of its index, for "ready", of a question, and of what was found.
const [SETUP, READY, QUERY, RESULT] = [0, 1, 2, 3];

let configured = null; // what the theme was to be set up with
let coming = null; // a promise of its script and index
let waiting = null;

/** What questions are put with, besides: half of the titles of this book hold one of these, and all of it is of decals. */
const PUT_WITH = new Set(["need", "needs", "use", "used", "using", "decal", "decals", "transfer", "transfers", "waterslide"]);

/** Its list of common words has "off", without which these mean nothing. */
const TAKE_OFF = /\b(?:take|taking|get|getting|peel|peeling)\s+(?:it\s+|them\s+)?off\b/gi;

// Before the theme's script listens, so that it hears the question only as it is asked anew here.
addEventListener("message", (event) => {
  if (asked.has(event)) return;
  event.stopImmediatePropagation();
  const { type, data } = event.data;
  if (type === SETUP) {
    configured = data;
    send({ type: READY });
  }
  if (type !== QUERY) return;
  if (!data.trim() && !coming) {
    send({ type: RESULT, data: { items: [] } });
    return;
  }
  waiting = event.data; // Only the last one: what was typed before it is a part of it.
  coming ??= load();
  coming.then(askWaiting, () => (coming = null)); // The next letter tries it again.
});

function askWaiting() {
  if (waiting) ask(waiting);
  waiting = null;
}

const send = self.postMessage.bind(self);

/** Fetch the theme's script, from where it is served beside the bundles (builder/assets.py), and the index, and bring them together. */
async function load() {
  const here = new URL(location.href);
  const index = await fetch(new URL("../../../search/whole_index.json", here));
  if (!index.ok) throw new Error(`the index: the server answered ${index.status}`);
  const { docs } = await index.json();
  importScripts(new URL(`../../javascripts/workers/${here.search.slice(1)}`, here));
  await new Promise((resolve) => {
    self.postMessage = (message, ...more) => {
      if (message?.type === READY) resolve();
      else send(message, ...more);
    };
    hand({ type: SETUP, data: { ...configured, docs } });
  });
}

function ask(question) {
  hand({ ...question, data: withoutCommonWords(question.data) });
}

/** Let the theme's script hear a message. */
function hand(data) {
  const anew = new MessageEvent("message", { data });
  asked.add(anew);
  dispatchEvent(anew);
}

/** Return a question without its common words, or as it is where it has no others. What stands in quotes is left alone. */
function withoutCommonWords(question) {
  if (question.includes('"')) return question;
  const words = question.replace(TAKE_OFF, "remove").replace(/[?!.,;:](?=\s|$)/g, "").split(/\s+/);
  const left = words.filter((word) => self.lunr.stopWordFilter(word.toLowerCase()) && !PUT_WITH.has(word.toLowerCase()));
  return left.length ? left.join(" ") : question;
}
