import { pointer, type Finding } from '../../model/finding.ts';
import type { CheckContext } from './context.ts';

/** Parts that are counted under fittings and again in the list of parts: one a part, at the list. */
export function checkCountedTwice({ looms, parts }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index }) => {
    const fitted = totals(loom.fittings);
    const listed = totals(loom.parts);
    return [...listed].flatMap(([code, count]): Finding[] => {
      const asFitting = fitted.get(code);
      if (asFitting === undefined) return [];
      const at = loom.parts.findIndex(({ part }) => part === code);
      return [
        {
          code: 'part-counted-twice',
          severity: 'warning',
          at: pointer(['looms', index, 'parts', at]),
          where: `loom ${loom.code}, list of parts`,
          subject: `part:${code}`,
          found: `${code} (${parts.get(code)?.description ?? ''}): ${asFitting} under fittings and ${count} in the list of parts, ${asFitting + count} in all`,
          limit: 'each piece counted only once',
          source: 'common practice, no source',
          todo: 'If they are the same pieces, remove them from one of the two places. If you want more than are fitted, accept this with a note.',
        },
      ];
    });
  });
}

function totals(list: readonly { part: string; quantity: number }[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { part, quantity } of list) counts.set(part, (counts.get(part) ?? 0) + quantity);
  return counts;
}
