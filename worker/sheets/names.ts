import type { Result } from '../engine/model/result.ts';

/** A supplier's name by its code, as far as the quote orders from it; else the code. */
export function supplierNames({ orderLists }: Pick<Result, 'orderLists'>): (code: string) => string {
  const names = new Map(orderLists.map(({ supplier, name }) => [supplier, name]));
  return (code) => names.get(code) ?? code;
}

/** A text of at most so many characters, cut off with "…". */
export function clipped(text: string, most: number): string {
  return text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
}
