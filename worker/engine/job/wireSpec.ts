import { colourKey, colourWords, shadesOf, type Colour, type WireColour } from '../model/colour.ts';
import { tradeKey } from '../trade/wireSizes.ts';
import type { Part, WirePart } from '../model/part.ts';
import { sizeLabel, type Size } from '../model/size.ts';

/** What makes two wires the same wire to buy: cable type, size and colour. Marks that are sold as one are one size. */
export interface WireSpec {
  cableType: string;
  size: Size;
  colour: Colour;
}

/** Equal keys are the same wire; safe as a requirement's name: "thin-wall:1mm2:red+black". */
export function specKey(spec: WireSpec): string {
  return `${spec.cableType}:${tradeKey(spec.size)}:${colourKey(spec.colour)}`;
}

/** "thin-wall 1 mm² red with black tracer" */
export function specLabel(spec: WireSpec): string {
  return `${spec.cableType} ${sizeLabel(spec.size)} ${colourWords(spec.colour)}`;
}

/** The wire to buy for a wire of a normalised loom. What was seen on the old wire is a remark, and left behind. */
export function specOf(wire: { cableType: string; size: Size; colour: WireColour }): WireSpec {
  return { cableType: wire.cableType, size: wire.size, colour: shadesOf(wire.colour) };
}

/** Wires alike but for their size. */
export function sizesKey({ cableType, colour }: Pick<WireSpec, 'cableType' | 'colour'>): string {
  return JSON.stringify([cableType, colour.base, colour.tracer]);
}

export function isWirePart(part: Part): part is WirePart {
  return part.kind === 'wire';
}
