import type { JobInput } from '../../worker/engine/model/job.ts';
import { rolledUp, wire } from './oneLoom.ts';
import type { TradeValue } from './tradeValue.ts';

type LoomInput = JobInput['looms'][number];
type Join = 'bare' | 'crimp';

const SETTINGS =
  'volts lost: 10 % at 60 °C, 20 mV a joint, 50 mV back through the body: common practice, no source';

/** The longest wire of 1 mm² thin wall that may carry 10 A without a word about volts lost, mm. */
function longestMm(join: Join, earth: LoomInput['earth']): number {
  const told = (mm: number) =>
    rolledUp({
      systemVoltage: 12,
      ...(earth ? { earth } : {}),
      wires: [
        wire({
          amps: 10,
          length: { mm, basis: 'route' },
          from: { point: 'A', join },
          to: { point: 'B', join },
        }),
      ],
    }).findings.some(({ code }) => code === 'voltage-drop');
  let [silent, loud] = [0, 10_000];
  while (loud - silent > 1) {
    const middle = Math.floor((silent + loud) / 2);
    if (told(middle)) loud = middle;
    else silent = middle;
  }
  return silent;
}

/**
 * By hand, with 18.5 mΩ/m of ISO 6722: at 60 °C 18.5 × (1 + 0.00393 × 40) = 21.4082 mΩ/m, so 10 A lose 0.214082 mV a mm.
 * Of 12 V 10 % are 1200 mV.
 */
export const VALUES: readonly TradeValue[] = [
  {
    source: SETTINGS,
    what: 'no joints, mm: (1200 − 50)/0.214082 = 5371.8',
    got: () => longestMm('bare', 'negative'),
    expected: 5371,
    within: 1,
  },
  {
    source: SETTINGS,
    what: 'two joints, mm: (1200 − 50 − 40)/0.214082 = 5184.9',
    got: () => longestMm('crimp', 'negative'),
    expected: 5184,
    within: 1,
  },
  {
    source: SETTINGS,
    what: 'two joints and a wire back, mm: (1200 − 40)/0.428164 = 2709.2',
    got: () => longestMm('crimp', 'insulatedReturn'),
    expected: 2709,
    within: 1,
  },
];
