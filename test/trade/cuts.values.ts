import { braidCut } from '../../worker/engine/loom/coverings/braidCut.ts';
import { fitOf, type Sleeve } from '../../worker/engine/loom/coverings/fit.ts';
import type { Laid } from '../../worker/engine/loom/coverings/layers.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { DEFAULT_SETTINGS } from '../../worker/engine/model/settings.ts';
import { braidShare } from '../../worker/engine/trade/braid.ts';
import { coveringsMm, rolledUp, wire } from './oneLoom.ts';
import type { TradeValue } from './tradeValue.ts';

const sleeve = (figures: object) =>
  Part.parse({ kind: 'sleeve', code: 's', description: 's', ...figures }) as Sleeve;
const fit = (part: Sleeve, diameterMm: number) =>
  fitOf(part, { thickestMm: diameterMm, thinnestMm: diameterMm, threadedMm: 0 }, DEFAULT_SETTINGS);

/** Cut of a braid that covers a stated metre and does not say how it shortens, mm, before it is rounded up. */
function braidMm(): number {
  const part = sleeve({ sleeveType: 'braided' });
  const laid: Laid = {
    ...{ index: 0, part, chosen: undefined, way: undefined, under: [] },
    covering: { id: 'c', kind: 'braided', supply: 'buy', lengthMm: 1000, overlapStartMm: 0, overlapEndMm: 0 },
  };
  return braidCut(part, laid, DEFAULT_SETTINGS).mm.toNumber();
}

/** 19 mm tape over a metre of a wire of 10 mm, mm. */
function tapeMm(): number {
  const thick = wire({ cableType: 'thick' });
  const { size } = thick;
  return coveringsMm(
    rolledUp(
      {
        branches: [{ id: 'leg', from: 'A', to: 'B', lengthMm: 1000 }],
        wires: [thick],
        coverings: [{ id: 'c', kind: 'tape', part: 'tape', over: ['leg'] }],
      },
      {
        parts: [
          { kind: 'tape', code: 'tape', description: 'tape', tapeType: 'cloth', widthMm: 19 },
          {
            ...{ kind: 'wire', code: 'thick', description: 'thick', cableType: 'thick', size },
            ...{ colour: { base: 'red' }, outsideDiameterMm: 10 },
          },
        ],
      },
    ),
  );
}

/** In steps of a tenth of a millimetre, the first diameter that is so. */
function firstMm(from: number, is: (diameterMm: number) => boolean): number {
  for (let tenths = from * 10; tenths < from * 40; tenths++) if (is(tenths / 10)) return tenths / 10;
  return NaN;
}

const looseUnder = (bore: number) =>
  firstMm(bore / 4, (diameterMm) => {
    const found = fit(sleeve({ sleeveType: 'pvc', boreMm: bore }), diameterMm);
    return found === 'fits';
  });
const slightFrom = (holdsMinMm: number) =>
  firstMm(holdsMinMm / 2, (diameterMm) => {
    const found = fit(sleeve({ sleeveType: 'braided', holdsMinMm, holdsMaxMm: 2 * holdsMinMm }), diameterMm);
    return typeof found === 'object' && found.slight === true;
  });

/** Defaults and guards that coverings are cut and judged by. */
export const VALUES: readonly TradeValue[] = [
  {
    source: 'braid that states nothing is cut 10 % longer, and 5 mm at each end: common practice, no source',
    what: '1000 mm: 1000 × 1.1 + 2 × 5',
    got: braidMm,
    expected: 1110,
  },
  {
    source: 'tape half over itself, three turns at start and end: common practice, no source',
    // π × 10 × 1000/(19 × 0.5) = 3306.94; 2 × 3 × π × 10 = 188.50.
    what: '19 mm tape over 1000 mm of 10 mm, mm: 3306.94 + 188.50, rounded up',
    got: tapeMm,
    expected: 3496,
  },
  {
    source: 'a sleeve is loose at more than twice the bundle: common practice, no source',
    what: 'the thinnest bundle in a bore of 400 mm',
    got: () => looseUnder(400),
    expected: 200,
  },
  {
    source: 'a braid closes on what is a tenth thinner than it states: common practice, no source',
    what: 'the thinnest bundle in a braid for 100 mm and more',
    got: () => slightFrom(100),
    expected: 90,
  },
  {
    source: 'a braid is not reckoned to shorten to less than a tenth: a guard of ours, no source',
    what: 'beyond the widest that it opens, of 100 mm',
    got: () => 100 * (braidShare({ restDiameterMm: 10, braidAngleDeg: 30 }, 25) ?? NaN),
    expected: 10,
    within: 0.01,
  },
];
