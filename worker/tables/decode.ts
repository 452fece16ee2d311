import { Unreadable } from './tableFault.ts';

/** So much is worked at once, whatever the size of what the caller hands over. */
const SLICE = 65_536;

const SAVE = 'Save the table as “CSV UTF-8” and send that file.';

/**
 * The text of a stream of bytes: UTF-8 with or without its mark, or UTF-16 with its mark. Throws Unreadable at bytes that
 * are neither, once all lines before them are out.
 */
export async function* textOf(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  let start: Uint8Array = new Uint8Array();
  let decode: ((chunk: Uint8Array, last: boolean) => Generator<string>) | undefined;
  for await (const chunk of slices(bytes)) {
    if (decode) {
      yield* decode(chunk, false);
      continue;
    }
    start = joined(start, chunk);
    if (start.length < 3) continue;
    const [decoder, mark] = decoderOf(start);
    decode = decoder;
    yield* decode(start.subarray(mark), false);
  }
  if (!decode) {
    const [decoder, mark] = decoderOf(start);
    decode = decoder;
    yield* decode(start.subarray(mark), false);
  }
  yield* decode(new Uint8Array(), true);
}

async function* slices(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  for await (const chunk of bytes)
    for (let at = 0; at < chunk.length; at += SLICE) yield chunk.subarray(at, at + SLICE);
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

function decoderOf([a, b, c]: Uint8Array): [
  decode: (chunk: Uint8Array, last: boolean) => Generator<string>,
  mark: number,
] {
  if (a === 0xef && b === 0xbb && c === 0xbf) return [utf8(), 3];
  if (a === 0xff && b === 0xfe) return [utf16('utf-16le'), 2];
  if (a === 0xfe && b === 0xff) return [utf16('utf-16be'), 2];
  return [utf8(), 0];
}

function utf16(label: string) {
  const decoder = new TextDecoder(label, { fatal: true, ignoreBOM: true });
  return function* (chunk: Uint8Array, last: boolean) {
    let text;
    try {
      text = decoder.decode(chunk, { stream: !last });
    } catch {
      throw new Unreadable({
        code: 'wrong-encoding',
        found: 'bytes that are no UTF-16',
        limit: 'UTF-8',
        todo: SAVE,
      });
    }
    yield text;
  };
}

/** What of a character stands at the end of the bytes without its rest. */
function cutOff(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back] ?? 0;
    if ((byte & 0xc0) === 0x80) continue;
    const length = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : byte >= 0xc0 ? 2 : 1;
    return length > back ? back : 0;
  }
  return 0;
}

function utf8() {
  const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  let rest: Uint8Array = new Uint8Array();
  let lines = 1;
  return function* (chunk: Uint8Array, last: boolean) {
    const all = joined(rest, chunk);
    const cut = last ? 0 : cutOff(all);
    const whole = all.subarray(0, all.length - cut);
    rest = all.slice(all.length - cut);
    let text;
    try {
      text = decoder.decode(whole);
    } catch {
      const { good, before } = goodLines(decoder, whole);
      yield good;
      throw new Unreadable({
        code: 'wrong-encoding',
        found: `bytes in line ${lines + before} that are no UTF-8`,
        limit: 'UTF-8',
        todo: SAVE,
      });
    }
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) lines++;
    yield text;
  };
}

/** The lines before the first that is no UTF-8, and how many they are. */
function goodLines(
  decoder: InstanceType<typeof TextDecoder>,
  bytes: Uint8Array,
): { good: string; before: number } {
  let good = '';
  let before = 0;
  for (let from = 0; ; before++) {
    const end = bytes.indexOf(10, from);
    try {
      good += decoder.decode(bytes.subarray(from, end < 0 ? bytes.length : end + 1));
    } catch {
      return { good, before };
    }
    if (end < 0) return { good, before };
    from = end + 1;
  }
}
