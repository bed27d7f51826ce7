// The theme's search, asked a question as a person asks it. By itself it takes each word for the beginning of one that is to
// be found: "a" finds whatever begins with an a, and "how to" finds every how-to. So the words that its own list calls
// common are taken out of a question before it is asked. The theme's script is named by this one's query.

const asked = new WeakSet();

/** What questions are put with, besides: half of the titles of this book hold one of these. */
const PUT_WITH = new Set(["need", "needs", "use", "used", "using"]);

// Before the theme's script listens, so that it hears the question only as it is asked anew here.
addEventListener("message", (event) => {
  const QUERY = 2; // the theme's number for a question
  if (event.data?.type !== QUERY || asked.has(event)) return;
  event.stopImmediatePropagation();
  const anew = new MessageEvent("message", { data: { ...event.data, data: withoutCommonWords(event.data.data) } });
  asked.add(anew);
  dispatchEvent(anew);
});

/** Return a question without its common words, or as it is where it has no others. What stands in quotes is left alone. */
function withoutCommonWords(question) {
  if (question.includes('"')) return question;
  const words = question.replace(/[?!.,;:](?=\s|$)/g, "").split(/\s+/);
  const left = words.filter((word) => self.lunr.stopWordFilter(word.toLowerCase()) && !PUT_WITH.has(word.toLowerCase()));
  return left.length ? left.join(" ") : question;
}

// From where it is served, beside the bundles (builder/assets.py).
importScripts(new URL(`../../javascripts/workers/${location.search.slice(1)}`, location.href));
