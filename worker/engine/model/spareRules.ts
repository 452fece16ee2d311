import { z } from 'zod';
import { count, mm, percent } from './code.ts';
import { LIMITS } from './limits.ts';
import { CableType } from './part.ts';

/** Spares of what is joined in one way: a soldered terminal fails more often than a crimped one. */
export const SpareJoinRule = z
  .strictObject({
    join: z.enum(['crimp', 'solder', 'joint', 'bare']),
    sparePercent: percent.optional(),
    spareMinimum: count(0, 1000).optional(),
    failurePercent: percent.max(99).optional(),
  })
  .meta({
    id: 'SpareJoinRule',
    description:
      'Spares of terminals, covers and seals at ends joined in this way: percent of those used, the smallest number, and the percentage of joins that fail.',
  });
export type SpareJoinRule = z.infer<typeof SpareJoinRule>;

export const SpareWireRule = z
  .strictObject({
    cableType: CableType.optional(),
    overMm2: z.number().min(0).max(500).optional(),
    percent: percent.optional(),
    minimumMm: mm(LIMITS.wireMm).optional(),
    mostMm: mm(LIMITS.wireMm).optional(),
    pieces: count(0, 100).optional(),
  })
  .meta({
    id: 'SpareWireRule',
    description:
      'Spare wire of one cable type, or above a size, or both: percent of its metres (0: none), the smallest and the largest length, and a number of times its longest piece.',
  });
export type SpareWireRule = z.infer<typeof SpareWireRule>;

/** Told from a rule for strip, tail and re-do by what only it can state. */
export function isSpareJoinRule(rule: object): rule is SpareJoinRule {
  return 'sparePercent' in rule || 'spareMinimum' in rule || 'failurePercent' in rule;
}

/** "solder: fail 5 %" */
export function spareJoinText({ join, sparePercent, spareMinimum, failurePercent }: SpareJoinRule): string {
  return `${join}: ${stated([
    ['spare', sparePercent, ' %'],
    ['at least', spareMinimum, ''],
    ['fail', failurePercent, ' %'],
  ])}`;
}

/** "thin-wall over 2 mm²: 5 %, at least 200 mm" */
export function spareWireText(rule: SpareWireRule): string {
  const { cableType = 'wire', overMm2, percent: share, minimumMm, mostMm, pieces } = rule;
  const values = stated([
    ['', share, ' %'],
    ['at least', minimumMm, ' mm'],
    ['at most', mostMm, ' mm'],
    ['pieces', pieces, ''],
  ]);
  return `${cableType}${overMm2 === undefined ? '' : ` over ${overMm2} mm²`}: ${values}`;
}

function stated(values: readonly (readonly [string, number | undefined, string])[]): string {
  return values
    .flatMap(([word, value, unit]) => (value === undefined ? [] : [`${word} ${value}${unit}`.trim()]))
    .join(', ');
}
