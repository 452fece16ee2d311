import { z } from 'zod';
import { Code } from './code.ts';
import { MadeAs } from './madeLoom.ts';
import { EffectiveSettings } from './settings.ts';

const whole = z.int().min(0);

/** A branch with what runs along it. */
export const LoomBranch = z
  .strictObject({
    branch: Code,
    lengthMm: whole,
    wires: z
      .array(Code)
      .meta({ description: 'The wires along it. Cores of a cable are listed with their cable.' }),
    cables: z.array(Code),
    bundleMm: z.number().optional().meta({ description: 'Diameter of the bundle, mm. Absent if not known.' }),
    how: z.enum(['exact', 'packed', 'estimate']).optional().meta({
      description:
        'How the diameter was calculated: exactly (up to three wires), by packing circles into the smallest circle, or by estimate.',
    }),
    coveredMm: z.number().optional().meta({ description: 'Diameter over its coverings, mm.' }),
  })
  .meta({ id: 'LoomBranch' });
export type LoomBranch = z.infer<typeof LoomBranch>;

/** A loom of the request, as a quote counts it. */
export const QuotedLoom = z
  .strictObject({
    loom: Code,
    revision: whole,
    name: z.string(),
    quantity: whole,
    options: z.array(z.string()),
    madeAs: MadeAs.optional(),
    boughtMade: Code.optional().meta({
      description: 'The made-up loom that is bought instead, if this quote does not build it.',
    }),
    branches: z.array(LoomBranch),
    settings: EffectiveSettings,
  })
  .meta({ id: 'QuotedLoom' });
