import { z } from 'zod';
import { Code } from './code.ts';
import { LIMITS } from './limits.ts';

/** What of a job was proposed and not confirmed since. */
export const ProposedEntries = z
  .strictObject({
    parts: z.array(Code).max(LIMITS.jobParts).optional(),
    offers: z.array(Code).max(LIMITS.jobOffers).optional(),
  })
  .meta({
    id: 'ProposedEntries',
    description: 'Parts and offers that were proposed, by code, and that nobody has confirmed.',
  });
export type ProposedEntries = z.infer<typeof ProposedEntries>;

/** A purchase with what it rests on that nobody has confirmed. */
export const UnconfirmedPurchase = z
  .strictObject({
    offer: Code,
    part: Code,
    why: z.enum(['part', 'offer', 'standIn']).meta({
      description:
        'part: the part is proposed. offer: the offer is proposed. standIn: the part is bought instead of another, and nobody has confirmed that it can be.',
    }),
    detail: z.string().meta({ description: 'The same in words.' }),
  })
  .meta({ id: 'UnconfirmedPurchase' });
export type UnconfirmedPurchase = z.infer<typeof UnconfirmedPurchase>;
