import type { Colour, Shade } from '../colour.ts';
import { shadeWords } from '../colourWords.ts';
import { lettersInWords, readingsOf, SYSTEM_NAMES } from '../colourLetters.ts';
import { several, wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { nearestShade, SHADE_WORDS, shadeOf } from './shades.ts';

type Letters = keyof typeof SYSTEM_NAMES;

/** A colour in words ("green/white", "light green") or, in a loom that says which letters it uses, in letters ("GW"). */
export const colourForm: ShortForm = {
  examples: ['green/white', 'light green', 'GW'],
  read: (given, context) => inWords(given) ?? inLetters(given, context),
};

/** A single shade in words: "light green". */
export const shadeForm: ShortForm = {
  examples: ['light green'],
  read: (given) => {
    const shade = shadeOf(given);
    return shade
      ? { value: shade }
      : {
          code: 'not-one-of',
          todo: `"${given}" is no shade that is known here. Write one of: ${SHADE_WORDS.join(', ')}${guess(given)}`,
        };
  },
};

/** "green/white", "green with white tracer", "green-white", "green white" */
function inWords(given: string): Reading | undefined {
  const text = given
    .trim()
    .toLowerCase()
    .replace(/\s+tracer$/, '');
  const whole = shadeOf(text);
  if (whole) return colour(whole);
  const parts = text.split(/\s*\/\s*|\s+with\s+/);
  if (parts.length === 2) return pair(parts);
  // Without a stroke, any of the gaps may part the two.
  const words = text.split(/[\s-]+/);
  return words
    .slice(1)
    .map((_, at) => pair([words.slice(0, at + 1).join(' '), words.slice(at + 1).join(' ')]))
    .find((reading) => reading !== undefined);
}

function pair([base = '', tracer = '']: readonly string[]): Reading | undefined {
  const [first, second] = [shadeOf(base), shadeOf(tracer)];
  return first && second ? colour(first, second) : undefined;
}

const colour = (base: Shade, tracer?: Shade): Reading => ({
  value: tracer === undefined ? { base } : { base, tracer },
});

function inLetters(given: string, { colourSystem: system = 'words' }: ShortContext): Reading {
  if (system !== 'words') {
    const readings = readingsOf(given, system);
    const [first] = readings;
    if (readings.length > 1 && given.trim().toUpperCase() !== 'GNYE')
      return several(given, readings.map(colourShort));
    if (first) return { value: first };
    return wrong(
      `"${given}" is no colour in words, and no letters of ${SYSTEM_NAMES[system]}: ${lettersInWords(system)}. Write two of these letters together for base and tracer, or words as in "green/white"`,
    );
  }
  const meanings = (Object.keys(SYSTEM_NAMES) as Letters[]).flatMap((each) =>
    readingsOf(given, each)
      .slice(0, 1)
      .map((reading) => ({
        reading,
        text: `"${colourShort(reading)}" (${SYSTEM_NAMES[each]}, colourSystem ${each})`,
      })),
  );
  if (meanings.length > 0)
    return {
      code: 'two-readings',
      readings: [...new Set(meanings.map(({ reading }) => colourShort(reading)))],
      todo: `"${given}" looks like letters, and nothing says which system they are in. It would be ${meanings.map(({ text }) => text).join(' or ')}. Write the colour in words, or set the loom’s colourSystem`,
    };
  return wrong(
    `"${given}" is no colour that is known here. Write base/tracer, as in "green/white", out of: ${SHADE_WORDS.join(', ')}${guess(given)}`,
  );
}

/** What was most likely meant by misspelt words. */
function guess(given: string): string {
  const words = given.split('/').map((word) => nearestShade(word));
  return words.length <= 2 && words.every((word) => word !== undefined)
    ? `. If "${words.join('/')}" is meant, write that`
    : '';
}

/** A colour as its short form says it: "green/white". What was seen on the old wire has no short form. */
export function colourShort({ base, tracer }: Colour): string {
  return tracer === undefined ? shadeWords(base) : `${shadeWords(base)}/${shadeWords(tracer)}`;
}
