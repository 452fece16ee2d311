import { sizeKey, type Size } from '../size.ts';
import type { Colour } from '../colour.ts';
import { shadeWords } from '../colourWords.ts';
import { colourForm } from './colourForm.ts';
import { isWrong, wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { sizeForm } from './sizeForm.ts';

/** What is said of a wire in one text. */
export interface WireWords {
  cableType: string;
  size: Size;
  colour: Colour;
}

/** "14/0.30 GW", "thin-wall 1.5 mm² light green", "pvc-vehicle 44/.012 brown with white tracer": a wire in words. */
export function wireOfWords(
  given: string,
  context: ShortContext,
): WireWords | Exclude<Reading, { value: unknown }> {
  const words = given.trim().split(/\s+/);
  const example = '"14/0.30 green/white" or "thin-wall 1.5 mm² red"';
  for (let from = 0; from < Math.min(2, words.length); from++)
    for (let to = Math.min(from + 6, words.length - 1); to > from; to--) {
      const size = sizeForm.read(words.slice(from, to).join(' '), context);
      if (isWrong(size)) continue;
      const colour = colourForm.read(words.slice(to).join(' '), context);
      if (isWrong(colour)) return colour;
      const cableType = from === 0 ? context.cableType : words[0];
      if (cableType === undefined)
        return asWrong(
          wrong(`Write which make-up of wire "${given}" is, as in "pvc-vehicle ${given.trim()}"`),
        );
      return { cableType, size: size.value as Size, colour: colour.value as Colour };
    }
  return asWrong(wrong(`A wire is written as size and colour, as in ${example}; "${given}" is no such text`));
}

const asWrong = (reading: Reading) => reading as Exclude<Reading, { value: unknown }>;

/** The code that a wire part gets where it comes into being from its words: "pvc-vehicle-14-0.30-green-white". */
export function wirePartCode({ cableType, size, colour }: WireWords): string {
  const shades = [colour.base, ...(colour.tracer === undefined ? [] : [colour.tracer])];
  return [
    cableType,
    sizeKey(size).replaceAll('/', '-').toLowerCase(),
    ...shades.map((shade) => shadeWords(shade).replaceAll(' ', '-')),
  ].join('-');
}

/** The part that an offer sells: its code, or what wire it is. */
export const soldPartForm: ShortForm = {
  examples: ['14/0.30 green/white'],
  read: (given, context) =>
    context.wirePart?.(given, context) ??
    wrong(
      `"${given}" is no code of a part, and no wire can be named by its size and colour here. Name the part by its code`,
    ),
};
