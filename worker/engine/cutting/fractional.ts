import type { Control } from '../model/control.ts';
import type { Cutting } from './cutting.ts';
import { mostWithin } from './fillTable.ts';
import { isShut, Worths, type Fill } from './fillings.ts';
import { Programme } from './programme.ts';
import { COLUMN_IN_USE, FILLING_OF_USE } from '../solver/tolerances.ts';

/**
 * What is to be cut, in fractions of lengths, for the least. `at`: how many of each stock there are, and mm of continuous
 * lengths; least is the share of all that, the same for each, out of which everything comes (more than 1: it does not all
 * come out). `prices`: there is any number; least is the sum of what a stock and a mm cost, the dearest length about 1.
 */
export interface Fractions {
  cutting: Cutting;
  /** Pieces still to be cut, in the cutting's order. */
  counts: readonly number[];
  by: 'at' | 'prices';
  stocks: readonly number[];
  metres: readonly { amount: number; wave: number }[];
  /** Fillings to begin with, as any that was found is added. */
  pool: Fill[];
  /** Fillings that are within one of these, of the same stock, are not used. */
  shutOut?: readonly Fill[];
  /** Whether a fraction that was found, and what it cannot be less than, are near enough to stop, after so many rounds. */
  enough: (least: number, bound: number, rounds: number) => boolean;
}

export interface FractionalAnswer {
  /** The least share or price found, and what it cannot be less than. */
  least: number;
  bound: number;
  /** Values of the pieces that show the bound. */
  values: number[];
  used: { fill: Fill; times: number }[];
}

/** Fillings are looked for at values so near to those that gave the best bound: fewer are found that lead nowhere. */
const NEAR = 0.7;

/** So many fillings are taken in between two solves. */
const MOST_AT_ONCE = 60;

/**
 * The least fraction, by column generation: Gilmore and Gomory, A linear programming approach to the cutting stock problem,
 * Operations Research 9 (1961); with values smoothed as by Wentges, Weighted Dantzig-Wolfe decomposition for linear
 * mixed-integer programming, International Transactions in Operational Research 4 (1997). Undefined where the control's
 * time runs out.
 */
export async function leastFractions(
  given: Fractions,
  control: Control,
): Promise<FractionalAnswer | undefined> {
  const programme = await Programme.of(given);
  try {
    const inUse = startingFills(given);
    programme.add(inUse);
    const known = new Set(inUse.map(keyOf));
    let best = lookAt(
      given,
      given.cutting.pieces.map(({ mm }) => mm),
      programme.whole,
    );
    for (let rounds = 1; ; rounds++) {
      const answer = programme.solve(control);
      if (!answer) return undefined;
      const used = inUse.flatMap((fill, at) => {
        const times = answer.times[at] ?? 0;
        return times > COLUMN_IN_USE ? [{ fill, times }] : [];
      });
      if (given.enough(answer.least, best.bound, rounds))
        return { least: answer.least, bound: best.bound, values: best.values, used };
      const found: Fill[] = [];
      for (const near of [NEAR, 0]) {
        const values = answer.values.map((value, at) => near * (best.values[at] ?? 0) + (1 - near) * value);
        const look = lookAt(given, values, programme.whole);
        if (look.bound > best.bound) best = look;
        const gains = look.fills().map((fill) => ({ fill, gain: gainOf(fill, answer) }));
        for (const { fill, gain } of gains.sort((a, b) => b.gain - a.gain).slice(0, MOST_AT_ONCE)) {
          // Found again: what it seems to be worth more is the solver's noise.
          if (gain <= FILLING_OF_USE || known.has(keyOf(fill))) continue;
          known.add(keyOf(fill));
          inUse.push(fill);
          given.pool.push(fill);
          found.push(fill);
        }
        if (found.length > 0) break;
      }
      programme.add(found);
      if (found.length === 0) return { least: answer.least, bound: best.bound, values: answer.values, used };
    }
  } finally {
    programme.dispose();
  }
}

