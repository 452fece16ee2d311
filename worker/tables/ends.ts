import { SIDES } from '../engine/model/loom.ts';
import { endForm } from '../engine/model/short/loomForms.ts';
import { isWrong, type ShortContext } from '../engine/model/short/form.ts';
import { isFields, type Column, type Fields } from './column.ts';
import { shown, type FaultWords } from './tableFault.ts';
import type { Table } from './tables.ts';

/**
 * The ends of a wire's row with point and way apart: "headlamp.2" is way 2 of the point headlamp. A text that is the name of
 * a point as it stands is that point; so is one whose way stands in a cell of its own.
 */
export function settleEnds(
  table: Table,
  document: Fields,
  context: ShortContext,
): { column: Column; words: FaultWords }[] {
  if (table.name !== 'wires') return [];
  return SIDES.flatMap((side) => {
    const end = document[side];
    const point = isFields(end) ? end['point'] : undefined;
    if (!isFields(end) || typeof point !== 'string' || end['way'] !== undefined) return [];
    if (!point.includes('.') || context.points?.has(point)) return [];
    const reading = endForm.read(point, context);
    const column = table.columns.find(({ name }) => name === side);
    if (isWrong(reading))
      return column
        ? [{ column, words: { code: reading.code, found: shown(point), todo: `${reading.todo}.` } }]
        : [];
    Object.assign(end, reading.value);
    return [];
  });
}
