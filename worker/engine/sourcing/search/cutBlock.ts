import { exactToSolver } from '../../units/money.ts';
import type { Entry } from '../../solver/model.ts';
import type { Known, TooLittle } from '../model/counted.ts';
import { cutsOf } from '../model/cutsIn.ts';
import { limitsOf } from '../problem/limits.ts';
import type { Choice, Cut, Demand, Problem } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';
import type { LeafModel } from './leafModel.ts';
import type { Network } from './network.ts';
import { MICROGRAMS } from './parcels.ts';
import type { Ground } from './prices.ts';
import type { Rows } from './rows.ts';

/** What is bought for a requirement, and how that is cut. */
export interface Bought {
  demand: number;
  lines: { choice: number; units: number }[];
  cuts: Cut[];
}

/**
 * A loose requirement in a whole-number model, by patterns: units of each choice at each price and in each parcel, what is
 * cut of each length, and, where all comes from one supplier, from which. Rows as in the direct model (model/cutRows.ts);
 * surplus that reaches a limit is left to padding. Where its patterns are too many, what is known of the lengths out of which
 * all pieces come stands in place of them, and nothing is said of cuts. Returned is what a solution buys of it.
 */
export function addCutBlock(
  model: LeafModel,
  problem: Problem,
  network: Network,
  rows: Rows,
  index: number,
  ground: Ground,
  keep: (choice: number) => boolean,
  known: Known | undefined,
): (values: readonly number[]) => Bought {
  const demand = problem.demands[index]!;
  const codeOf = (at: number) => problem.suppliers[problem.choices[at]!.supplier]!.code;
  const kept = demand.choices.filter(keep);
  const scopes = demand.oneSupplier ? [...new Set(kept.map(codeOf))] : [undefined];
  const isIn = (scope: string | undefined, at: number) =>
    scope === undefined || ['', scope].includes(codeOf(at));

  // Rows first: what each piece asks for, of each scope; what is cut of each choice.
  const pieces = known ? [] : demand.pieces;
  const pieceRows = scopes.map(() => pieces.map(() => model.row(0, Infinity)));
  const knownRows = scopes.map(() => (known?.rows ?? []).map(() => model.row(0, Infinity)));
  const cutRows = new Map(kept.map((at) => [at, model.row(0, Infinity)]));
  const waves = new Set(kept.map((at) => problem.choices[at]!.wave));
  // At most one continuous length an order, where that can do.
  const metreRows = new Map(demand.several ? [] : [...waves].map((wave) => [wave, model.row(-Infinity, 1)]));
  const mostRows = new Map(demand.oneSupplier ? kept.map((at) => [at, model.row(0, Infinity)]) : []);
  scopes.forEach((scope, s) => {
    const entries: Entry[] = [
      [rows.askedRow(index), 1],
      ...pieces.map(({ count }, piece): Entry => [pieceRows[s]![piece]!, -count]),
      ...(known?.rows ?? []).map(({ need }, row): Entry => [knownRows[s]![row]!, -need]),
    ];
    for (const at of kept)
      if (scope !== undefined && (codeOf(at) === '' || codeOf(at) === scope))
        entries.push([mostRows.get(at)!, mostOf(problem, demand, at)]);
    // All off the shelf is a scope of its own: any other sends a parcel.
    if (scope !== undefined && scope !== '') {
      const sent = model.row(0, Infinity);
      entries.push([sent, -1]);
      network.codes.forEach((code, supplier) => {
        if (code !== scope) return;
        for (const k of network.parcels.of[supplier]!) model.extend(k, [sent, 1]);
      });
    }
    model.add({ cost: 0, entries }, 1, true);
  });

  const tooLittle = (known?.tooLittle ?? []).map((kinds) => addMoreOf(model, rows, index, kinds));
  const units = new Map<number, { column: number; step: number }[]>();
  const patterns = new Map<number, number[]>();
  const metres = new Map<number, (number | undefined)[]>();
  for (const at of kept) {
    const choice = problem.choices[at]!;
    const isMetre = choice.form === 'metre';
    units.set(
      at,
      addUnits(model, problem, network, rows, demand, at, ground, {
        cut: [cutRows.get(at)!, isMetre ? eachFor(choice, index) : 1],
        known: [
          ...(known?.rows ?? []).flatMap(({ worth }, row) =>
            scopes.flatMap((scope, s): Entry[] =>
              isIn(scope, at) && (worth.get(at) ?? 0) > 0 ? [[knownRows[s]![row]!, worth.get(at)!]] : [],
            ),
          ),
          ...tooLittle.flatMap((kinds) =>
            kinds.flatMap(({ choices, row }): Entry[] => (choices.includes(at) ? [[row, 1]] : [])),
          ),
        ],
        metre: isMetre ? metreRows.get(choice.wave) : undefined,
        isMetre,
        most: mostRows.get(at),
      }),
    );
    const inScopes = (piece: number, times: number): Entry[] =>
      scopes.flatMap((scope, s): Entry[] =>
        times > 0 && isIn(scope, at) ? [[pieceRows[s]![piece]!, times]] : [],
      );
    if (known) continue;
    if (isMetre)
      metres.set(
        at,
        demand.pieces.map(({ mm, count, wave = 1 }, piece) =>
          wave < choice.wave
            ? undefined
            : model.add({ cost: 0, entries: [...inScopes(piece, 1), [cutRows.get(at)!, -mm]] }, count, true),
        ),
      );
    else
      patterns.set(
        at,
        (demand.patterns?.get(at) ?? []).map((pattern) =>
          model.add(
            {
              cost: 0,
              entries: [...pattern.flatMap((times, piece) => inScopes(piece, times)), [cutRows.get(at)!, -1]],
            },
            mostOf(problem, demand, at),
            true,
          ),
        ),
      );
  }
  return (values) => ({
    demand: index,
    lines: [...units].flatMap(([choice, columns]) => {
      const many = columns.reduce((sum, { column, step }) => sum + Math.round(values[column]!) * step, 0);
      return many > 0 ? [{ choice, units: many }] : [];
    }),
    cuts: cutsOf(demand, patterns, metres, values),
  });
}

