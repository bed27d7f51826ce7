/**
 * Links with typed input: `#in=1&width_mm=25.4+mm&rows[0].copies=3`. Version 1 has one text per field, under the
 * field's address; `rows[]` is a list without rows, `rows[2]` a row without texts. Links never contain files.
 */

const VERSION = "1";
const STEP = /^(?<name>[^.[\]]+)(?:\[(?<place>\d*)\])?(?:\.(?<rest>.+))?$/;
/** No calculator has more rows than this. */
const MOST_ROWS = 1000;

/**
 * @param {Record<string, string | object[]>} inputs typed texts by field name; rows are lists of the same
 * @returns {string} the fragment, without its "#"
 */
export function fragmentOf(inputs) {
  const parameters = new URLSearchParams({ in: VERSION });
  for (const [address, text] of addresses(inputs)) parameters.append(address, text);
  return parameters.toString();
}

/** @param {Record<string, any>} inputs * @returns {Generator<[string, string]>}
 */
function* addresses(inputs, before = "") {
  for (const [name, value] of Object.entries(inputs)) {
    const address = before + name;
    if (typeof value === "string") yield [address, value];
    else if (!value.length) yield [`${address}[]`, ""];
    else for (const [place, row] of value.entries()) yield* rowAddresses(row, `${address}[${place}]`);
  }
}

/**
 * @param {Record<string, any>} row
 * @param {string} address
 * @returns {Generator<[string, string]>}
 */
function* rowAddresses(row, address) {
  if (Object.keys(row).length) yield* addresses(row, `${address}.`);
  else yield [address, ""];
}

/**
 * Parses a fragment. Returns null if it is not one of ours.
 * @param {string} hash the page's fragment, with or without "#"
 * @returns {null | {version: string, inputs: Record<string, string | object[]> | null, unread: string[]}}
 *   `inputs` is null if the version is unknown; `unread` are unknown addresses
 */
export function readFragment(hash) {
  const parameters = new URLSearchParams(hash.replace(/^#/, ""));
  const version = parameters.get("in");
  if (version === null) return null;
  if (version !== VERSION) return { version, inputs: null, unread: [] };
  parameters.delete("in");
  const inputs = Object.create(null);
  const unread = [];
  for (const [address, text] of parameters) if (!put(inputs, address, text)) unread.push(address);
  return { version, inputs, unread };
}

/**
 * @param {Record<string, any>} into
 * @param {string} address
 * @param {string} text
 * @returns {boolean}
 */
function put(into, address, text) {
  const { name, place, rest } = STEP.exec(address)?.groups ?? {};
  if (name === undefined) return false;
  if (place === undefined) {
    if (rest !== undefined || name in into) return false;
    into[name] = text;
    return true;
  }
  const rows = (into[name] ??= []);
  if (!Array.isArray(rows)) return false;
  if (place === "") return rest === undefined;
  if (Number(place) > rows.length || rows.length > MOST_ROWS) return false;
  const row = (rows[Number(place)] ??= Object.create(null));
  return rest === undefined || put(row, rest, text);
}
