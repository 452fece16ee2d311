import type { LengthRequirement } from '../../model/result.ts';
import type { Step } from '../../model/step.ts';
import { totalOf } from './totals.ts';

/** A need by length with the sum of its pieces and of its spares, where it has some. */
export function withTotals(need: LengthRequirement, spare: Step | undefined): LengthRequirement {
  const used = totalOf(need.pieces);
  if (!spare) return { ...need, ...used };
  const totalMm = used.totalMm + spare.value;
  const text = `${used.totalMm} + ${spare.value} spare = ${totalMm} mm`;
  return {
    ...need,
    totalMm,
    steps: [...used.steps, spare, { rule: 'total', text, value: totalMm, unit: 'mm' }],
  };
}
