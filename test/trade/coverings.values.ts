import { choose } from '../../worker/engine/loom/coverings/choice.ts';
import { DEFAULT_SETTINGS } from '../../worker/engine/model/settings.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { braidShare, braidWidestMm, rangeShare } from '../../worker/engine/trade/braid.ts';
import { bundleOf } from '../../worker/engine/trade/bundle.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';
import { grips, passesOver, shrinkCut } from '../../worker/engine/trade/shrink.ts';
import { boreNeededMm, overCloseMm, overStiffMm } from '../../worker/engine/trade/sleeving.ts';
import { overTapeMm, spiralMm } from '../../worker/engine/trade/tape.ts';
import type { TradeValue } from './tradeValue.ts';

const BRAID = 'braid, L = √(b² − (nπD)²) (Chou & Hannaford 1996, from memory), computed';
const RANGED =
  'braid by the range it holds, 54.7356° (tan² θ = 2, computed) at its widest: common practice, no source';
const TAPE = 'L = πDh/(w(1 − p)) (mathforum.org 55266 for p = 0)';
const SHRINK = '2:1 heat-shrink to MIL-I-23053, supplied and recovered bores (CABAC datasheet)';
const NASA = 'NASA-STD-8739.4 §9.8.1: the least bore as supplied is larger than what it passes over';
const D2671 = 'ASTM D2671, lengthwise change C = 100·(L1 − L0)/L0, as makers quote it';
const BORES = 'bores of PVC sleeving: common practice, no source';
const RANGES = 'ranges that braids are sold for: common practice, no source';
const WALLS = 'walls where none is stated: common practice, no source';

const rest = { restDiameterMm: 10, braidAngleDeg: 30 };
const share = (openedMm: number) => 1000 * (braidShare(rest, openedMm) ?? NaN);

/** Of 1000 mm of a braid that states no more than that it holds 6 to 12 mm. */
const ranged = (openedMm: number) => 1000 * (rangeShare({ holdsMinMm: 6, holdsMaxMm: 12 }, openedMm) ?? NaN);

/** Supplied, recovered. */
const ROWS = [
  [1.6, 0.8],
  [2.4, 1.2],
  [3.2, 1.6],
  [4.8, 2.4],
  [6.4, 3.2],
  [9.5, 4.8],
  [12.7, 6.4],
  [19.1, 9.5],
  [25.4, 12.7],
  [38.1, 19.1],
] as const;
/** The smallest row that goes over and grips. */
const shrinkFor = (diameterMm: number) =>
  ROWS.find(
    ([supplied, recovered]) => passesOver(supplied, diameterMm) && grips(recovered, diameterMm),
  )?.[0] ?? 'none';

const sleeve = (code: string, figures: object) =>
  Part.parse({ kind: 'sleeve', code, description: code, ...figures });
const pvc = [1, 1.5, 2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20].map((boreMm) =>
  sleeve(`${boreMm}-mm`, { sleeveType: 'pvc', boreMm }),
);
const braids = (
  [
    [2, 5],
    [4, 9],
    [6, 12],
    [7, 14],
    [10, 20],
  ] as const
).map(([holdsMinMm, holdsMaxMm]) =>
  sleeve(`${holdsMinMm}-to-${holdsMaxMm}-mm`, { sleeveType: 'braided', holdsMinMm, holdsMaxMm }),
);

/** What is chosen for so many wires of 1.0 mm², thin wall, 2.1 mm over (ISO 6722), threaded for half a metre. */
function chosen(kind: 'pvc' | 'braided', wires: number): string {
  const overMm = cableFigures('thin-wall', { system: 'mm2', areaMm2: 1 }).outsideDiameterMm?.value ?? NaN;
  const diameterMm = bundleOf(Array.from({ length: wires }, () => overMm))?.diameterMm ?? NaN;
  const beneath = { thickestMm: diameterMm, thinnestMm: diameterMm, threadedMm: 500, words: '' };
  const { part } = choose({ kind }, kind === 'pvc' ? pvc : braids, () => false, beneath, DEFAULT_SETTINGS);
  return part?.code.replaceAll('-', ' ') ?? 'none';
}

