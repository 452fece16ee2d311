import type { AskedLoom } from '../asked.ts';
import type { LengthPiece } from '../lengths/lengthPiece.ts';
import { coveringCut } from './cut.ts';
import type { Laid } from './layers.ts';

/** The coverings of a loom as pieces to be cut, in its order. */
export function coveringPieces({ loom, settings }: AskedLoom, laid: readonly Laid[]): LengthPiece[] {
  const leaving = new Map<string, number>();
  for (const { from, to } of loom.branches)
    for (const point of [from, to]) leaving.set(point, (leaving.get(point) ?? 0) + 1);
  return laid.map((item): LengthPiece => {
    const { covering, part, chosen, index } = item;
    const cut = part && coveringCut(item, settings, leaving);
    return {
      part,
      what: `covering ${covering.id}`,
      subject: `covering:${covering.id}`,
      supply: covering.supply,
      cut:
        cut && chosen !== undefined
          ? { ...cut, steps: [{ rule: 'chosen', text: chosen, value: 1, unit: 'pieces' }, ...cut.steps] }
          : cut,
      path: ['coverings', index],
      notChosen: part ? undefined : { code: 'covering-not-chosen', why: chosen ?? '' },
      empty: item.way !== undefined && item.under.every(({ steadyMm }) => steadyMm === 0),
    };
  });
}
