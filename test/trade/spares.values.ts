import { joinSettings, spares, startedFor } from '../../worker/engine/loom/counts/spares.ts';
import { spareCovering } from '../../worker/engine/loom/coverings/spareCovering.ts';
import { spareWire } from '../../worker/engine/loom/wires/spareWire.ts';
import { DEFAULT_SETTINGS } from '../../worker/engine/model/settings.ts';
import type { TradeValue } from './tradeValue.ts';

const BINOMIAL = 'binomial distribution of failures, summed term by term in fractions';
const FAILING = 'crimps of which 2 % fail, bought to be 95 % sure: common practice, no source';

const WIRE = 'wire lost at the bench, 3 to 10 %: common practice, no source';
const COVERINGS = 'sleeve spoilt at the bench: common practice, no source';
const spareMm = (cutMm: number, count: number, areaMm2 = 1) =>
  spareWire({ cableType: 'thin-wall', size: { system: 'mm2', areaMm2 } }, [
    { cutMm, count, settings: DEFAULT_SETTINGS },
  ])?.step.value ?? NaN;
const coveringMm = (cutMm: number) =>
  spareCovering([{ cutMm, count: 1, settings: DEFAULT_SETTINGS }])?.step.value ?? NaN;

/** To start with for so many good ones, by the settings as they stand. */
const started = (good: number) =>
  startedFor(good, DEFAULT_SETTINGS.crimpFailurePercent, DEFAULT_SETTINGS.spareConfidencePercent);

export const VALUES: readonly TradeValue[] = [
  {
    source: BINOMIAL,
    what: '100 good ones where 2 % fail, 95 % sure',
    got: () => startedFor(100, 2, 95),
    expected: 105,
  },
  {
    source: BINOMIAL,
    what: '24 good ones where 5 % fail, 90 % sure',
    got: () => startedFor(24, 5, 90),
    expected: 27,
  },
  {
    source: BINOMIAL,
    what: '50 good ones where 3 % fail, 95 % sure',
    got: () => startedFor(50, 3, 95),
    expected: 54,
  },
  {
    source: BINOMIAL,
    what: '200 good ones where 1 % fail, 99 % sure',
    got: () => startedFor(200, 1, 99),
    expected: 206,
  },
  // So many that the two figures show: of 5119, at most 119 fail with a chance of 0.9536; of 5118, 118 with less than 0.95.
  { source: FAILING, what: '5000 good ones', got: () => started(5000), expected: 5119 },
  {
    source: 'terminals lost at the bench, 2 to 5 %: common practice, no source',
    what: 'spares of 1000: 5 %',
    got: () => spares([{ used: 1000, ...DEFAULT_SETTINGS }]).spares,
    expected: 50,
  },
  {
    source: WIRE,
    what: 'spare of 8 pieces of 1 m, mm: a tenth',
    got: () => spareMm(1000, 8),
    expected: 800,
  },
  { source: WIRE, what: 'spare of a wire of 1 m, mm: the least', got: () => spareMm(1000, 1), expected: 300 },
  {
    source: WIRE,
    what: 'spare of 20 pieces of 1 m, mm: the most',
    got: () => spareMm(1000, 20),
    expected: 1000,
  },
  // 6 mm² has spare, and 6.05 mm² has none.
  {
    source: WIRE,
    what: 'the largest size of 5.95, 6 and 6.05 mm² that has spare',
    got: () => Math.max(...[5.95, 6, 6.05].filter((areaMm2) => spareMm(1000, 8, areaMm2) > 0)),
    expected: 6,
  },
  {
    source: 'soldered terminals fail more often than crimped ones: common practice, no source',
    // Of 2123, at most 123 fail with a chance of 0.9555; the binomial summed in fractions.
    what: 'spares of 2000 soldered ones of which 5 % fail, 95 % sure',
    got: () => spares([{ used: 2000, ...joinSettings(DEFAULT_SETTINGS, 'solder') }]).spares,
    expected: 123,
  },
  {
    source: COVERINGS,
    what: 'spare of a covering of 4 m, mm: 5 %',
    got: () => coveringMm(4000),
    expected: 200,
  },
  {
    source: COVERINGS,
    what: 'spare of a covering of 400 mm, mm: the least',
    got: () => coveringMm(400),
    expected: 50,
  },
];
