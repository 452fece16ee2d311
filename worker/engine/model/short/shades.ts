import type { Shade } from '../colour.ts';

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

const OWN: readonly Shade[] = [
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
];

/** The shade that a word names: "light green", "Grey". */
export function shadeOf(text: string): Shade | undefined {
  const word = text
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ');
  return WORDS[word] ?? OWN.find((shade) => shade.toLowerCase() === word);
}

/** All shades as they are said. */
export const SHADE_WORDS = OWN.map((shade) =>
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

/** Letters to put in, take out or change to make one word of another (Levenshtein). */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next.push(
        Math.min(
          (row[j] ?? 0) + 1,
          (next[j - 1] ?? 0) + 1,
          (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1),
        ),
      );
    row = next;
  }
  return row[b.length] ?? 0;
}
