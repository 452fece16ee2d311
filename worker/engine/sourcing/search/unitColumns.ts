import type { Entry } from '../../solver/model.ts';
import { exactToSolver } from '../../units/money.ts';
import { coversByChoice, limitsOf } from '../problem/limits.ts';
import type { Choice, Problem } from '../problem/problem.ts';
import type { LeafModel } from './leafModel.ts';
import type { Network } from './network.ts';
import { MICROGRAMS } from './parcels.ts';
import type { Ground } from './prices.ts';
import type { Rows } from './rows.ts';

/** Where columns are added, and of what. */
export interface Leafing {
  model: LeafModel;
  problem: Problem;
  network: Network;
  rows: Rows;
  ground: Ground;
}

/** Whole-number columns for units of a choice: these are the sum of step · column. */
export type UnitColumns = readonly { column: number; step: number }[];

/** What units of a choice count for. */
interface Counting {
  /** A unit's entries. */
  each: readonly Entry[];
  /** Entries of buying any at all, where that must be told. */
  any?: readonly Entry[] | undefined;
  most: number;
}

/** Units of a choice at each of its prices, in each open parcel of its supplier; off the own shelf in none. */
export function addUnits(
  { model, problem, network, rows, ground: { open } }: Leafing,
  at: number,
  { each, any, most }: Counting,
): UnitColumns {
  const choice = problem.choices[at]!;
  const { step } = choice;
  const own = network.parcels.of[choice.supplier]!;
  const parcels = own.length > 0 ? own.filter((k) => open[k] === 1) : [undefined];
  return parcels.flatMap((k) =>
    pricesOf(choice, most).map(({ price, fewest, last }) => {
      const value = exactToSolver(price) * step;
      const entries: Entry[] = [
        ...each.map(([row, amount]): Entry => [row, amount * step]),
        ...rows.unitEntries(at, step),
      ];
      if (k !== undefined)
        rows.goods(k, value, (choice.microgramsPerUnit * step) / MICROGRAMS, (row, amount) =>
          entries.push([row, amount]),
        );
      const rate = k === undefined ? 0 : network.parcels.list[k]!.rate;
      // units ≤ last · any, units ≥ fewest · any, any ≤ sent; or units ≤ last · sent.
      const under = model.row(0, Infinity);
      entries.push([under, -step]);
      const isTold = any !== undefined || choice.tiers.length > 1 || fewest > step;
      if (!isTold) {
        if (k !== undefined) model.extend(k, [under, last]);
        else model.raise(under, -last);
        return { column: model.add({ cost: rate * value, entries }, Math.floor(last / step), true), step };
      }
      const over = model.row(0, Infinity);
      entries.push([over, step]);
      const yes: Entry[] = [[under, last], [over, -fewest], ...(any ?? [])];
      if (k !== undefined) {
        const sent = model.row(0, Infinity);
        yes.push([sent, -1]);
        model.extend(k, [sent, 1]);
      }
      model.add({ cost: 0, entries: yes }, 1, true);
      return { column: model.add({ cost: rate * value, entries }, Math.floor(last / step), true), step };
    }),
  );
}

/** Most units of each choice that can be worth buying without a threshold of its supplier's. */
export function mostUnits({ choices, requirements, covers, suppliers }: Problem): (at: number) => number {
  const byChoice = coversByChoice(covers);
  return (at) => {
    const choice = choices[at]!;
    const { bands } = suppliers[choice.supplier]!;
    return limitsOf(choice, { requirements, covers: byChoice.get(at) ?? [] }, bands).plain;
  };
}

export function unitsIn(columns: UnitColumns, values: readonly number[]): number {
  return columns.reduce((sum, { column, step }) => sum + Math.round(values[column]!) * step, 0);
}

function pricesOf(choice: Choice, most: number) {
  return choice.tiers.flatMap(({ fromUnits, price }, tier) => {
    const next = choice.tiers[tier + 1];
    const last = next ? Math.min(most, next.fromUnits - choice.step) : most;
    return fromUnits > last ? [] : [{ price, fewest: fromUnits, last }];
  });
}
