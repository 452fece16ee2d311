import { appendFileSync } from 'node:fs';

/** One thing that was measured. */
export interface Figure {
  /** What was measured, in a few words that stand alone: it is a row of docs/measurements.md. */
  what: string;
  value: number;
  unit: string;
}

/** Notes a figure for `npm run measure`; elsewhere it is dropped. A figure is told, never a test's verdict. */
export function figure(what: string, value: number, unit: string): void {
  const file = process.env['LOOMWRIGHT_FIGURES'];
  if (file !== undefined) appendFileSync(file, `${JSON.stringify({ what, value, unit } satisfies Figure)}\n`);
}
