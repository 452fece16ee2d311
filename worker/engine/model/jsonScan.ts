import { pointer } from './finding.ts';

/** What a text may hold before it is read. */
export interface JsonLimits {
  /** Lists and objects in one another. */
  depth: number;
  /** Values of any kind, those inside of others counted too. */
  values: number;
  /** Keys of one object; left out: any number. */
  keys?: number;
}

/** A place in a text of JSON: its offset, and the JSON Pointer (RFC 6901) to the value there. */
export interface JsonPlace {
  offset: number;
  at: string;
}

export type JsonScan =
  | { found: 'fit'; values: number }
  | { found: 'tooDeep' | 'tooMany' | 'tooManyKeys'; place: JsonPlace }
  /** Keys that an object has already: the first of them, and how many there are. */
  | { found: 'duplicates'; places: (JsonPlace & { key: string })[]; count: number };

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;
const OPEN_LIST = 0x5b;
const CLOSE_LIST = 0x5d;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;
const COLON = 0x3a;

/** Objects of more keys than this are looked up in a set. */
const FEW = 12;

/** One list or object that is open. */
interface Open {
  isObject: boolean;
  /** Of a list: the entry that the scan is in. */
  index: number;
  /** Of an object: the keys so far, unescaped; the last one is the one that the scan is in. */
  keys: string[];
  set: Set<string> | undefined;
  /** Where the last key is that stands twice. */
  last: string;
}

/**
 * One pass over a text, before anything of it is built: how deep it is nested, how many values it holds, and whether an
 * object has a key twice. Ends at the first place beyond a limit. A text that is no JSON gets some answer: JSON.parse is what
 * judges it. At most `most` duplicate keys are told with their places.
 */
export function scanJson(text: string, limits: JsonLimits, most: number): JsonScan {
  const open: Open[] = [];
  const places: (JsonPlace & { key: string })[] = [];
  let count = 0;
  let depth = 0;
  let values = 0;
  let isKey = false;
  let top: Open | undefined;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) {
      const end = endOfText(text, at);
      if (isKey && top) {
        if (limits.keys !== undefined && (top.set?.size ?? 0) >= limits.keys)
          return { found: 'tooManyKeys', place: { offset: at, at: pointerTo(open, depth - 1) } };
        if (entered(top, text.slice(at + 1, end))) {
          count++;
          if (places.length < most) places.push({ offset: at, at: pointerTo(open, depth), key: top.last });
        }
        isKey = false;
      } else values++;
      at = end;
    } else if (code === COMMA) {
      if (top?.isObject === true) isKey = true;
      else if (top) top.index++;
    } else if (code === OPEN_LIST || code === OPEN_OBJECT) {
      values++;
      if (depth === limits.depth)
        return { found: 'tooDeep', place: { offset: at, at: pointerTo(open, depth) } };
      const isObject = code === OPEN_OBJECT;
      top = open[depth] ??= { isObject, index: 0, keys: [], set: undefined, last: '' };
      depth++;
      top.isObject = isObject;
      top.index = 0;
      top.keys.length = 0;
      top.set = undefined;
      top.last = '';
      isKey = isObject;
    } else if (code === CLOSE_LIST || code === CLOSE_OBJECT) {
      depth = Math.max(0, depth - 1);
      top = depth === 0 ? undefined : open[depth - 1];
      isKey = false;
    } else if (code > 0x20 && code !== COLON) {
      values++;
      at = endOfScalar(text, at) - 1;
    }
    if (values > limits.values)
      return { found: 'tooMany', place: { offset: at, at: pointerTo(open, depth) } };
  }
  return count > 0 ? { found: 'duplicates', places, count } : { found: 'fit', values };
}

/** The quote that ends the text which begins at a quote; the end of all where there is none. */
function endOfText(text: string, start: number): number {
  for (let from = start + 1; ;) {
    const end = text.indexOf('"', from);
    if (end < 0) return text.length;
    let backslashes = end;
    while (backslashes > from && text.charCodeAt(backslashes - 1) === BACKSLASH) backslashes--;
    if ((end - backslashes) % 2 === 0) return end;
    from = end + 1;
  }
}

/** The end of a number or a word; at least one character is taken. */
function endOfScalar(text: string, start: number): number {
  let at = start + 1;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (
      code <= 0x20 ||
      code === COMMA ||
      code === QUOTE ||
      code === COLON ||
      code === OPEN_LIST ||
      code === CLOSE_LIST ||
      code === OPEN_OBJECT ||
      code === CLOSE_OBJECT
    )
      break;
  }
  return at;
}

/** Enters a key into its object; true where it is there already. */
function entered(object: Open, written: string): boolean {
  const key = written.includes('\\') ? unescaped(written) : written;
  object.last = key;
  if (object.set) {
    if (object.set.has(key)) return true;
    object.set.add(key);
    return false;
  }
  if (object.keys.includes(key)) return true;
  object.keys.push(key);
  if (object.keys.length > FEW) object.set = new Set(object.keys);
  return false;
}

function unescaped(written: string): string {
  try {
    return String(JSON.parse(`"${written}"`));
  } catch {
    return written;
  }
}

function pointerTo(open: readonly Open[], depth: number): string {
  return pointer(
    open.slice(0, depth).flatMap((each): PropertyKey[] => {
      if (!each.isObject) return [each.index];
      return each.last === '' && each.keys.length === 0 ? [] : [each.last];
    }),
  );
}
