import { barrelAreaMm2 } from '../../worker/engine/trade/crimps.ts';
import { widestHoleMm } from '../../worker/engine/trade/studs.ts';
import type { Size } from '../../worker/engine/model/size.ts';
import type { TradeValue } from './tradeValue.ts';

const OLD_14: Size = { system: 'imperialStrands', strands: 14, strandInch: 0.012 };
/** A circle of a thousandth of an inch, mm². */
const CIRCULAR_MIL = (Math.PI / 4) * 0.0254 ** 2;

const sum = (...sizes: Size[]) => barrelAreaMm2(sizes) ?? Number.NaN;

const ISO_273 = 'ISO 273, clearance holes of the medium series (engineeringhardware.com)';
const hole = (studMm: number) => widestHoleMm(studMm) ?? Number.NaN;

/** What goes into one barrel, and what goes over a stud. */
export const VALUES: readonly TradeValue[] = [
  {
    source: 'common practice, no source: 14/.012 is met by 14/0.30, called 1 mm²',
    what: 'two wires of 14/.012 in one barrel, mm²',
    got: () => sum(OLD_14, OLD_14),
    expected: 2,
  },
  {
    source: 'ISO 6722, strands of thin-wall cable (a wire maker’s page flryb)',
    what: '32/0.20 in a barrel, mm²',
    got: () => sum({ system: 'metricStrands', strands: 32, strandMm: 0.2 }),
    expected: 1,
  },
  {
    source: 'Two wires in one barrel by circular mils (greatplainselectronics.com)',
    what: '22 and 20 AWG in one barrel, circular mils',
    got: () => sum({ system: 'awg', gauge: '22' }, { system: 'awg', gauge: '20' }) / CIRCULAR_MIL,
    expected: 1662,
    // The page sums rounded gauges; by the formula of ASTM B258 they are 642.4 and 1021.5.
    within: 3,
  },
  { source: ISO_273, what: 'hole for a screw of 6 mm', got: () => hole(6), expected: 6.6 },
  { source: ISO_273, what: 'hole for a screw of 8 mm', got: () => hole(8), expected: 9 },
  { source: ISO_273, what: 'hole for ¼ inch: that of 7 mm', got: () => hole(25.4 / 4), expected: 7.6 },
];
