import type { End, Wire } from '../model/loom.ts';
import type { SettingValues } from '../model/settings.ts';
import type { Step } from '../model/step.ts';
import { ceilToStep, percentOf, plain } from '../units/decimal.ts';

type Ends = Pick<End, 'tailMm' | 'stripMm'>;

export type MeasuredLength = NonNullable<Wire['length']>;

const BASIS_WORDS: Record<MeasuredLength['basis'], string> = {
  route: 'route',
  sheathToSheath: 'sheath to sheath',
  tipToTip: 'tip to tip (tails and strips within)',
};

/**
 * The length to which a wire is cut, mm. Along its route or from sheath to sheath: × (1 + slack) + per end (tail + strip
 * + re-do). Tip to tip holds tails and strips already: only slack and re-do are added. Up to the cutting step.
 */
export function cutLength(
  length: MeasuredLength,
  ends: readonly [Ends, Ends],
  settings: SettingValues,
): { cutMm: number; step: Step } {
  const slack = percentOf(length.mm, settings.slackPercent);
  const withEnds = length.basis !== 'tipToTip';
  const tails = withEnds ? ends.map((end) => end.tailMm ?? settings.tailMm) : [];
  const strips = withEnds ? ends.map((end) => end.stripMm ?? settings.stripMm) : [];
  const redos = [settings.redoMm, settings.redoMm];
  const total = [...tails, ...strips, ...redos].reduce((sum, part) => sum.add(part), slack.add(length.mm));
  const cutMm = ceilToStep(total, settings.cuttingStepMm);
  const terms = [
    `${length.mm} ${BASIS_WORDS[length.basis]}`,
    `${settings.slackPercent} % slack ${plain(slack)}`,
    ...(withEnds ? [perEnd('tails', tails), perEnd('strips', strips)] : []),
    perEnd('re-do', redos),
  ];
  const step = settings.cuttingStepMm === 1 ? '' : `, in steps of ${settings.cuttingStepMm} mm`;
  return {
    cutMm,
    step: {
      rule: 'cutLength',
      text: `${terms.join(' + ')} = ${plain(total)} → ${cutMm} mm${step}`,
      value: cutMm,
      unit: 'mm',
    },
  };
}

/** "tails 0", "strips 2 × 6", "strips 6 + 8" */
function perEnd(word: string, values: readonly number[]): string {
  const [first = 0, second = 0] = values;
  if (first !== second) return `${word} ${first} + ${second}`;
  return first === 0 ? `${word} 0` : `${word} 2 × ${first}`;
}
