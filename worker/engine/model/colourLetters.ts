import type { Colour, ColourSystem, Shade } from './colour.ts';
import { shadeWords } from './colourWords.ts';
import type { z } from 'zod';

type System = z.infer<typeof ColourSystem>;
type LetterSystem = Exclude<System, 'words'>;
type Letters = readonly (readonly [letters: string, shade: Shade])[];

/**
 * Letters of the three systems, each in the order in which its source lists them.
 * IEC 60757: as GOST 28763-90 restates IEC 757:1983 (profsector.com). BS AU 7: jcna.com; light green, yellow, pink and
 * orange from memory. German practice: kabelkonfektion.com; light blue, lilac and orange from memory.
 */
const LETTERS: Record<LetterSystem, Letters> = {
  iec60757: [
    ['BK', 'black'],
    ['BN', 'brown'],
    ['RD', 'red'],
    ['OG', 'orange'],
    ['YE', 'yellow'],
    ['GN', 'green'],
    ['BU', 'blue'],
    ['VT', 'purple'],
    ['GY', 'grey'],
    ['WH', 'white'],
    ['PK', 'pink'],
    ['GD', 'gold'],
    ['TQ', 'turquoise'],
    ['SR', 'silver'],
  ],
  bsAu7: [
    ['B', 'black'],
    ['U', 'blue'],
    ['N', 'brown'],
    ['R', 'red'],
    ['P', 'purple'],
    ['G', 'green'],
    ['S', 'grey'],
    ['W', 'white'],
    ['LG', 'lightGreen'],
    ['Y', 'yellow'],
    ['K', 'pink'],
    ['O', 'orange'],
  ],
  german: [
    ['sw', 'black'],
    ['br', 'brown'],
    ['rt', 'red'],
    ['ro', 'red'],
    ['or', 'orange'],
    ['ge', 'yellow'],
    ['gn', 'green'],
    ['bl', 'blue'],
    ['hb', 'lightBlue'],
    ['vi', 'purple'],
    ['li', 'lilac'],
    ['gr', 'grey'],
    ['ws', 'white'],
    ['rs', 'pink'],
    ['tk', 'turquoise'],
  ],
};

/** The system's name as it is said. */
export const SYSTEM_NAMES: Record<LetterSystem, string> = {
  iec60757: 'IEC 60757',
  bsAu7: 'BS AU 7',
  german: 'German',
};

/** The one pair that IEC 60757 names as a pair; its green and yellow are joined in no other way. */
const GREEN_AND_YELLOW = 'GNYE';

/**
 * Letters as a colour: the base first, then the tracer, with or without a stroke or hyphen between. Capitals or small.
 * Undefined where they are none of the system's, and where they leave open which of two colours is the base: IEC 60757
 * joins two in the order of its table, so that both readings hold until `base` says which, but for green and yellow.
 */
export function colourOfLetters(text: string, system: LetterSystem, base?: Shade): Colour | undefined {
  const readings = readingsOf(text, system);
  if (base !== undefined) return readings.find((colour) => colour.base === base);
  const [first, second] = readings;
  return second === undefined || isGreenAndYellow(first) ? first : undefined;
}

/** What letters may mean: of two colours of IEC 60757 either may be the base. None where they are none of the system's. */
export function readingsOf(text: string, system: LetterSystem): Colour[] {
  const [base, tracer] = shadesIn(text, system);
  if (base === undefined) return [];
  if (tracer === undefined) return [{ base }];
  return system === 'iec60757' && base !== tracer
    ? [
        { base, tracer },
        { base: tracer, tracer: base },
      ]
    : [{ base, tracer }];
}

function shadesIn(text: string, system: LetterSystem): Shade[] {
  const known = [...LETTERS[system]].sort(([a], [b]) => b.length - a.length);
  const shades: Shade[] = [];
  let rest = text.trim().toUpperCase();
  while (rest !== '') {
    const found = known.find(([letters]) => rest.startsWith(letters.toUpperCase()));
    if (!found || shades.length === 2) return [];
    shades.push(found[1]);
    rest = rest.slice(found[0].length);
    if (shades.length === 1) rest = rest.replace(/^\s*[/-]\s*(?=.)/, '');
  }
  return shades;
}

/** As the pair is written, green first. */
function isGreenAndYellow(colour: Colour | undefined): boolean {
  return colour?.base === 'green' && colour.tracer === 'yellow';
}

/**
 * A colour in a system's letters; undefined where the system has none for it. IEC 60757 joins in table order, so that
 * its letters are only half of what is said: words stand beside them wherever they are printed.
 */
export function lettersOf(colour: Colour, system: System): string | undefined {
  if (system === 'words') return undefined;
  const table = LETTERS[system];
  const place = (shade: Shade) => table.findIndex(([, known]) => known === shade);
  const shades = [colour.base, ...(colour.tracer ? [colour.tracer] : [])];
  const places = shades.map(place);
  if (places.includes(-1)) return undefined;
  if (system === 'iec60757' && shades.includes('green') && shades.includes('yellow')) return GREEN_AND_YELLOW;
  const ordered = system === 'iec60757' ? places.sort((a, b) => a - b) : places;
  return ordered.map((at) => table[at]?.[0] ?? '').join('');
}

/** The system's letters, for a fault: "B black, U blue, …". */
export function lettersInWords(system: LetterSystem): string {
  return LETTERS[system].map(([letters, shade]) => `${letters} ${shadeWords(shade)}`).join(', ');
}
