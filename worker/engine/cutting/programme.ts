import type { Control } from '../model/control.ts';
import type { Entry } from '../solver/model.ts';
import { WarmLp, type LpColumn } from '../solver/warmLp.ts';
import type { Fill } from './fillings.ts';
import type { Fractions } from './fractional.ts';

/** A piece that comes out of nothing costs so many of the dearest length. */
const NOT_CUT = 1e4;

/**
 * The linear programme of cutting in fractions over the fillings found so far: each piece is covered; by shares, no more
 * lengths are filled than the share of those that there are.
 */
export class Programme {
  readonly #given: Fractions;
  readonly #lp: WarmLp;
  /** Columns that stand before those of the fillings. */
  readonly #first: number;
  /** What all of the shares costs: about 1 a length, so that the solver's tolerances mean the same at any size. */
  readonly whole: number;

  private constructor(given: Fractions, lp: WarmLp) {
    this.#given = given;
    this.#lp = lp;
    const { cutting, counts, metres, stocks } = given;
    this.whole =
      given.by === 'at'
        ? Math.max(
            1,
            stocks.reduce((sum, amount) => sum + amount, 0),
          )
        : 1;
    const columns: LpColumn[] = [];
    const column = (cost: number, entries: Entry[]) => columns.push(endless(cost, entries));
    cutting.pieces.forEach((_, at) => column(NOT_CUT, [[at, 1]]));
    const shares = [...stocks, ...metres.map(({ amount }) => amount)];
    if (given.by === 'at')
      column(
        this.whole,
        shares.flatMap((amount, at): Entry[] => (amount > 0 ? [[counts.length + at, -amount]] : [])),
      );
    metres.forEach(({ amount, wave }, metre) => {
      const row = counts.length + stocks.length + metre;
      cutting.pieces.forEach((piece, at) => {
        if (piece.wave < wave) return;
        if (given.by === 'at')
          column(0, [
            [at, 1],
            [row, piece.mm],
          ]);
        else column(amount * piece.mm, [[at, 1]]);
      });
    });
    lp.add(columns);
    this.#first = columns.length;
  }

  static async of(given: Fractions): Promise<Programme> {
    const cover = given.counts.map((lower) => ({ lower, upper: Infinity }));
    const within = [...given.stocks, ...given.metres].map(() => ({ lower: -Infinity, upper: 0 }));
    const lp = await WarmLp.ofRows(given.by === 'at' ? [...cover, ...within] : cover);
    return new Programme(given, lp);
  }

  add(fills: readonly Fill[]): void {
    const { by, stocks } = this.#given;
    this.#lp.add(
      fills.map(({ stock, counts }) => {
        const entries = counts.flatMap((count, at): Entry[] => (count > 0 ? [[at, count]] : []));
        return by === 'at'
          ? endless(0, [...entries, [counts.length + stock, 1]])
          : endless(stocks[stock] ?? 0, entries);
      }),
    );
  }

  solve(control: Control) {
    const answer = this.#lp.solve('primal', control);
    if (!answer) return undefined;
    // Each piece may come out of nothing.
    if (answer.status === 'infeasible') throw new Error('the cutting programme has no answer');
    const { by, counts, stocks } = this.#given;
    const duals = answer.rowDuals;
    return {
      least: answer.objective / this.whole,
      values: counts.map((_, at) => Math.max(0, duals[at] ?? 0)),
      worth: by === 'at' ? stocks.map((_, at) => Math.max(0, -(duals[counts.length + at] ?? 0))) : stocks,
      times: answer.values.subarray(this.#first),
    };
  }

  dispose(): void {
    this.#lp.dispose();
  }
}

/** A column of at least 0, without an upper end. */
function endless(cost: number, entries: readonly Entry[]): LpColumn {
  return { cost, lower: 0, upper: Infinity, entries };
}
