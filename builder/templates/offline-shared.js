// What other apps hand to this one by the device's own way of sharing (share_target in builder/manifest.py). The picture
// waits in the notes until the reader has said which calculator it is for; the page there takes it (theme/scripts/keep/arrived.mjs).

const SHARE = new URL("share/", ROOT);
/** Where the picture waits, as the name of its entry. Nothing is ever fetched there. */
const ARRIVED = new URL("share/arrived", ROOT);
/** More than any field takes: what is larger need not be kept to be refused. */
const MOST_BYTES = 64 * 1024 * 1024;

function isShared(request, address) {
  return request.method === "POST" && address.pathname === SHARE.pathname;
}

/** Keep the picture that was sent, in place of one that came before, and lead to the page that asks what to do with it. */
async function takeShared(request) {
  const cache = await caches.open(NOTES);
  await cache.delete(ARRIVED);
  try {
    const picture = (await request.formData()).getAll("picture").find((each) => each instanceof File && each.size);
    if (picture && picture.size <= MOST_BYTES) {
      const headers = { "Content-Type": picture.type || "application/octet-stream", "File-Name": encodeURIComponent(picture.name) };
      await cache.put(ARRIVED, new Response(picture, { headers }));
    }
  } catch {
    // The page says that nothing came.
  }
  return Response.redirect(SHARE, 303);
}
