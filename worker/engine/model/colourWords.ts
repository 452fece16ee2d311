import type { Colour, Shade } from './colour.ts';

const WORDS: Partial<Record<Shade, string>> = { lightGreen: 'light green', lightBlue: 'light blue' };

export function shadeWords(shade: Shade): string {
  return WORDS[shade] ?? shade;
}

/** The colour in words: "green with yellow tracer", "black". */
export function colourWords(colour: Colour): string {
  return colour.tracer
    ? `${shadeWords(colour.base)} with ${shadeWords(colour.tracer)} tracer`
    : shadeWords(colour.base);
}

/** One key for one colour; what was seen is a remark and does not count. */
export function colourKey(colour: Colour): string {
  return colour.tracer ? `${colour.base}+${colour.tracer}` : colour.base;
}
