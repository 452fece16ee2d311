import type { Result } from '../../worker/engine/model/result.ts';
import type { Taken } from './stopwatch.ts';

type Beside = Extract<Result['beside'], object>;
type Part = Beside['unfinished'][number]['part'];

interface Ran extends Taken {
  /** The setting; 0: the quote alone. */
  besideSeconds: number;
  peakRssMb: number;
}

/** The van’s whole quote, from the job to the result. */
export interface VanRow extends Ran {
  proven: boolean;
  gapPercent: number;
  /** Each part of what lies beside it; none where that was not asked for. */
  beside: { part: Part; rows: number; proven: number; left: number }[];
  /** Offers of which nothing is bought; and of these, the ones whose fall is known to lie between 0 and 100 %. */
  losing: number;
  fallsKnown: number;
}

export function vanRow({ proof, beside }: Result, ran: Ran): VanRow {
  const [cost, bound] = [Number(proof.cost.amount), Number(proof.bound.amount)];
  return {
    ...ran,
    proven: proof.status === 'proven',
    gapPercent: cost === 0 ? 0 : (Math.max(0, cost - bound) / cost) * 100,
    beside: beside === undefined ? [] : partsOf(beside),
    losing: beside === undefined ? 0 : beside.falls.length + (beside.fallsUnknown ?? 0),
    fallsKnown: beside?.falls.filter(({ fallPercent }) => fallPercent > 0 && fallPercent < 100).length ?? 0,
  };
}

function partsOf(beside: Beside): VanRow['beside'] {
  const { bySuppliers, byDay, otherSet, elsewhere, falls, fallsUnknown = 0, unfinished } = beside;
  const mixes = { bySuppliers, byDay, otherSet: otherSet ? [otherSet] : [] };
  const part = (name: Part, rows: number, proven: number) => ({
    ...{ part: name, rows, proven },
    left: unfinished.reduce((sum, one) => sum + (one.part === name ? one.left : 0), 0),
  });
  return [
    ...(['bySuppliers', 'byDay', 'otherSet'] as const).map((name) =>
      part(name, mixes[name].length, mixes[name].filter(({ proven }) => proven).length),
    ),
    part('elsewhere', elsewhere.length, elsewhere.filter(({ why }) => why !== 'notWorked').length),
    part('falls', falls.length + fallsUnknown, falls.length),
  ];
}
