import { z } from 'zod';

/** Where a thing comes from; what is not bought stands in the result as left out. */
export const Supply = z.enum(['buy', 'reuse', 'stock', 'ownerSupplies']).meta({
  id: 'Supply',
  description: 'Bought; reused from the old loom; taken from stock; or supplied by the owner of the vehicle.',
});
export type Supply = z.infer<typeof Supply>;
