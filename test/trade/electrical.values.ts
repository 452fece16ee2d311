import { areaMm2, MM2_PER_CIRCULAR_MIL } from '../../worker/engine/trade/area.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';
import { copperMilliohmPerM, millivoltsLost, resistanceRatio } from '../../worker/engine/trade/copper.ts';
import { continuousAmps } from '../../worker/engine/trade/fuses.ts';
import { tradeKey } from '../../worker/engine/trade/wireSizes.ts';
import type { TradeValue } from './tradeValue.ts';

const MM_PER_FOOT = 304.8;
const GAUGES = ['18', '16', '14', '12', '10', '8', '6', '4', '2'];

/** The smallest gauge that has so many circular mils, as the worked examples look it up. */
const gaugeFor = (system: 'awg' | 'sae', circularMils: number) =>
  GAUGES.find((gauge) => (areaMm2({ system, gauge }) ?? 0) >= circularMils * MM2_PER_CIRCULAR_MIL) ?? 'none';

/** Volts lost, cold, in feet of a wire of so many ohms a thousand feet. */
const inFeet = (feet: number, amps: number, ohmsPerThousandFeet: number) =>
  millivoltsLost({
    amps,
    milliohmPerM: (ohmsPerThousandFeet / MM_PER_FOOT) * 1000,
    lengthMm: feet * MM_PER_FOOT,
    celsius: 20,
  }) / 1000;

/** Volts lost by 10 A over 11 ft and 10 ft back, at 29 °C. */
const lost21Feet = (copperMm2: number) =>
  millivoltsLost({
    amps: 10,
    milliohmPerM: copperMilliohmPerM(copperMm2),
    lengthMm: 21 * MM_PER_FOOT,
    celsius: 29,
  }) / 1000;

const AC = 'FAA AC 43.13-1B, table 11-7 (p. 11-22) with the resistances of table 11-9 (p. 11-23)';
const HOT = 'FAA AC 43.13-1B, hot length 254.5·L1/(234.5 + T2)';
const ABYC = 'ABYC E-11, CM = 10.75·I·L/E (cruisersforum.com t=75294; sportsmensmarine.com/archives/1034)';
const FUSES = 'common practice, no source';

export const VALUES: TradeValue[] = [
  {
    source: 'α20 = 0.00393 (Industrial Power Engineering Handbook, p. 970)',
    what: 'R(85 °C)/R(20 °C)',
    got: () => resistanceRatio(85),
    expected: 1.25545,
    within: 1e-5,
  },
  {
    source: AC,
    what: 'No. 6, 107 ft, 20 A, V',
    got: () => inFeet(107, 20, 0.44),
    expected: 0.942,
    within: 1e-3,
  },
  {
    source: AC,
    what: 'No. 4, 90 ft, 20 A, V',
    got: () => inFeet(90, 20, 0.28),
    expected: 0.504,
    within: 1e-3,
  },
  {
    source: AC,
    what: 'No. 14, 100 ft, 20 A, V',
    got: () => inFeet(100, 20, 3.06),
    expected: 6.12,
    within: 1e-2,
  },
  // A wire shortened so loses hot what the long one loses cold.
  {
    source: HOT,
    what: '100 m cold are so many at 200 °C',
    got: () => 100 / resistanceRatio(200),
    expected: (254.5 * 100) / (234.5 + 200),
    within: 0.02,
  },
  {
    source: HOT,
    what: '100 m cold are so many at 85 °C',
    got: () => 100 / resistanceRatio(85),
    expected: (254.5 * 100) / (234.5 + 85),
    within: 0.02,
  },
  { source: ABYC, what: '6,271 circular mils in AWG', got: () => gaugeFor('awg', 6271), expected: '12' },
  {
    source: ABYC,
    what: '6,271 circular mils in SAE gauge',
    got: () => gaugeFor('sae', 6271),
    expected: '10',
  },
  // 10.75 Ω·cmil/ft is copper at about 29 °C.
  {
    source: ABYC,
    what: '10 A over 11 + 10 ft of 6,271 circular mils at 29 °C, V of 12 V × 3 %',
    got: () => lost21Feet(6271 * MM2_PER_CIRCULAR_MIL),
    expected: 0.36,
    within: 0.002,
  },
  {
    source: ABYC,
    what: 'the same in SAE 12, of 5,833 circular mils, V: 10.75 × 10 × 21/5833',
    got: () => lost21Feet(areaMm2({ system: 'sae', gauge: '12' }) ?? NaN),
    expected: 0.387,
    within: 0.002,
  },
  {
    source: 'ABYC E-11 at 10 % (hollandmarine.com, p. 53)',
    what: '1,881 circular mils in AWG',
    got: () => gaugeFor('awg', 1881),
    expected: '16',
  },
  {
    source: 'TE 82561, p. 3: two wires in one barrel by the sum of circular mils',
    what: '1600 + 2426 circular mils in AWG',
    got: () => gaugeFor('awg', 1600 + 2426),
    expected: '14',
  },
  {
    source: 'Load test reckoned from the 14/0.30 of rydertowing.co.uk’s table',
    what: '5 A through 1.5 m of 14/0.30, mV',
    got: () =>
      millivoltsLost({
        amps: 5,
        milliohmPerM:
          cableFigures('pvc', { system: 'metricStrands', strands: 14, strandMm: 0.3 }).milliohmPerM?.value ??
          NaN,
        lengthMm: 1500,
        celsius: 20,
      }),
    expected: 142,
    within: 0.5,
  },
  {
    source: FUSES,
    what: 'a fuse that blows at 35 A, A for good',
    got: () => continuousAmps(35, 'blow'),
    expected: 17.5,
  },
  {
    source: FUSES,
    what: 'a blade fuse of 10 A, A for good',
    got: () => continuousAmps(10, 'continuous'),
    expected: 10,
  },
  {
    source: FUSES,
    what: '44/.012 is sold as 3 mm²',
    got: () => tradeKey({ system: 'imperialStrands', strands: 44, strandInch: 0.012 }),
    expected: '3mm2',
  },
];
