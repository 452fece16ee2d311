import { faultsOf } from '../../worker/engine/model/faults.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import type { ShortContext } from '../../worker/engine/model/short/form.ts';
import type { z } from 'zod';

/** What a short form is read as; or the first fault of it. */
export const read = (schema: z.ZodType, value: unknown, context: ShortContext = {}) => {
  const answer = parsed(schema, value, context);
  return answer.success ? answer.data : faultsOf(answer.error, value, schema)[0];
};
export const refusal = (schema: z.ZodType, value: unknown, context: ShortContext = {}) => {
  const { code, todo, found, limit } = read(schema, value, context) as Record<string, string | undefined>;
  return { code, todo, found, limit };
};
export const gbp = (amount: string) => ({ amount, currency: 'GBP' });
export const pounds: ShortContext = { currency: 'GBP' };
