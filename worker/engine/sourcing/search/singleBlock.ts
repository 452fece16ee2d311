import type { Bought } from './cutBlock.ts';
import { addUnits, unitsIn, type Leafing } from './unitColumns.ts';

/** One continuous length in a whole-number model, by units of the offer that it comes from: long enough, and of one offer. */
export function addSingleBlock(
  leafing: Leafing,
  index: number,
  keep: (choice: number) => boolean,
  mostOf: (choice: number) => number,
): (values: readonly number[]) => Bought {
  const { model, problem, rows } = leafing;
  const requirement = problem.requirements[index]!;
  const units = requirement.choices.filter(keep).map((choice) => {
    const each = problem.choices[choice]!.serves.find((served) => served.requirement === index)?.each ?? 0;
    const enough = model.row(0, Infinity);
    return {
      choice,
      columns: addUnits(leafing, choice, {
        each: [[enough, each]],
        any: [
          [rows.askedRow(index), 1],
          [enough, -requirement.need],
        ],
        most: mostOf(choice),
      }),
    };
  });
  return (values) => {
    const lines = units.flatMap(({ choice, columns }) => {
      const many = unitsIn(columns, values);
      return many > 0 ? [{ choice, units: many }] : [];
    });
    return {
      requirement: index,
      isMet: lines.length > 0,
      lines,
      cuts: lines.map(({ choice }) => ({ choice, lengths: 1, pieces: requirement.pieces })),
    };
  };
}
