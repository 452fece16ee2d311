import { byCode } from '../../model/code.ts';
import type { Part } from '../../model/part.ts';
import type { LengthRequirement } from '../../model/result.ts';
import type { AskedLoom } from '../asked.ts';
import { emptyLengthNeed } from '../lengths/lengthNeed.ts';
import { withTotals } from '../lengths/withTotals.ts';

/** A sleeve in a tracer's colour at each end of a plain wire. */
export interface TracerSleeve {
  asked: AskedLoom;
  wire: string;
  part: Extract<Part, { kind: 'sleeve' }>;
  mm: number;
}

/** Adds the sleeves of tracers to what is needed by length. */
export function withTracerSleeves(
  lengths: readonly LengthRequirement[],
  sleeves: readonly TracerSleeve[],
): LengthRequirement[] {
  const needs = new Map(lengths.map((need) => [need.part, { ...need, pieces: [...need.pieces] }]));
  for (const { asked, wire, part, mm } of sleeves) {
    const need = needs.get(part.code) ?? emptyLengthNeed(part);
    needs.set(part.code, need);
    need.pieces.push({
      loom: asked.loom.code,
      what: `tracer sleeve, wire ${wire}`,
      count: 2 * asked.quantity,
      cutMm: mm,
      steps: [{ rule: 'substitute', text: `${mm} mm at each end of wire ${wire}`, value: mm, unit: 'mm' }],
    });
  }
  return [...needs.values()]
    .map((need) =>
      withTotals(
        need,
        need.steps.find(({ rule }) => rule === 'spares'),
      ),
    )
    .sort((a, b) => byCode(a.part, b.part));
}
