import type { Finding } from '../../worker/engine/model/finding.ts';
import type { Thing } from '../../worker/tables/importTable.ts';
import { unstorableTexts } from '../http/body.ts';

/** By row, texts that no database stores. A cell of JSON can hold them as escapes. */
export function unstorableIn(things: readonly Thing[]): Map<number, Finding[]> {
  return new Map(
    things.flatMap(({ row, thing }) => {
      const findings = unstorableTexts(thing);
      return findings.length > 0 ? [[row, findings]] : [];
    }),
  );
}
