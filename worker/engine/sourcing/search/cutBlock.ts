import type { Entry } from '../../solver/model.ts';
import type { Known, TooLittle } from '../model/counted.ts';
import { cutsOf } from '../model/cutsIn.ts';
import type { Cut } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';
import type { LeafModel } from './leafModel.ts';
import type { Rows } from './rows.ts';
import { addUnits, unitsIn, type Leafing, type UnitColumns } from './unitColumns.ts';

/** What is bought for a requirement, and how that is cut. */
export interface Bought {
  requirement: number;
  /** Whether it is met: else it is not asked for, or left. */
  isMet: boolean;
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
  leafing: Leafing,
  index: number,
  keep: (choice: number) => boolean,
  mostOf: (choice: number) => number,
  known: Known | undefined,
): (values: readonly number[]) => Bought {
  const { model, problem, network, rows } = leafing;
  const requirement = problem.requirements[index]!;
  const codeOf = (at: number) => problem.suppliers[problem.choices[at]!.supplier]!.code;
  const kept = requirement.choices.filter(keep);
  const scopes = requirement.oneSupplier ? [...new Set(kept.map(codeOf))] : [undefined];
  const isIn = (scope: string | undefined, at: number) =>
    scope === undefined || ['', scope].includes(codeOf(at));

  // Rows first: what each piece asks for, of each scope; what is cut of each choice.
  const pieces = known ? [] : requirement.pieces;
  const pieceRows = scopes.map(() => pieces.map(() => model.row(0, Infinity)));
  const knownRows = scopes.map(() => (known?.rows ?? []).map(() => model.row(0, Infinity)));
  const cutRows = new Map(kept.map((at) => [at, model.row(0, Infinity)]));
  const waves = new Set(kept.map((at) => problem.choices[at]!.wave));
  // At most one continuous length an order, where that can do.
  const metreRows = new Map(
    requirement.several ? [] : [...waves].map((wave) => [wave, model.row(-Infinity, 1)]),
  );
  const mostRows = new Map(requirement.oneSupplier ? kept.map((at) => [at, model.row(0, Infinity)]) : []);
  const from = scopes.map((scope, s) => {
    const entries: Entry[] = [
      [rows.askedRow(index), 1],
      ...pieces.map(({ count }, piece): Entry => [pieceRows[s]![piece]!, -count]),
      ...(known?.rows ?? []).map(({ need }, row): Entry => [knownRows[s]![row]!, -need]),
    ];
    for (const at of kept)
      if (scope !== undefined && (codeOf(at) === '' || codeOf(at) === scope))
        entries.push([mostRows.get(at)!, mostOf(at)]);
    // All off the shelf is a scope of its own: any other sends a parcel.
    if (scope !== undefined && scope !== '') {
      const sent = model.row(0, Infinity);
      entries.push([sent, -1]);
      network.codes.forEach((code, supplier) => {
        if (code !== scope) return;
        for (const k of network.parcels.of[supplier]!) model.extend(k, [sent, 1]);
      });
    }
    return model.add({ cost: 0, entries }, 1, true);
  });

  const tooLittle = (known?.tooLittle ?? []).map((kinds) => addMoreOf(model, rows, index, kinds));
  const units = new Map<number, UnitColumns>();
  const patterns = new Map<number, number[]>();
  const metres = new Map<number, (number | undefined)[]>();
  for (const at of kept) {
    const choice = problem.choices[at]!;
    const isMetre = choice.form === 'metre';
    const most = mostRows.get(at);
    const metre = metreRows.get(choice.wave);
    const counts = (known?.rows ?? []).flatMap(({ worth }, row) =>
      scopes.flatMap((scope, s): Entry[] =>
        isIn(scope, at) && (worth.get(at) ?? 0) > 0 ? [[knownRows[s]![row]!, worth.get(at)!]] : [],
      ),
    );
    const more = tooLittle.flatMap((kinds) =>
      kinds.flatMap(({ choices, row }): Entry[] => (choices.includes(at) ? [[row, 1]] : [])),
    );
    const each: Entry[] = [[cutRows.get(at)!, isMetre ? eachFor(choice, index) : 1], ...counts, ...more];
    if (most !== undefined) each.push([most, -1]);
    const any: Entry[] | undefined = isMetre ? (metre === undefined ? [] : [[metre, 1]]) : undefined;
    units.set(at, addUnits(leafing, at, { each, any, most: mostOf(at) }));
    const inScopes = (piece: number, times: number): Entry[] =>
      scopes.flatMap((scope, s): Entry[] =>
        times > 0 && isIn(scope, at) ? [[pieceRows[s]![piece]!, times]] : [],
      );
    if (known) continue;
    if (isMetre)
      metres.set(
        at,
        requirement.pieces.map(({ mm, count, wave = 1 }, piece) =>
          wave < choice.wave
            ? undefined
            : model.add({ cost: 0, entries: [...inScopes(piece, 1), [cutRows.get(at)!, -mm]] }, count, true),
        ),
      );
    else
      patterns.set(
        at,
        (requirement.patterns?.get(at) ?? []).map((pattern) =>
          model.add(
            {
              cost: 0,
              entries: [...pattern.flatMap((times, piece) => inScopes(piece, times)), [cutRows.get(at)!, -1]],
            },
            mostOf(at),
            true,
          ),
        ),
      );
  }
  return (values) => ({
    requirement: index,
    isMet: from.some((column) => values[column]! > 0.5),
    lines: [...units].flatMap(([choice, columns]) => {
      const many = unitsIn(columns, values);
      return many > 0 ? [{ choice, units: many }] : [];
    }),
    cuts: cutsOf(requirement, patterns, metres, values),
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
