import type { JobInput } from '../../worker/engine/model/job.ts';
import { CUTTING, isCutting, type Family as CuttingFamily } from './cuttingFamilies.ts';
import { FAMILIES as LOOMS, loomsJob, type Family as LoomsFamily } from './looms/looms.ts';
import { FAMILIES as SHOPS, shopsJob, type Family as ShopsFamily } from './shops.ts';

export type Family = LoomsFamily | ShopsFamily | CuttingFamily;

/** In the order in which they are run; and how tables name them. */
const NAMES: Readonly<Record<Family, string>> = {
  oneLoom: 'one loom',
  tenLooms: 'ten looms',
  fortyLooms: 'forty looms',
  loom: 'loom',
  wide: 'wide',
  pool: 'pool',
  widest: 'widest',
  cutting: 'cutting',
  reels: 'reels',
  colours: 'colours',
};
export const FAMILIES = Object.keys(NAMES) as readonly Family[];

/** The two kinds of a family: how prices lie, or in how many orders looms are bought. */
export const VARIANTS = ['plain', 'correlated', 'oneOrder', 'twoOrders'] as const;
export type Variant = (typeof VARIANTS)[number];
const VARIANT_NAMES: Readonly<Record<Variant, string>> = {
  plain: 'plain',
  correlated: 'correlated',
  oneOrder: 'one order',
  twoOrders: 'two orders',
};

/** Pieces to be cut have but one. */
export function variantsOf(family: Family): readonly Variant[] {
  if (isCutting(family)) return ['plain'];
  return isLooms(family) ? ['oneOrder', 'twoOrders'] : ['plain', 'correlated'];
}

/** As tables name it. */
export const nameOf = (family: Family, variant: Variant) =>
  variantsOf(family).length > 1 ? `${NAMES[family]}, ${VARIANT_NAMES[variant]}` : NAMES[family];

/** One of the fixed instances. */
export interface Instance {
  family: Family;
  variant: Variant;
  seed: number;
}

export function isFamily(name: string): name is Family {
  return (FAMILIES as readonly string[]).includes(name);
}

export function isVariant(name: string): name is Variant {
  return (VARIANTS as readonly string[]).includes(name);
}

/** Whether it is made of looms as they are, with all rules. */
export function isLooms(family: Family): family is LoomsFamily {
  return family in LOOMS;
}

/** The instance as a job; the same one makes the same job. */
export function benchJob({ family, variant, seed }: Instance): JobInput {
  if (isCutting(family)) return CUTTING[family](seed);
  return isLooms(family)
    ? loomsJob({ family, twoOrders: variant === 'twoOrders', seed })
    : shopsJob({ ...SHOPS[family], correlated: variant === 'correlated', seed });
}
