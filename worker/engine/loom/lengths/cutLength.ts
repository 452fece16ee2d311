import type { Wire } from '../../model/loom.ts';
import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { ceilToStep, D, percentOf, plain } from '../../units/decimal.ts';
import type { EndAllowance } from './endAllowances.ts';

export type MeasuredLength = NonNullable<Wire['length']>;

/** A pair's lay: by what its wires are longer than the pair, and the wire that this one is twisted with. */
export interface Twist {
  factor: number;
  with: string;
}

const BASIS_WORDS: Record<MeasuredLength['basis'], string> = {
  route: 'route',
  sheathToSheath: 'sheath to sheath',
  tipToTip: 'tip to tip (tails and strips included)',
};

/**
 * The length to which a wire is cut, mm. Along its route or from sheath to sheath: × (1 + slack) + per end (tail + strip
 * + remaking). Tip to tip includes tails and strips: only slack and remaking are added. A twisted wire is first made as
 * much longer as its lay asks; what is trimmed on the board is added. Up to the cutting step.
 */
export function cutLength(
  length: MeasuredLength,
  ends: readonly [EndAllowance, EndAllowance],
  settings: SettingValues,
  twist?: Twist,
): { cutMm: number; step: Step } {
  const laid = twist ? twisted(length.mm, twist) : new D(length.mm);
  const slack = percentOf(laid, settings.slackPercent);
  const withEnds = length.basis !== 'tipToTip';
  const tails = withEnds ? ends.map((end) => end.tailMm) : [];
  const strips = withEnds ? ends.map((end) => end.stripMm) : [];
  const redos = ends.map((end) => end.redoMm);
  const trim = settings.trimOnBoardMm;
  const total = [...tails, ...strips, ...redos, trim].reduce((sum, part) => sum.add(part), slack.add(laid));
  const cutMm = ceilToStep(total, settings.cuttingStepMm);
  const terms = [
    `${length.mm} ${BASIS_WORDS[length.basis]}${twist ? `, twisted with ${twist.with} ${plain(laid)}` : ''}`,
    `${settings.slackPercent} % slack ${plain(slack)}`,
    ...(withEnds ? [perEnd('tails', tails), perEnd('strips', strips)] : []),
    perEnd('remaking', redos),
    ...(trim > 0 ? [`trim on the board ${trim}`] : []),
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

/** To a thousandth of a millimetre: the factor is a root, and has no end. */
function twisted(mm: number, { factor }: Twist): D {
  return new D(mm).mul(factor).toDecimalPlaces(3);
}

/** "tails 0", "strips 2 × 6", "strips 6 + 8" */
function perEnd(word: string, values: readonly number[]): string {
  const [first = 0, second = 0] = values;
  if (first !== second) return `${word} ${first} + ${second}`;
  return first === 0 ? `${word} 0` : `${word} 2 × ${first}`;
}
