import { tradeKey } from '../../trade/wireSizes.ts';
import type { Colour } from '../colour.ts';
import { colourKey, colourWords } from '../colourWords.ts';
import { addTo } from '../group.ts';
import type { WirePart } from '../part.ts';
import { Size, sizeLabel } from '../size.ts';
import { wrong, type Fields, type Reading, type ShortContext } from './form.ts';
import { fieldsOf, textOf } from './untyped.ts';
import { wireOfWords, wirePartCode, type WireWords } from './wireWords.ts';

/** The wire parts of a catalogue by what they are, and those that come into being beside them. */
export class WireParts {
  readonly #known = new Map<string, string[]>();
  readonly #made = new Map<string, WirePart>();
  readonly #codes: ReadonlySet<string>;

  /** `parts`: the catalogue's, in long form as far as they can be read. */
  constructor(parts: readonly unknown[]) {
    const codes = new Set<string>();
    for (const part of parts.map(fieldsOf)) {
      const code = textOf(part['code']);
      if (code === undefined) continue;
      codes.add(code);
      const wire = part['kind'] === 'wire' ? wireOf(part) : undefined;
      if (wire) addTo(this.#known, keyOf(wire), code);
    }
    this.#codes = codes;
  }

  /** The code of the one part that is this wire. Parts that came into being stand in `made`. */
  read(given: string, context: ShortContext): Reading {
    const wire = wireOfWords(given, context);
    if ('code' in wire) return wire;
    const key = keyOf(wire);
    const [first, second] = this.#known.get(key) ?? [];
    if (first !== undefined && second !== undefined)
      return {
        code: 'two-readings',
        readings: [first, second],
        todo: `Two parts are the wire "${given}": ${first} and ${second}. Name the one that is sold`,
      };
    if (first !== undefined) return { value: first };
    const code = wirePartCode(wire);
    if (this.#codes.has(code))
      return wrong(
        `The part ${code} is another wire than "${given}". Name the part that is sold, or enter one for it`,
      );
    this.#made.set(code, partOf(code, wire));
    addTo(this.#known, key, code);
    return { value: code };
  }

  made(): WirePart[] {
    return [...this.#made.values()];
  }
}

function wireOf({ cableType, size, colour }: Fields): WireWords | undefined {
  const read = Size.safeParse(size);
  const { base, tracer } = fieldsOf(colour);
  if (typeof cableType !== 'string' || !read.success || typeof base !== 'string') return undefined;
  return {
    cableType,
    size: read.data,
    colour: { base, ...(typeof tracer === 'string' ? { tracer } : {}) } as Colour,
  };
}

/** Marks that are sold as one are one size. */
const keyOf = ({ cableType, size, colour }: WireWords) =>
  `${cableType}:${tradeKey(size)}:${colourKey(colour)}`;

/** Make-ups of wire as they are said on an order. */
const MAKE_UPS: Readonly<Record<string, string>> = {
  'pvc-vehicle': 'PVC vehicle cable',
  pvc: 'PVC vehicle cable',
  'thin-wall': 'Thin-wall cable',
  'thick-wall': 'Thick-wall cable',
};

function partOf(code: string, { cableType, size, colour }: WireWords): WirePart {
  return {
    kind: 'wire',
    code,
    description: `${MAKE_UPS[cableType] ?? cableType} ${sizeLabel(size)} ${colourWords(colour)}`,
    cableType,
    size,
    colour,
  };
}
