import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { ceilWhole, D, percentOf, plain } from '../../units/decimal.ts';

type Settings = Pick<SettingValues, 'spareWirePercent' | 'spareWirePieces'>;
type Cut = { cutMm: number; count: number };

/**
 * Spare wire of one requirement: the greater of a percentage of its metres (each loom's at its own, rounded up once) and
 * so many times its longest piece. As pieces: the longest as often as it goes, and what is left over.
 */
export function spareWire(
  pieces: readonly (Cut & { settings: Settings })[],
): { spares: Cut[]; step: Step } | undefined {
  const metresAt = new Map<number, number>();
  for (const { cutMm, count, settings } of pieces)
    metresAt.set(settings.spareWirePercent, (metresAt.get(settings.spareWirePercent) ?? 0) + cutMm * count);
  const shares = [...metresAt].sort(([a], [b]) => a - b);
  const sum = shares.reduce((total, [percent, mm]) => total.add(percentOf(mm, percent)), new D(0));
  const byPercent = ceilWhole(sum);
  const longestMm = pieces.reduce((longest, { cutMm }) => Math.max(longest, cutMm), 0);
  const times = pieces.reduce((most, { settings }) => Math.max(most, settings.spareWirePieces), 0);
  const spareMm = Math.max(byPercent, times * longestMm);
  if (spareMm === 0) return undefined;
  const whole = Math.floor(spareMm / longestMm);
  const rest = spareMm - whole * longestMm;
  return {
    spares: [
      ...(whole > 0 ? [{ cutMm: longestMm, count: whole }] : []),
      ...(rest > 0 ? [{ cutMm: rest, count: 1 }] : []),
    ],
    step: {
      rule: 'spareWire',
      text: `the greater of ${shares.map(([percent, mm]) => `${percent} % of ${mm}`).join(' + ')} = ${plain(sum)} and ${times} × the longest ${longestMm}: ${spareMm} mm spare`,
      value: spareMm,
      unit: 'mm',
    },
  };
}
