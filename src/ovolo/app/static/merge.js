// Two changes of one document made to the same version, put together field by field.

import { at, withValue } from "./common.js";

export const same = (a, b) => a === b || JSON.stringify(a) === JSON.stringify(b);

const isTable = (value) => value !== null && typeof value === "object" && !Array.isArray(value);

/**
 * What both changes make of `base`, and the fields that both have changed to something else: { document, both }.
 * In those the document has mine. Lists are taken apart only where all three are of one length.
 * @param {object} base
 * @param {object} mine
 * @param {object} theirs
 * @param {string} [path]
 */
export function merged(base, mine, theirs, path = []) {
  if (same(mine, theirs) || same(theirs, base)) return { document: mine, both: [] };
  if (same(mine, base)) return { document: theirs, both: [] };
  const lists =
    [base, mine, theirs].every(Array.isArray) && base.length === mine.length && base.length === theirs.length;
  if (!lists && ![base, mine, theirs].every(isTable)) return { document: mine, both: [path] };
  const both = [],
    whole = lists ? [] : {};
  for (const key of new Set([...Object.keys(mine), ...Object.keys(theirs)])) {
    const step = lists ? Number(key) : key,
      inner = merged(base[key], mine[key], theirs[key], [...path, step]);
    if (inner.document !== undefined) whole[key] = inner.document;
    both.push(...inner.both);
  }
  return { document: whole, both };
}

/** A document with some of its fields as another one has them. */
export const taking = (document, fields, other) =>
  fields.reduce((made, path) => (path.length ? withValue(made, path, at(other, path)) : other), document);
