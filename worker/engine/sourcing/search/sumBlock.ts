import type { Entry } from '../../solver/model.ts';
import type { Bought } from './cutBlock.ts';
import { addUnits, unitsIn, type Leafing } from './unitColumns.ts';

/**
 * A sum in a whole-number model by units, where its plans are too many to be written out: by each stage what is bought by
 * then, and pieces out of shared choices, come to its need. Surplus that reaches a limit is left to padding.
 */
export function addSumBlock(
  leafing: Leafing,
  requirement: number,
  keep: (choice: number) => boolean,
  mostOf: (choice: number) => number,
): (values: readonly number[]) => Bought {
  const { model, problem, network, rows } = leafing;
  const { needs, unit, links } = network.requirements[requirement]!;
  const stages = needs.map(() => model.row(0, Infinity));
  const asked = model.add(
    {
      cost: 0,
      entries: [[rows.askedRow(requirement), 1], ...stages.map((row, stage): Entry => [row, -needs[stage]!])],
    },
    1,
    true,
  );
  const units = links.flatMap((at) => {
    const { stage, shared } = network.links[at]!;
    const counts = stages.slice(stage);
    if (shared !== undefined) {
      const most = network.links[at]!.steps.length;
      const capacity = rows.pieceEntries(requirement, shared);
      model.add(
        {
          cost: 0,
          entries: [
            ...counts.map((row): Entry => [row, 1]),
            ...capacity.map(([row, each]): Entry => [row, -each]),
            [rows.linkRow(at), -1 / most],
          ],
        },
        most,
        true,
      );
      return [];
    }
    const own = network.links[at]!.choices.filter(keep);
    return own.map((choice) => {
      const each = (problem.choices[choice]!.serves[0]?.each ?? 0) / unit;
      const columns = addUnits(leafing, choice, {
        each: counts.map((row): Entry => [row, each]),
        most: mostOf(choice),
      });
      return { choice, columns };
    });
  });
  return (values) => ({
    requirement,
    isMet: values[asked]! > 0.5,
    lines: units.flatMap(({ choice, columns }) => {
      const many = unitsIn(columns, values);
      return many > 0 ? [{ choice, units: many }] : [];
    }),
    cuts: [],
  });
}
