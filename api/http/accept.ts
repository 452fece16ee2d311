interface Liked {
  /** "text/html", "text/*" or "*\/*". */
  range: string;
  quality: number;
}

/**
 * Of types that there are, the one that an Accept header likes best (RFC 9110 §12.5.1); of equals the first. Undefined where
 * it takes none of them. Without a header anything is taken.
 */
export function acceptable<T extends string>(header: string | undefined, types: readonly T[]): T | undefined {
  if (header === undefined || header.trim() === '') return types[0];
  const ranges = header.split(',').map(rangeOf);
  let best: { type: T; quality: number } | undefined;
  for (const type of types) {
    const quality = qualityOf(type, ranges);
    if (quality > (best?.quality ?? 0)) best = { type, quality };
  }
  return best?.type;
}

function rangeOf(text: string): Liked {
  const [range = '', ...parameters] = text.split(';').map((word) => word.trim().toLowerCase());
  const stated = parameters.find((word) => word.startsWith('q='));
  const quality = stated === undefined ? 1 : Number(stated.slice(2));
  return { range, quality: quality >= 0 && quality <= 1 ? quality : 0 };
}

/** The most specific range that a type is in says how much it is liked. */
function qualityOf(type: string, ranges: readonly Liked[]): number {
  const group = `${type.slice(0, type.indexOf('/'))}/*`;
  for (const wanted of [type, group, '*/*']) {
    const found = ranges.find(({ range }) => range === wanted);
    if (found) return found.quality;
  }
  return 0;
}
