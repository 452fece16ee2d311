import type { Shade } from '../colour.ts';
import { editDistance } from '../nearest.ts';

/** Words for shades beside our own: other spellings, and names of the trade. Common practice, no source. */
const WORDS: Readonly<Record<string, Shade>> = {
  'light green': 'lightGreen',
  lightgreen: 'lightGreen',
  'light blue': 'lightBlue',
  lightblue: 'lightBlue',
  gray: 'grey',
  slate: 'grey',
  violet: 'purple',
};

/** Our own list of shades: what an eye tells apart on an old loom. */
export const SHADES = [
  'black',
  'brown',
  'red',
  'orange',
  'yellow',
  'green',
  'lightGreen',
  'blue',
  'lightBlue',
  'purple',
  'lilac',
  'grey',
  'white',
  'pink',
  'turquoise',
  'gold',
  'silver',
  'natural',
] as const;

/** The shade that a word names: "light green", "Grey". */
export function shadeOf(text: string): Shade | undefined {
  const word = text
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ');
  return WORDS[word] ?? SHADES.find((shade) => shade.toLowerCase() === word);
}

/** All shades as they are said. */
export const SHADE_WORDS = SHADES.map((shade) =>
  shade.replace(/([A-Z])/, (letter) => ` ${letter.toLowerCase()}`),
);

/** The shade whose word differs from a misspelt one by a letter or two; undefined where none or several do. */
export function nearestShade(text: string): string | undefined {
  const word = text.trim().toLowerCase();
  if (shadeOf(word)) return word;
  const near = SHADE_WORDS.map((shade) => ({ shade, distance: editDistance(word, shade) }))
    .filter(({ distance, shade }) => distance <= Math.min(2, Math.floor(shade.length / 2)))
    .sort((a, b) => a.distance - b.distance);
  const [first, second] = near;
  return first && first.distance !== second?.distance ? first.shade : undefined;
}
