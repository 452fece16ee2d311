import { z } from 'zod';
import { Code, Name, Note } from './code.ts';
import { isFields } from './soundness.ts';

/** How two parts go together: `from` mates with, takes, seals, covers, or stands in for `to`. */
export const FitRelation = z.enum(['mates', 'takes', 'seals', 'covers', 'standsInFor']).meta({
  id: 'FitRelation',
  description:
    'from mates with to (either way round); a housing or joiner takes a terminal, a terminal a wire; a seal seals a terminal or housing; a cover covers a terminal or housing; from stands in for to, one-way.',
});
export type FitRelation = z.infer<typeof FitRelation>;

export const FitStatus = z.enum(['proposed', 'confirmed', 'refuted']).meta({
  id: 'FitStatus',
  description: 'Thought to fit; tried and found to fit; tried and found not to fit.',
});

export type FitStatus = z.infer<typeof FitStatus>;

/** What a club knows of two parts. There is one fit for each pair and relation. */
export const Fit = z
  .strictObject({
    from: Code,
    relation: FitRelation,
    to: Code,
    status: FitStatus.default('proposed'),
    by: Name.optional().meta({ description: 'Who proposed, confirmed or refuted it.' }),
    note: Note.optional(),
  })
  .superRefine(
    (fit, issues) => {
      if (typeof fit.from === 'string' && fit.from === fit.to)
        issues.addIssue({
          code: 'custom',
          path: ['to'],
          message: 'a fit is of two parts; name another than in from',
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

/** What names a fit: its two parts and the relation between them. */
export function fitKey({ from, relation, to }: Pick<Fit, 'from' | 'relation' | 'to'>): string {
  return JSON.stringify([from, relation, to]);
}
