import { colourWords, type Colour } from '../../worker/engine/model/colour.ts';
import { colourOfLetters, lettersOf } from '../../worker/engine/model/colourLetters.ts';
import type { TradeValue } from './tradeValue.ts';

type System = Parameters<typeof colourOfLetters>[1];

const read = (letters: string, system: System) => {
  const colour = colourOfLetters(letters, system);
  return colour ? colourWords(colour) : 'not read';
};
const printed = (colour: Colour, system: System) => lettersOf(colour, system) ?? 'not printed';

const IEC = 'IEC 60757, as GOST 28763-90 restates IEC 757:1983 (profsector.com)';
const IEC_TWO = 'IEC 60757, text of 2021: two colours of one core are joined in the order of the table';
const BS = 'BS AU 7, letters (jcna.com)';
const GERMAN = 'German practice, letters (kabelkonfektion.com)';

/** Letters that mean different things in different systems, and what two of them mean together. */
export const VALUES: readonly TradeValue[] = [
  { source: IEC, what: 'GN', got: () => read('GN', 'iec60757'), expected: 'green' },
  { source: IEC, what: 'BN', got: () => read('BN', 'iec60757'), expected: 'brown' },
  {
    source: IEC_TWO,
    what: 'blue and red',
    got: () => printed({ base: 'blue', tracer: 'red' }, 'iec60757'),
    expected: 'RDBU',
  },
  {
    source: IEC_TWO,
    what: 'green and yellow, which stand the other way round in the table',
    got: () => printed({ base: 'yellow', tracer: 'green' }, 'iec60757'),
    expected: 'GNYE',
  },
  { source: BS, what: 'GN', got: () => read('GN', 'bsAu7'), expected: 'green with brown tracer' },
  { source: BS, what: 'WG', got: () => read('WG', 'bsAu7'), expected: 'white with green tracer' },
  {
    source: BS,
    what: 'blue with red tracer',
    got: () => printed({ base: 'blue', tracer: 'red' }, 'bsAu7'),
    expected: 'UR',
  },
  { source: GERMAN, what: 'GN', got: () => read('GN', 'german'), expected: 'green' },
  { source: GERMAN, what: 'bl', got: () => read('bl', 'german'), expected: 'blue' },
  { source: GERMAN, what: 'br', got: () => read('br', 'german'), expected: 'brown' },
];
