import { z } from 'zod';

const Severity = z.enum(['stop', 'warning', 'note']).meta({ id: 'Severity' });

/** One shape for what validation, checks and sourcing have to say. */
export const Finding = z
  .strictObject({
    code: z.string().meta({
      description: 'A fixed word for the kind of fault. It never changes.',
      example: 'unknown-part',
    }),
    severity: Severity,
    at: z.string().meta({
      description: 'JSON Pointer (RFC 6901) into the document that was sent.',
      example: '/wires/3/from/point',
    }),
    where: z.string().meta({ description: 'The place in plain words.', example: 'wire 12, from' }),
    subject: z.string().optional().meta({
      description: 'The thing that has the fault. To accept the fault, name this subject in asOriginal.',
      example: 'wire:W3:from',
    }),
    found: z.string().meta({ description: 'What is there now.' }),
    limit: z.string().optional().meta({ description: 'What is right there.' }),
    source: z
      .string()
      .optional()
      .meta({ description: 'The published source of the limit, or "common practice".' }),
    todo: z.string().meta({ description: 'How to fix it.' }),
    accepted: z
      .string()
      .optional()
      .meta({ description: 'The note with which the loom accepts this fault as original.' }),
  })
  .meta({
    id: 'Finding',
    description:
      'A fault that was found in the input or the result: where it is, what it is, and how to fix it.',
  });
export type Finding = z.infer<typeof Finding>;

const RANK: Record<Finding['severity'], number> = { stop: 0, warning: 1, note: 2 };

/** The gravest first; equals keep their order. */
export function byGravity(a: Finding, b: Finding): number {
  return RANK[a.severity] - RANK[b.severity];
}

/** RFC 6901: a pointer from the keys of a path. */
export function pointer(path: readonly PropertyKey[]): string {
  return path.map((key) => `/${String(key).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}
