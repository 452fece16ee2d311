import { z } from 'zod';
import { Code } from './code.ts';

/** What meets a requirement, where that is not what the looms name. */
export const BoughtAs = z
  .array(z.strictObject({ part: Code, label: z.string() }))
  .optional()
  .meta({
    description:
      'The parts that are bought or taken from stock for it, if any of them stands in for a part that the looms name.',
  });
