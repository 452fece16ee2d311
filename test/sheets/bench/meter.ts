import type { Built, Element } from './built.ts';

/** Conducts less than this between two contacts that nothing joins, 1/Ω. */
const NOTHING = 1e-12;

/** What the meter's ohm range shows between two contacts; diodes do not conduct at its low voltage. */
export function ohms(
  { contacts, elements }: Pick<Built, 'contacts' | 'elements'>,
  a: number,
  b: number,
): number {
  if (a === b) return 0;
  const size = contacts.length;
  // Kirchhoff: one ampere in at a, out at b; b is the zero of all voltages.
  const rows = Array.from({ length: size }, (_, at) => {
    const row = new Array<number>(size + 1).fill(0);
    row[at] = NOTHING;
    row[size] = at === a ? 1 : 0;
    return row;
  });
  const add = (row: number, column: number, value: number) => {
    const own = rows[row];
    if (own) own[column] = (own[column] ?? 0) + value;
  };
  for (const { a: from, b: to, ohm } of elements) {
    if (ohm === undefined || from === to) continue;
    for (const [at, other] of [
      [from, to],
      [to, from],
    ] as const) {
      add(at, at, 1 / ohm);
      add(at, other, -1 / ohm);
    }
  }
  rows[b] = Array.from({ length: size + 1 }, (_, column) => (column === b ? 1 : 0));
  return solved(rows)[a] ?? Infinity;
}

/** Gauss and Jordan, with the largest pivot. */
function solved(rows: number[][]): number[] {
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    let best = column;
    for (let row = column; row < size; row++)
      if (Math.abs(rows[row]?.[column] ?? 0) > Math.abs(rows[best]?.[column] ?? 0)) best = row;
    const pivot = rows[best] ?? [];
    [rows[column], rows[best]] = [pivot, rows[column] ?? []];
    const scale = pivot[column] ?? 1;
    for (let at = column; at <= size; at++) pivot[at] = (pivot[at] ?? 0) / scale;
    rows.forEach((row, index) => {
      const factor = row[column] ?? 0;
      if (index === column || factor === 0) return;
      for (let at = column; at <= size; at++) row[at] = (row[at] ?? 0) - factor * (pivot[at] ?? 0);
    });
  }
  return rows.map((row) => row[size] ?? 0);
}

/**
 * What the meter's diode range shows, V, with its red probe at one contact: a milliampere through wires, resistors and
 * diodes that point the right way; nothing above 2 V.
 */
export function diodeVolts({ contacts, elements }: Built, red: number, black: number): number | undefined {
  const volts = contacts.map((_, at) => (at === red ? 0 : Infinity));
  for (let round = 0; round < contacts.length; round++)
    for (const { a, b, ohm } of elements) {
      const across = ohm === undefined ? 0.6 : ohm / 1000;
      const lower = (from: number, to: number) => {
        volts[to] = Math.min(volts[to] ?? Infinity, (volts[from] ?? Infinity) + across);
      };
      lower(a, b);
      if (ohm !== undefined) lower(b, a);
    }
  const shown = volts[black] ?? Infinity;
  return shown <= 2 ? shown : undefined;
}

/** The loom with a fuse in. */
export function withFuse(built: Built, holder: string): Built {
  const [a, b] = built.clips.get(holder) ?? [0, 0];
  const fuse: Element = { name: `fuse in ${holder}`, a, b, ohm: 0.01 };
  return { ...built, elements: [...built.elements, fuse] };
}
