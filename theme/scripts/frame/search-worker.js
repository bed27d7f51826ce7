// The theme's search, asked a question as a person asks it. By itself it takes each word for the beginning of one that is to
// be found: "a" finds whatever begins with an a, and "how to" finds every how-to. So the words that its own list calls
// common are taken out of a question before it is asked. The theme's script is named by this one's query.
//
// By itself the theme answers a question that comes before its index with nothing, and the page does not ask again. So a question
// waits here until the theme says that it is ready.

const asked = new WeakSet();

// The theme's numbers for "ready" and for a question.
const READY = 1;
const QUERY = 2;

let ready = false;
let waiting = null;

/** What questions are put with, besides: half of the titles of this book hold one of these. */
const PUT_WITH = new Set(["need", "needs", "use", "used", "using"]);

// Before the theme's script listens, so that it hears the question only as it is asked anew here.
addEventListener("message", (event) => {
  if (event.data?.type !== QUERY || asked.has(event)) return;
  event.stopImmediatePropagation();
  if (ready) ask(event.data);
  else waiting = event.data; // Only the last one: what was typed before it is a part of it.
});

const send = self.postMessage.bind(self);
self.postMessage = (message, ...more) => {
  send(message, ...more);
  if (message?.type !== READY) return;
  ready = true;
  if (waiting) ask(waiting);
  waiting = null;
};

function ask(question) {
  const anew = new MessageEvent("message", { data: { ...question, data: withoutCommonWords(question.data) } });
  asked.add(anew);
  dispatchEvent(anew);
}

/** Return a question without its common words, or as it is where it has no others. What stands in quotes is left alone. */
function withoutCommonWords(question) {
  if (question.includes('"')) return question;
  const words = question.replace(/[?!.,;:](?=\s|$)/g, "").split(/\s+/);
  const left = words.filter((word) => self.lunr.stopWordFilter(word.toLowerCase()) && !PUT_WITH.has(word.toLowerCase()));
  return left.length ? left.join(" ") : question;
}

// From where it is served, beside the bundles (builder/assets.py).
importScripts(new URL(`../../javascripts/workers/${location.search.slice(1)}`, location.href));
