import { z } from 'zod';
import { Code, mm } from './code.ts';
import { LIMITS } from './limits.ts';
import { CutLength } from './result.ts';

const CUT_STATES = ['cut', 'ready', 'notHere'] as const;

/** One entry of a quote’s cutting plan, and whether it is cut. */
export const CutEntry = CutLength.extend({
  requirement: z.string(),
  entry: z.int().min(1).meta({ description: 'Counts the entries of this need.' }),
  state: z.enum(CUT_STATES).meta({
    description: 'cut: it is cut. ready: its lengths are on the shelf. notHere: they are not.',
  }),
  from: z
    .array(z.strictObject({ stock: Code, place: z.string().optional(), piecesMm: z.array(z.int()) }))
    .optional()
    .meta({ description: 'If it is ready: what is cut out of which stock item.' }),
}).meta({ id: 'CutEntry', description: 'An entry of the cutting plan of a quote.' });
export type CutEntry = z.infer<typeof CutEntry>;

export const CutsIn = z
  .strictObject({
    cuts: z
      .array(
        z.strictObject({
          requirement: z.string(),
          entry: z.int().min(1),
          offcutMm: mm(LIMITS.offerMm).optional().meta({
            description:
              'What is left of the length as you measured it, in mm; only if one length is cut. Left out: the length less the pieces.',
          }),
        }),
      )
      .min(1)
      .max(LIMITS.wires)
      .optional()
      .meta({ description: 'Which entries are cut. Left out: all whose lengths are on the shelf.' }),
  })
  .meta({ id: 'CutsRequest' });
export type CutsIn = z.infer<typeof CutsIn>;
