import { z } from 'zod';

/** A loom as it is made: by its code, and where it is made with several sets of options with these: "van-front (RHD)". */
export const MadeLoom = z.string().meta({ example: 'van-front (RHD)' });

export const MadeAs = MadeLoom.meta({
  description:
    'The name of the loom in the rest of the result, if that is not its code, because the loom is made with several sets of options.',
});

export const MadeFor = z
  .array(z.strictObject({ name: z.string(), quantity: z.int().min(0), options: z.array(z.string()) }))
  .meta({ description: 'The looms of the quote with their options, if any is made with options.' });
