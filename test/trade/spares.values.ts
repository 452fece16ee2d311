import { spares, startedFor } from '../../worker/engine/loom/counts/spares.ts';
import { spareWire } from '../../worker/engine/loom/wires/spareWire.ts';
import { DEFAULT_SETTINGS } from '../../worker/engine/model/settings.ts';
import type { TradeValue } from './tradeValue.ts';

const BINOMIAL = 'binomial distribution of failures, summed term by term in fractions';
const FAILING = 'crimps of which 2 % fail, bought to be 95 % sure: common practice, no source';

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
    source: 'wire lost at the bench, 3 to 10 %: common practice, no source',
    what: 'spare of 100 pieces of 1 m, mm: 5 %',
    got: () => spareWire([{ cutMm: 1000, count: 100, settings: DEFAULT_SETTINGS }])?.step.value ?? NaN,
    expected: 5000,
  },
];
