import { z } from 'zod';

/** A loom as it is made: by its code, and where it is made with several sets of options with these: "van-front (RHD)". */
export const MadeLoom = z.string().meta({ example: 'van-front (RHD)' });

export const MadeAs = MadeLoom.meta({
  description:
    'What the rest of the result names the loom by, where that is not its code: it is made with several sets of options.',
});

export const MadeFor = z
  .array(z.strictObject({ name: z.string(), quantity: z.int().min(0), options: z.array(z.string()) }))
  .meta({ description: 'The looms of the quote with their options, where any is made with options.' });
