import { colourForm, colourShort } from '../../worker/engine/model/short/colourForm.ts';
import { isWrong, type Reading } from '../../worker/engine/model/short/form.ts';
import { sizeForm } from '../../worker/engine/model/short/sizeForm.ts';
import type { Colour } from '../../worker/engine/model/colour.ts';
import { sizeLabel, type Size } from '../../worker/engine/model/size.ts';

/** Sizes and colours as they are kept among the words, where no word of a text can be one of them. */
export const sizeWord = (label: string) => `:size:${label}`;
export const colourWord = (label: string) => `:colour:${label}`;

/** What a text may mean: one or more sizes (colours) by their labels, or why it means none. */
export type Meant = { labels: string[] } | { todo: string };

/** "14/0.30", "1,5 mm2", "16 awg"; a bare "16" may be three sizes. */
export function sizesMeant(text: string): Meant {
  return meant(
    text,
    (given, context) => sizeForm.read(given, context),
    (value) => sizeLabel(value as Size),
  );
}

/** "green/white", "gw": letters may mean several colours, each by its own system. */
export function coloursMeant(text: string): Meant {
  return meant(
    text,
    (given, context) => colourForm.read(given, context),
    (value) => colourShort(value as Colour),
  );
}

type Read = (text: string, context: object) => Reading;

function meant(text: string, read: Read, label: (value: unknown) => string): Meant {
  const reading = read(text, {});
  if (!isWrong(reading)) return { labels: [label(reading.value)] };
  const labels = (reading.readings ?? []).flatMap((each) => {
    const again = read(each, {});
    return isWrong(again) ? [] : [label(again.value)];
  });
  return labels.length > 0 ? { labels: [...new Set(labels)] } : { todo: reading.todo };
}

/** A size has this many words at most, as in "44 x 0.30 mm". */
const LONGEST_SIZE = 4;

/** The size that begins with the first of these words, and how many words it takes. */
export function sizeAt(words: readonly string[]): { labels: string[]; taken: number } | undefined {
  if (!/\d|^(awg|sae|ga|gauge)$/i.test(words[0] ?? '')) return undefined;
  for (let taken = Math.min(LONGEST_SIZE, words.length); taken > 0; taken--) {
    const size = sizesMeant(words.slice(0, taken).join(' '));
    if ('labels' in size) return { ...size, taken };
  }
  return undefined;
}

/** The sizes and colours that a text surely names: with a unit, or with a stroke. */
export function namedIn(text: string): { sizes: string[]; colours: string[] } {
  const words = text.split(/\s+/).filter((word) => word !== '');
  const sizes: string[] = [];
  const colours: string[] = [];
  for (let at = 0; at < words.length; at++) {
    const word = words[at] ?? '';
    const size = sizeAt(words.slice(at, at + LONGEST_SIZE));
    const [label] = size?.labels ?? [];
    const isSure = size && (size.taken > 1 || /[/a-z²]/i.test(word));
    if (isSure && label !== undefined && size.labels.length === 1) {
      sizes.push(label);
      at += size.taken - 1;
      continue;
    }
    const colour = word.includes('/') ? coloursMeant(word) : undefined;
    if (colour && 'labels' in colour && colour.labels.length === 1) colours.push(...colour.labels);
  }
  return { sizes, colours };
}
