import { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { engine } from '../bench/direct.ts';
import type { Taken } from '../bench/stopwatch.ts';

export type Stock = readonly [nominalMm: number, price: number];
export type Piece = readonly [mm: number, count: number];

/** Pieces of one sleeve out of bought lengths at whole pounds each. */
function sleeveJob(stocks: readonly Stock[], pieces: readonly Piece[]): Job {
  const coverings = pieces.flatMap(([mm, count], index) =>
    Array.from({ length: count }, (_, at) => ({
      id: `c${index}-${at}`,
      kind: 'pvc',
      part: 'sleeve',
      lengthMm: mm,
    })),
  );
  return Job.parse({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-24',
    club: { currency: 'GBP', settings: { spareCoveringPercent: 0, besideSeconds: 0 } },
    parts: [{ kind: 'sleeve', code: 'sleeve', description: 'Sleeve', sleeveType: 'pvc' }],
    suppliers: [{ code: 's', name: 'S', currency: 'GBP' }],
    offers: stocks.map(([nominalMm, price]) => ({
      form: 'length',
      code: `length-${nominalMm}`,
      supplier: 's',
      part: 'sleeve',
      nominalMm,
      packPrice: { amount: `${price}`, currency: 'GBP' },
    })),
    looms: [{ code: 'l', name: 'L', coverings }],
    request: { looms: [{ loom: 'l', quantity: 1 }] },
  });
}

/** What a cutting came to through the whole engine, and what it took. */
export interface Cutting extends Taken {
  status: Result['proof']['status'];
  cost: number;
  bound: number;
  plan: Result['cuttingPlans'][number] | undefined;
}

/** The pieces bought and cut by the whole engine, within so many seconds. */
export async function cut(
  stocks: readonly Stock[],
  pieces: readonly Piece[],
  seconds = 60,
): Promise<Cutting> {
  const { result, ...taken } = await engine(sleeveJob(stocks, pieces), seconds);
  const { status, cost, bound } = result.proof;
  return {
    status,
    cost: Number(cost.amount),
    bound: Number(bound.amount),
    plan: result.cuttingPlans[0],
    ...taken,
  };
}

/** Whether a plan cuts just these pieces, none longer than what it is cut from. */
export function cutsAll({ plan }: Cutting, pieces: readonly Piece[]): boolean {
  const counts = new Map<number, number>();
  for (const { lengths, pieces: own, usableMm, offcutMm } of plan?.lengths ?? []) {
    const used = own.reduce((sum, { cutMm, count }) => sum + cutMm * count, 0);
    if (used > usableMm || used + offcutMm !== usableMm) return false;
    for (const { cutMm, count } of own) counts.set(cutMm, (counts.get(cutMm) ?? 0) + count * lengths);
  }
  const asked = new Map<number, number>();
  for (const [mm, count] of pieces) asked.set(mm, (asked.get(mm) ?? 0) + count);
  return counts.size === asked.size && [...asked].every(([mm, count]) => counts.get(mm) === count);
}
