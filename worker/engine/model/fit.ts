import { z } from 'zod';
import { Code, Name, Note } from './code.ts';
import { isFields } from './soundness.ts';

/** How two parts go together: `from` mates with, takes, seals, covers, or stands in for `to`. */
export const FitRelation = z.enum(['mates', 'takes', 'seals', 'covers', 'standsInFor']).meta({
  id: 'FitRelation',
  description:
    'mates: the two plug together, either way round. takes: a housing or joiner takes a terminal, or a terminal takes a wire. seals: a seal seals a terminal or housing. covers: a cover covers a terminal or housing. standsInFor: `from` may be bought instead of `to`, not the other way round.',
});
export type FitRelation = z.infer<typeof FitRelation>;

export const FitStatus = z.enum(['proposed', 'confirmed', 'refuted']).meta({
  id: 'FitStatus',
  description:
    'proposed: thought to fit. confirmed: tried, and it fits. refuted: tried, and it does not fit.',
});

export type FitStatus = z.infer<typeof FitStatus>;

/** What a club knows of two parts. There is one fit for each pair and relation. */
export const Fit = z
  .strictObject({
    from: Code,
    relation: FitRelation,
    to: Code,
    status: FitStatus.default('proposed'),
    by: Name.optional().meta({ description: 'Who proposed, confirmed or refuted the fit.' }),
    note: Note.optional(),
  })
  .superRefine(
    (fit, issues) => {
      if (typeof fit.from === 'string' && fit.from === fit.to)
        issues.addIssue({
          code: 'custom',
          path: ['to'],
          message: 'a fit needs two different parts; name a part here that is not the one in from',
          params: { code: 'fit-with-itself' },
        });
    },
    { when: ({ value }) => isFields(value) },
  )
  .meta({
    id: 'Fit',
    example: { from: 'pin-2-3', relation: 'takes', to: 'housing-4' },
    description: 'Whether two parts go together, and how surely that is known.',
  });
export type Fit = z.infer<typeof Fit>;

/** A fit of which somebody reported that it does not fit, after it was last confirmed or changed. */
export const DoubtedFit = z.strictObject({ from: Code, relation: FitRelation, to: Code }).meta({
  id: 'DoubtedFit',
  description:
    'A fit that is not refuted, and of which somebody reported later than its last change that it does not fit.',
});
export type DoubtedFit = z.infer<typeof DoubtedFit>;

/** What names a fit: its two parts and the relation between them. */
export function fitKey({ from, relation, to }: Pick<Fit, 'from' | 'relation' | 'to'>): string {
  return JSON.stringify([from, relation, to]);
}
