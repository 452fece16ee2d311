/** A text as a stream of bytes, in pieces of a size. */
export async function* bytesOf(text: string | Uint8Array, size = 1 << 16): AsyncGenerator<Uint8Array> {
  const all = typeof text === 'string' ? Buffer.from(text, 'utf8') : text;
  for (let at = 0; at < all.length; at += size) yield all.subarray(at, at + size);
}
