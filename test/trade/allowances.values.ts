import { cutLength } from '../../worker/engine/loom/lengths/cutLength.ts';
import { endAllowance } from '../../worker/engine/loom/lengths/endAllowances.ts';
import type { End } from '../../worker/engine/model/loom.ts';
import { DEFAULT_SETTINGS } from '../../worker/engine/model/settings.ts';
import { twistFactor } from '../../worker/engine/trade/twist.ts';
import { coveringsMm, rolledUp, wire } from './oneLoom.ts';
import type { TradeValue } from './tradeValue.ts';

const STRIP = 'strip of an open barrel, 4 to 7 mm: from memory';
const REDO = 'FAA AC 43.13-1B, 11-118: slack for two re-terminations; that each takes 6 mm has no source';
const HEAVY = 'longer barrels above 6 mm²: common practice, no source';

/** What an end of wire of so many mm² adds, mm. */
const added = (join: End['join'], sizeMm2 = 1) =>
  endAllowance({ point: 'A', join }, undefined, sizeMm2, DEFAULT_SETTINGS);

/** Sleeve for a plain red wire that stands for one with a white tracer, mm. */
function tracerSleeveMm(): number {
  const tracered = wire({
    colour: { base: 'red', tracer: 'white' },
    colourRule: 'plainBaseWithTracerSleeve',
    length: { mm: 1000, basis: 'route' },
  });
  const { cableType, size } = tracered;
  const offered = (part: string) => ({
    ...{ form: 'metre' as const, code: part, supplier: 's', part },
    pricePerMetre: { amount: '1', currency: 'GBP' },
  });
  const rolled = rolledUp(
    { wires: [tracered] },
    {
      parts: [
        { kind: 'wire', code: 'red', description: 'red', cableType, size, colour: { base: 'red' } },
        { kind: 'sleeve', code: 'white', description: 'white', sleeveType: 'pvc', boreMm: 3, shade: 'white' },
      ],
      suppliers: [{ code: 's', name: 's', currency: 'GBP' }],
      offers: [offered('red'), offered('white')],
    },
  );
  return coveringsMm(rolled);
}

/** Defaults that a wire's length is reckoned with. */
export const VALUES: readonly TradeValue[] = [
  {
    source: 'slack of 3 %: common practice, no source',
    what: '10 m route, re-dos and strips 36: 10 000 × 1.03 + 36',
    got: () =>
      cutLength({ mm: 10_000, basis: 'route' }, [added('crimp'), added('crimp')], DEFAULT_SETTINGS).cutMm,
    expected: 10_336,
  },
  { source: STRIP, what: 'crimped end of 1 mm², mm', got: () => added('crimp').stripMm, expected: 6 },
  { source: REDO, what: 'crimped end of 1 mm², mm', got: () => added('crimp').redoMm, expected: 12 },
  {
    source: 'strip of a splice: common practice, no source',
    what: 'end in a joint, mm',
    got: () => added('joint').stripMm,
    expected: 15,
  },
  { source: HEAVY, what: 'strip of 10 mm², mm', got: () => added('crimp', 10).stripMm, expected: 12 },
  { source: HEAVY, what: 're-do of 10 mm², mm', got: () => added('crimp', 10).redoMm, expected: 25 },
  { source: HEAVY, what: 're-do of 6 mm², mm', got: () => added('crimp', 6).redoMm, expected: 12 },
  { source: HEAVY, what: 're-do of 6.1 mm², mm', got: () => added('crimp', 6.1).redoMm, expected: 25 },
  {
    source: 'pair of one turn in 30 mm: common practice, no source',
    // As √(1 + (πd/p)²) of d 2.1 mm: 1.023895.
    what: 'pair of 2.1 mm wires: less the straight, in thousandths',
    got: () => (twistFactor(2.1, DEFAULT_SETTINGS.twistPitchMm) - 1) * 1000,
    expected: 23.895,
    within: 0.01,
  },
  {
    source: 'sleeve of 25 mm in a tracer’s colour at either end: common practice, no source',
    what: 'one wire, mm',
    got: tracerSleeveMm,
    expected: 50,
  },
];
