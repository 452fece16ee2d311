import type { Finding } from '../../worker/engine/model/finding.ts';
import type { Thing } from '../../worker/tables/importTable.ts';
import { textFaults } from '../../worker/engine/model/hidden.ts';

/** By row, texts that no database stores, and texts that hide characters. A cell of JSON can hold them as escapes. */
export function unstorableIn(things: readonly Thing[]): Map<number, Finding[]> {
  return new Map(
    things.flatMap(({ row, thing }) => {
      const findings = textFaults(thing);
      return findings.length > 0 ? [[row, findings]] : [];
    }),
  );
}
