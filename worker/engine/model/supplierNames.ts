import { z } from 'zod';
import { byCode } from './code.ts';
import type { Supplier } from './supplier.ts';

/** Names by code, also of suppliers from which nothing is ordered: close alternatives may be bought from them. */
export const SupplierNames = z
  .record(z.string(), z.string())
  .meta({ description: 'The names of all suppliers of the job, by code. Absent in older results.' });
type SupplierNames = z.infer<typeof SupplierNames>;

/**
 * All suppliers of a job, and not only those that a result speaks of: which those are may depend on how long close
 * alternatives were looked for.
 */
export function supplierNamesOf(suppliers: readonly Pick<Supplier, 'code' | 'name'>[]): SupplierNames {
  return Object.fromEntries(
    [...suppliers].sort((a, b) => byCode(a.code, b.code)).map(({ code, name }) => [code, name]),
  );
}
