import { HttpProblem } from './problem.ts';

interface Liked {
  /** "text/html", "text/*" or "*\/*". */
  range: string;
  /** As "format=flowed". */
  parameters: string[];
  quality: number;
}

/** A quoted text, or anything but what separates. */
const piecesBy = (separator: string) => new RegExp(`(?:"(?:[^"\\\\]|\\\\.)*"|[^${separator}"])+`, 'g');
const BETWEEN_RANGES = piecesBy(',');
const WITHIN_RANGE = piecesBy(';');
/** RFC 9110 §12.4.2. */
const QUALITY = /^(0(\.\d{0,3})?|1(\.0{0,3})?)$/;

/**
 * Of types that there are, the one that an Accept header likes best (RFC 9110 §12.5.1); of equals one that it names before
 * one that only a wildcard takes in, then the first. Undefined where it takes none of them. Without a header anything is
 * taken.
 */
export function acceptable<T extends string>(header: string | undefined, types: readonly T[]): T | undefined {
  const ranges = rangesOf(header ?? '');
  if (ranges.length === 0) return types[0];
  let best: { type: T; quality: number; named: number } | undefined;
  for (const type of types) {
    const found = bestRange(type, ranges);
    if (!found || found.liked.quality === 0) continue;
    const [quality, named] = [found.liked.quality, Math.floor(found.precision)];
    if (!best || quality > best.quality || (quality === best.quality && named > best.named))
      best = { type, quality, named };
  }
  return best?.type;
}

/** How much a type is liked, from 0 to 1: the most precise range that it is in says so. */
export function qualityOf(header: string, type: string): number {
  return bestRange(type, rangesOf(header))?.liked.quality ?? 0;
}

/**
 * The form that a caller asks for: the one stated in the query, or else the one that the Accept header likes best. Problem:
 * 406 with the types that there are.
 */
export function formOf<F extends string>(
  header: string | undefined,
  stated: F | undefined,
  types: Partial<Record<F, string>>,
): F {
  const forms = Object.keys(types) as F[];
  if (stated !== undefined) {
    if (types[stated] !== undefined) return stated;
    throw new HttpProblem(
      'not-acceptable',
      `There is no form ${stated} of this. It can be had with format=${forms.join(', format=')}.`,
    );
  }
  const type = requireAccepted(
    header,
    forms.map((form) => types[form] as string),
  );
  return forms.find((form) => types[form] === type) as F;
}

/** The type that a caller likes best of those that there are. Problem: 406 with all of them. */
export function requireAccepted(header: string | undefined, types: readonly string[]): string {
  const type = acceptable(header, types);
  if (type !== undefined) return type;
  throw new HttpProblem(
    'not-acceptable',
    `The Accept header of this request takes none of the types that there are: ${types.join(', ')}. Name one of them in Accept, or leave the header out.`,
  );
}

/** The most precise range that a type is in: its kind counts before its parameters. */
function bestRange(type: string, ranges: readonly Liked[]): { liked: Liked; precision: number } | undefined {
  const { range: name, parameters } = rangeOf(type);
  const group = `${name.slice(0, name.indexOf('/'))}/*`;
  let best: { liked: Liked; precision: number } | undefined;
  for (const liked of ranges) {
    if (!liked.parameters.every((parameter) => parameters.includes(parameter))) continue;
    const index = ['*/*', group, name].indexOf(liked.range);
    if (index < 0) continue;
    const precision = index + liked.parameters.length / 1000;
    if (!best || precision > best.precision) best = { liked, precision };
  }
  return best;
}

function rangesOf(header: string): Liked[] {
  return (header.match(BETWEEN_RANGES) ?? []).filter((text) => text.trim() !== '').map(rangeOf);
}

function rangeOf(text: string): Liked {
  const [range = '', ...words] = (text.match(WITHIN_RANGE) ?? []).map((word) =>
    word
      .trim()
      .toLowerCase()
      .replace(/\s*=\s*/, '='),
  );
  const weight = words.find((word) => word.startsWith('q='))?.slice(2);
  return {
    range,
    // All texts are in UTF-8, so that asking for it picks nothing out.
    parameters: words.filter((word) => word !== '' && !/^(q=|charset="?utf-8"?$)/.test(word)),
    quality: weight === undefined ? 1 : QUALITY.test(weight) ? Number(weight) : 0,
  };
}