/** Of lengths that are too few, more of one kind at least: a row for each kind, that its units must come to. */
function addMoreOf(
  model: LeafModel,
  rows: Rows,
  index: number,
  kinds: TooLittle,
): { choices: readonly number[]; row: number }[] {
  // Σ more ≥ 1 where it is asked for: stated with the scopes, which come to just that.
  const one = model.row(0, Infinity);
  model.follow(rows.askedRow(index), one);
  return kinds.map(({ choices, most }) => {
    const row = model.row(0, Infinity);
    model.add(
      {
        cost: 0,
        entries: [
          [row, -(most + 1)],
          [one, 1],
        ],
      },
      1,
      true,
    );
    return { choices, row };
  });
}

interface Into {
  cut: Entry;
  /** What a unit adds to rows of what is known. */
  known: readonly Entry[];
  isMetre: boolean;
  metre: number | undefined;
  most: number | undefined;
}

/** Units of a choice at each of its prices, in each open parcel of its supplier. */
function addUnits(
  model: LeafModel,
  problem: Problem,
  network: Network,
  rows: Rows,
  demand: Demand,
  at: number,
  { open }: Ground,
  { cut: [cutRow, each], known, isMetre, metre, most }: Into,
): { column: number; step: number }[] {
  const choice = problem.choices[at]!;
  const own = network.parcels.of[choice.supplier]!;
  const limit = mostOf(problem, demand, at);
  return (own.length > 0 ? own.filter((k) => open[k] === 1) : [undefined]).flatMap((k) =>
    pricesOf(choice, limit).map(({ price, fewest, last }) => {
      const { step } = choice;
      const value = exactToSolver(price) * step;
      const entries: Entry[] = [[cutRow, each * step]];
      for (const [row, times] of known) entries.push([row, times * step]);
      if (most !== undefined) entries.push([most, -step]);
      entries.push(...rows.unitEntries(at, step));
      if (k !== undefined)
        rows.goods(k, value, (choice.microgramsPerUnit * step) / MICROGRAMS, (row, amount) =>
          entries.push([row, amount]),
        );
      const rate = k === undefined ? 0 : network.parcels.list[k]!.rate;
      const hasYes = isMetre || choice.tiers.length > 1 || fewest > step;
      const under = model.row(0, Infinity);
      entries.push([under, -step]);
      if (!hasYes) {
        if (k !== undefined) model.extend(k, [under, last]);
        else model.raise(under, -last);
        return { column: model.add({ cost: rate * value, entries }, Math.floor(last / step), true), step };
      }
      const over = model.row(0, Infinity);
      entries.push([over, step]);
      const column = model.add({ cost: rate * value, entries }, Math.floor(last / step), true);
      const yes: Entry[] = [
        [under, last],
        [over, -fewest],
      ];
      if (metre !== undefined) yes.push([metre, 1]);
      if (k !== undefined) {
        const sent = model.row(0, Infinity);
        yes.push([sent, -1]);
        model.extend(k, [sent, 1]);
      }
      model.add({ cost: 0, entries: yes }, 1, true);
      return { column, step };
    }),
  );
}

/** Most units without a threshold of the supplier's. */
function mostOf({ choices, demands, suppliers }: Problem, _: Demand, at: number): number {
  const choice = choices[at]!;
  return limitsOf(choice, { demands, covers: [] }, suppliers[choice.supplier]!.bands).plain;
}

function pricesOf(choice: Choice, most: number) {
  return choice.tiers.flatMap(({ fromUnits, price }, tier) => {
    const next = choice.tiers[tier + 1];
    const last = next ? Math.min(most, next.fromUnits - choice.step) : most;
    return fromUnits > last ? [] : [{ price, fewest: fromUnits, last }];
  });
}
