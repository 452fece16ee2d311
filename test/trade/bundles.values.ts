import { bundleOf } from '../../worker/engine/trade/bundle.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';
import { twistFactor } from '../../worker/engine/trade/twist.ts';
import type { TradeValue } from './tradeValue.ts';

const alike = (count: number, diameterMm: number) => Array.from({ length: count }, () => diameterMm);
const packed = (...diameters: number[]) => bundleOf(diameters)?.packedMm ?? NaN;
/** Over thin-wall wire of 1.0 mm², mm: 2.1 (ISO 6722). */
const over1Mm2 = () =>
  cableFigures('thin-wall', { system: 'mm2', areaMm2: 1 }).outsideDiameterMm?.value ?? NaN;

const BIRGIN = 'Birgin & Gentil 2010, table 1: R/r of equal circles in a circle';
const RINGS = 'R/r = 1 + 1/sin(π/6k) of curved hexagonal packings (Lubachevsky & Graham, arXiv math/0406098)';

export const VALUES: TradeValue[] = [
  { source: BIRGIN, what: '3 circles', got: () => packed(...alike(3, 1)), expected: 2.1547005, within: 1e-6 },
  { source: BIRGIN, what: '4 circles', got: () => packed(...alike(4, 1)), expected: 2.4142136, within: 0.01 },
  { source: BIRGIN, what: '8 circles', got: () => packed(...alike(8, 1)), expected: 3.3047649, within: 0.03 },
  {
    source: RINGS,
    what: '7 wires of 2.0 mm, k = 1',
    got: () => packed(...alike(7, 2)),
    expected: 6,
    within: 0.01,
  },
  {
    source: 'two circles side by side, worked by hand: 3.0 + 1.6',
    what: 'wires of 3.0 and 1.6 mm',
    got: () => bundleOf([1.6, 3])?.diameterMm ?? NaN,
    expected: 4.6,
    within: 1e-9,
  },
  {
    source: 'Descartes’ theorem: 1/R = Σk − 2√(Σkk) worked by hand',
    // Radii 3, 2.5 and 2: 1/3 + 2/5 + 1/2 − 2√(2/15 + 1/6 + 1/5) = 37/30 − √2 = −0.180880; 2/0.180880 = 11.0570.
    what: 'wires of 6, 5 and 4 mm, which all touch',
    got: () => packed(5, 4, 6),
    expected: 11.057,
    within: 1e-4,
  },
  {
    source: 'the trade’s rule D = 1.2·√(Σd²), common practice, no source',
    what: '25 wires of 2.0 mm: 1.2 × 2 × 5',
    got: () => bundleOf(alike(25, 2))?.diameterMm ?? NaN,
    expected: 12,
    within: 0.05,
  },
  {
    source: 'the trade’s rule D = 1.2·√(Σd²) over wires of ISO 6722, common practice, no source',
    what: '12 wires of 1.0 mm², 2.1 mm over: 1.2 × 2.1 × √12',
    got: () => bundleOf(alike(12, over1Mm2()))?.diameterMm ?? NaN,
    expected: 8.7295,
    within: 0.01,
  },
  {
    source: 'share of a circle that many wires fill, as they are packed here: no source',
    what: '61 wires of 1 mm: √(61/0.74)',
    got: () => packed(...alike(61, 1)),
    expected: 9.0792,
    within: 0.01,
  },
  {
    source: 'helix on its unrolled cylinder, √(1 + (πd/p)²), worked by hand',
    // π × 2.1 / 30 = 0.219911; its square is 0.048361; the root of 1.048361 is 1.023895.
    what: 'a pair of 2.1 mm wires, one turn in 30 mm: less the straight, in thousandths',
    got: () => (twistFactor(2.1, 30) - 1) * 1000,
    expected: 23.895,
    within: 0.01,
  },
];