export const VALUES: TradeValue[] = [
  {
    source: BRAID,
    what: '1000 mm of braid of 10 mm at 30°, opened to 12 mm',
    got: () => share(12),
    expected: 923.76,
    within: 0.01,
  },
  { source: BRAID, what: 'the same opened to 15 mm', got: () => share(15), expected: 763.76, within: 0.01 },
  {
    source: BRAID,
    what: 'its widest, D/sin θ, mm',
    got: () => braidWidestMm(rest) ?? NaN,
    expected: 20,
    within: 1e-9,
  },
  // By hand: L² = b² · (1 − ⅔·(D/12)²), so 5/6 as it lies at 6 mm, 5/8 at 9 mm, 1/3 at 12 mm.
  {
    source: RANGED,
    what: '1000 mm for 6 to 12 mm, opened to 9 mm: √(5/8 ÷ 5/6)',
    got: () => ranged(9),
    expected: 866.025,
    within: 0.001,
  },
  {
    source: RANGED,
    what: 'the same opened to 12 mm: √(1/3 ÷ 5/6)',
    got: () => ranged(12),
    expected: 632.456,
    within: 0.001,
  },
  {
    source: TAPE,
    what: '19 mm tape over 1000 mm of 10 mm, edge to edge',
    got: () => spiralMm(10, 1000, 19, 0),
    expected: 1653.5,
    within: 0.05,
  },
  {
    source: TAPE,
    what: 'the same half over itself',
    got: () => spiralMm(10, 1000, 19, 50),
    expected: 3306.9,
    within: 0.1,
  },
  { source: SHRINK, what: 'over a wire of 2.3 mm', got: () => shrinkFor(2.3), expected: 2.4 },
  { source: NASA, what: 'over a wire of 2.4 mm', got: () => shrinkFor(2.4), expected: 3.2 },
  { source: SHRINK, what: 'over a bundle of 6.3 mm', got: () => shrinkFor(6.3), expected: 6.4 },
  { source: SHRINK, what: 'over a bundle of 6.45 mm', got: () => shrinkFor(6.45), expected: 9.5 },
  {
    source: SHRINK,
    what: '12.7 mm, which recovers to 6.4, on 6.5 mm',
    got: () => (grips(6.4, 6.5) ? 'grips' : 'slips'),
    expected: 'grips',
  },
  {
    source: D2671,
    what: 'cut to cover 90 mm with −10 %',
    got: () => shrinkCut(90, -10).toNumber(),
    expected: 100,
    within: 1e-9,
  },
  // 2.1547 × 2.1 = 4.525, with 10 % and half of 5 % 5.09: no 5 mm bore takes three of the widest that the standard allows.
  { source: BORES, what: '3 wires of 1.0 mm²', got: () => chosen('pvc', 3), expected: '6 mm' },
  // 3 × 2.1 = 6.3, with clearance 7.09.
  { source: BORES, what: '6 wires of 1.0 mm²', got: () => chosen('pvc', 6), expected: '8 mm' },
  // 1.2 × 2.1 × √12 = 8.73, with clearance 9.82.
  { source: BORES, what: '12 wires of 1.0 mm²', got: () => chosen('pvc', 12), expected: '10 mm' },
  { source: RANGES, what: '3 wires of 1.0 mm²', got: () => chosen('braided', 3), expected: '2 to 5 mm' },
  { source: RANGES, what: '6 wires of 1.0 mm²', got: () => chosen('braided', 6), expected: '4 to 9 mm' },
  { source: RANGES, what: '12 wires of 1.0 mm²', got: () => chosen('braided', 12), expected: '4 to 9 mm' },
  {
    source: 'clearance for threading, 10 % and 5 % for each metre: common practice, no source',
    what: 'the least bore for 8 mm over 2 m: 8 × 1.20',
    got: () => boreNeededMm(8, 2000, DEFAULT_SETTINGS),
    expected: 9.6,
    within: 0.005,
  },
  // With nothing beneath, so that the wall is all of it.
  { source: WALLS, what: 'over braid: 2 × 0.5', got: () => overCloseMm(0), expected: 1, within: 0.005 },
  {
    source: WALLS,
    what: 'over an 8 mm sleeve less its bore: 2 × 0.5',
    got: () => overStiffMm(5, 8) - 8,
    expected: 1,
    within: 0.005,
  },
  {
    source: WALLS,
    what: 'tape half over itself, less what is beneath: 2 × 0.2 × 2',
    got: () => overTapeMm(0, 50),
    expected: 0.8,
    within: 0.004,
  },
];
