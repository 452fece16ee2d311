import { z } from 'zod';
import { Code } from './code.ts';

/** One end of a wire, as the bench needs it. */
export const PieceEnd = z
  .strictObject({
    point: Code,
    label: z.string().optional().meta({ description: 'The label that the loom gives the point.' }),
    way: z.string().optional(),
    join: z.enum(['crimp', 'solder', 'joint', 'bare']),
    terminal: Code.optional().meta({ description: 'The terminal that the loom names.' }),
    shared: z.boolean().optional().meta({ description: 'true: other wires are in the same terminal.' }),
    inVehicle: z.boolean().optional().meta({ description: 'true: it is finished in the vehicle.' }),
  })
  .meta({ id: 'PieceEnd' });
export type PieceEnd = z.infer<typeof PieceEnd>;
