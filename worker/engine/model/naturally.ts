import { byCode } from './code.ts';

/**
 * The order in which a reader looks for names: numbers within them by their worth, so W2 before W10; else byte order. Names
 * that differ in leading zeros alone are in byte order.
 */
export function naturally(a: string, b: string): number {
  const [ours, theirs] = [partsOf(a), partsOf(b)];
  for (let at = 0; at < Math.min(ours.length, theirs.length); at++) {
    const order = partOrder(ours[at] ?? '', theirs[at] ?? '');
    if (order !== 0) return order;
  }
  return ours.length - theirs.length || byCode(a, b);
}

const partsOf = (name: string) => name.match(/\d+|\D+/g) ?? [];

function partOrder(a: string, b: string): number {
  const [one, other] = [a, b].map((part) => (/^\d/.test(part) ? part.replace(/^0+(?=\d)/, '') : undefined));
  if (one === undefined || other === undefined) return byCode(a, b);
  return one.length - other.length || byCode(one, other);
}
