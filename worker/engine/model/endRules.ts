import { z } from 'zod';
import { Code } from './code.ts';

/** What ends have that state none, by the kind of their point and the size of their wire. */
export const EndRule = z
  .strictObject({
    at: z.enum(['connector', 'device', 'stud', 'joiner', 'joint', 'flyingLead', 'breakout']).optional().meta({
      description: 'The rule is for points of this kind. Left out: for every kind.',
    }),
    partAtPoint: Code.optional().meta({
      description: 'The rule is for points with this part, such as a housing. Left out: for all points.',
      example: 'housing-2-way',
    }),
    overMm2: z
      .number()
      .min(0)
      .max(500)
      .optional()
      .meta({ description: 'The rule is for wires above this size, mm².' }),
    upToMm2: z
      .number()
      .positive()
      .max(500)
      .optional()
      .meta({ description: 'The rule is for wires up to this size, mm².' }),
    terminal: Code.optional().meta({ description: 'The terminal of such ends.', example: 'ring-6-15' }),
    seal: Code.optional().meta({ description: 'The seal of such ends.', example: 'seal-blue' }),
    cover: Code.optional().meta({ description: 'The cover of such ends.', example: 'cover-ring-6' }),
  })
  .meta({
    id: 'EndRule',
    description:
      'The terminal, seal and cover of ends that state none, chosen by the kind of point, the part there and the size of the wire.',
    example: { at: 'stud', upToMm2: 2.5, terminal: 'ring-6-15' },
  });
export type EndRule = z.infer<typeof EndRule>;

/** "stud up to 2.5 mm²: terminal ring-6-15" */
export function endRuleText({ at, partAtPoint, overMm2, upToMm2, terminal, seal, cover }: EndRule): string {
  const where = [
    at ?? 'every end',
    ...(partAtPoint === undefined ? [] : [`with ${partAtPoint}`]),
    ...(overMm2 === undefined ? [] : [`over ${overMm2} mm²`]),
    ...(upToMm2 === undefined ? [] : [`up to ${upToMm2} mm²`]),
  ].join(' ');
  const parts = Object.entries({ terminal, seal, cover }).filter(([, part]) => part !== undefined);
  return `${where}: ${parts.map(([use, part]) => `${use} ${part ?? ''}`).join(', ') || 'nothing'}`;
}

/** Told from the other rules by what only it can state. */
export function isEndRule(rule: object): rule is EndRule {
  return ['at', 'partAtPoint', 'upToMm2', 'terminal', 'seal', 'cover'].some((field) => field in rule);
}
