import { z } from 'zod';

/** Where a thing comes from; what is not bought stands in the result as left out. */
export const Supply = z.enum(['buy', 'reuse', 'stock', 'ownerSupplies']).meta({
  id: 'Supply',
  description:
    'Where it comes from. buy: it is bought. reuse: it is reused from the old loom. stock: it is taken from stock. ownerSupplies: the owner of the vehicle supplies it.',
});
export type Supply = z.infer<typeof Supply>;