/** By how much a filling is worth more than it costs. */
function gainOf(
  { stock, counts }: Fill,
  { values, worth }: { values: readonly number[]; worth: readonly number[] },
): number {
  return counts.reduce((sum, count, at) => sum + count * (values[at] ?? 0), -(worth[stock] ?? 0));
}

interface Look {
  bound: number;
  /** In the measure of the programme's. */
  values: number[];
  fills: () => Fill[];
}

/** What the least cannot be less than at these values, in whatever measure they are, and the fillings worth the most. */
function lookAt(given: Fractions, values: readonly number[], whole: number): Look {
  const { cutting, counts, by, stocks, metres, shutOut = [] } = given;
  const filled = new Worths(cutting, counts, values);
  const need = values.reduce((sum, value, at) => sum + value * (counts[at] ?? 0), 0);
  const best = stocks.map((amount, stock) => {
    if (by === 'at' && amount === 0) return undefined;
    if (shutOut.length === 0) return { worth: filled.worth(stock), counts: undefined };
    return filled.bestBeside(stock, shutOut);
  });
  const perMm = metres.map(({ wave }) =>
    cutting.pieces.reduce((most, { mm, wave: own }, at) => {
      return own >= wave && counts[at] ? Math.max(most, (values[at] ?? 0) / mm) : most;
    }, 0),
  );
  const amounts = [...stocks, ...metres.map(({ amount }) => amount)];
  const worths = [...best.map((one) => one?.worth ?? 0), ...perMm];
  const scale =
    by === 'at'
      ? whole / amounts.reduce((sum, amount, at) => sum + amount * (worths[at] ?? 0), 0)
      : amounts.reduce(
          (least, amount, at) => (worths[at] ? Math.min(least, amount / (worths[at] ?? 1)) : least),
          Infinity,
        );
  // Pieces of worth that come out of nothing that there is: no fraction is enough.
  const fair = Number.isFinite(scale) ? scale : 1;
  return {
    bound: fair === scale || need === 0 ? (fair * need) / whole : Infinity,
    values: values.map((value) => value * fair),
    fills: () =>
      best.flatMap((one, stock) => {
        if (!one?.worth) return [];
        return (one.counts ? [one.counts] : filled.best(stock)).map((own) => ({ stock, counts: own }));
      }),
  };
}

function keyOf({ stock, counts }: Fill): string {
  return `${stock}:${counts.join()}`;
}

/** As much as goes in of each piece alone, all pieces longest first, and what is in the pool, as far as it is needed. */
function startingFills({ cutting, counts, pool, stocks, by, shutOut = [] }: Fractions): Fill[] {
  const distinct = new Map<string, Fill>();
  const offer = (fill: Fill) => {
    if (fill.counts.every((count) => count === 0) || (by === 'at' && !stocks[fill.stock])) return;
    if (isShut(fill, shutOut)) return;
    distinct.set(keyOf(fill), fill);
  };
  cutting.stocks.forEach(({ size, wave }, stock) => {
    const may = cutting.pieces.map((piece, at) => (piece.wave >= wave ? (counts[at] ?? 0) : 0));
    cutting.pieces.forEach((piece, at) => {
      const most = mostWithin(piece.size, may[at] ?? 0, size);
      offer({ stock, counts: may.map((_, other) => (other === at ? most : 0)) });
    });
    for (const own of longestFirst(cutting, size, may)) offer({ stock, counts: own });
  });
  for (const fill of pool)
    offer({ ...fill, counts: fill.counts.map((count, at) => Math.min(count, counts[at] ?? 0)) });
  return [...distinct.values()];
}

/** Lengths of one size filled by first fit. */
function longestFirst({ pieces }: Cutting, size: number, counts: readonly number[]): number[][] {
  const lengths: { left: number; counts: number[] }[] = [];
  pieces.forEach(({ size: own }, at) => {
    let left = own <= size ? (counts[at] ?? 0) : 0;
    for (let index = 0; left > 0; index++) {
      const length = (lengths[index] ??= { left: size, counts: pieces.map(() => 0) });
      const fits = mostWithin(own, left, length.left);
      length.counts[at] = fits;
      length.left -= fits * own;
      left -= fits;
    }
  });
  return lengths.map(({ counts: own }) => own);
}
