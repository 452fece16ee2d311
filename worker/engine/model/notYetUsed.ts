import { z } from 'zod';

export const NotYetUsed = z
  .strictObject({
    field: z.string().meta({ example: 'looms[].wires[].amps' }),
    count: z.int().min(0),
    first: z
      .string()
      .meta({ description: 'JSON Pointer to the first place, in the job that the result was worked from.' }),
  })
  .meta({
    id: 'NotYetUsed',
    description: 'Input that was accepted and stored, but not used in this quote.',
  });
export type NotYetUsed = z.infer<typeof NotYetUsed>;
