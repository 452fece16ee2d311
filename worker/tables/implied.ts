import { isWrong, type ShortContext } from '../engine/model/short/form.ts';
import { isFields, type Column, type Place } from './column.ts';
import { spaced, type Misread } from './cells.ts';
import type { Entry } from './rows.ts';
import { shown, tableFault, type TableFault } from './tableFault.ts';
import type { Table } from './tables.ts';

/** What a cell says of a place that has a column of its own. */
export interface Implied {
  readonly by: Column;
  /** As the cell writes it. */
  readonly text: string;
  readonly place: Place;
  readonly value: unknown;
}

/**
 * A cell that is no plain number, read as the short form of the whole of which its column is one field: "620 tip to tip" is a
 * length and its basis. What the text does not state is left to the other columns.
 */
export function wholeIn(
  { at, whole }: Column,
  text: string,
  context: ShortContext,
): { value: unknown; others: { place: Place; value: unknown }[] } | { wrong: Misread } | undefined {
  if (!whole || !Array.isArray(at)) return undefined;
  const reading = whole.read(text, context);
  if (isWrong(reading))
    return {
      wrong: { code: reading.code, limit: 'a length, or a length and its basis', todo: `${reading.todo}.` },
    };
  const place = at as Place;
  const fields = isFields(reading.value) ? reading.value : {};
  const words = text.toLowerCase().replace(/\s+/g, ' ');
  const others = Object.entries(fields)
    .filter(([name, value]) => name !== place.at(-1) && words.includes(spaced(String(value))))
    .map(([name, value]) => ({ place: [...place.slice(0, -1), name], value }));
  return { value: fields[place.at(-1) ?? ''], others };
}

/** Puts what cells imply where their own columns are empty or agree; faults where these say something else. */
export function withImplied(
  table: Table,
  entries: readonly Entry[],
  implied: readonly Implied[],
  { file, row }: { file: string; row: number },
): { entries: Entry[]; faults: TableFault[] } {
  const all = [...entries];
  const faults: TableFault[] = [];
  for (const { by, text, place, value } of implied) {
    const at = all.findIndex((entry) => samePlace(entry.place, place));
    const entry = all[at];
    const column = entry?.column ?? table.columns.find((each) => isAt(each, place));
    if (!column) continue;
    const own = entry?.value;
    if (own === undefined) all.splice(at < 0 ? all.length : at, at < 0 ? 0 : 1, { column, place, value });
    else if (own !== value)
      faults.push(
        tableFault(
          file,
          { row, column: column.name },
          {
            code: 'contradiction',
            found: shown(typeof own === 'string' ? spaced(own) : JSON.stringify(own)),
            todo: `The cell ${shown(text)} under “${by.name}” says ${spaced(String(value))}. Write the same here, or leave this cell empty.`,
          },
        ),
      );
  }
  return { entries: all, faults };
}

const samePlace = (one: Place, other: Place) =>
  one.length === other.length && one.every((name, at) => name === other[at]);
const isAt = ({ at }: Column, place: Place) => Array.isArray(at) && samePlace(at as Place, place);
