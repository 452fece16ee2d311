import { z } from 'zod';
import { colourForm, shadeForm } from './short/colourForm.ts';
import { withShort } from './short/form.ts';
import { SHADES } from './short/shades.ts';

/** Our own list of shades: what an eye tells apart on an old loom. Letters of colour systems are read and printed from it. */
export const Shade = withShort(
  z.enum(SHADES).meta({ id: 'Shade', description: 'A shade of insulation.' }),
  shadeForm,
);
export type Shade = z.infer<typeof Shade>;

/** Which system the letters of a loom's colours are in. */
export const ColourSystem = z.enum(['words', 'iec60757', 'bsAu7', 'german']).meta({
  id: 'ColourSystem',
  description:
    'How colours are written: in words, or in the letters of IEC 60757, BS AU 7 or German practice.',
});

export const Colour = withShort(
  z
    .strictObject({
      base: Shade,
      tracer: Shade.optional(),
      seen: z
        .string()
        .max(60)
        .optional()
        .meta({ description: 'What was seen on the old wire, in your words.' }),
    })
    .meta({
      id: 'Colour',
      example: { base: 'green', tracer: 'yellow' },
      description: 'Insulation colour: the base, and the tracer line where there is one.',
    }),
  colourForm,
);
export type Colour = z.infer<typeof Colour>;

/** A wire's colour as its loom states it: in shades, or in the letters of the loom's colour system. */
export const WireColour = withShort(
  z
    .strictObject({
      base: Shade.optional(),
      tracer: Shade.optional(),
      letters: z.string().trim().min(1).max(12).optional().meta({
        description:
          'Base and tracer in the letters of the loom’s colourSystem, instead of shades. Letters of IEC 60757 do not say which of two colours is the base: state the base too.',
        example: 'GW',
      }),
      seen: Colour.shape.seen,
    })
    .meta({
      id: 'WireColour',
      example: { base: 'green', tracer: 'yellow' },
      description: 'Shades, or letters of the loom’s colour system.',
    }),
  colourForm,
);
export type WireColour = z.infer<typeof WireColour>;

/** The colour of a wire of a normalised loom, whose letters were read already. */
export function shadesOf({ base, tracer }: WireColour): Colour {
  if (base === undefined) throw new Error('the letters of the colour were not read yet');
  return tracer === undefined ? { base } : { base, tracer };
}

export { colourKey, colourWords, shadeWords } from './colourWords.ts';
