import { z } from 'zod';
import { Code } from './code.ts';
import { MadeLoom } from './madeLoom.ts';
import { Supply } from './supply.ts';

/** What is needed and not bought. */
export const LeftOut = z
  .strictObject({
    label: z.string(),
    part: Code.optional(),
    supply: z.union([Supply.exclude(['buy']), z.literal('otherLoom')]),
    bySetting: z
      .literal('deviceSupply')
      .optional()
      .meta({ description: 'The setting because of which it is not bought. Absent if the loom states it.' }),
    quantity: z.int().min(0).optional(),
    totalMm: z.int().min(0).optional(),
    where: z.array(z.strictObject({ loom: MadeLoom, where: z.string() })),
  })
  .meta({
    id: 'LeftOut',
    description:
      'Needed, but not bought: it is reused, comes from stock, or is supplied by the owner or by the other loom.',
  });
export type LeftOut = z.infer<typeof LeftOut>;
