import type { OfferInput, SupplierInput, Terms, Wanted } from './jobOf.ts';
import { jobOf, partOf, toolOf } from './jobOf.ts';
import { cheapest } from './cheapest.ts';
import { asText } from './ratio.ts';
import { RULES_ON, without, type RuleName } from './rules.ts';

/** Short ways to write the small cases that are worked by hand. */
export const gbp = (amount: string) => ({ amount, currency: 'GBP' });
export const eur = (amount: string) => ({ amount, currency: 'EUR' });

export const shop = (code: string, more: Partial<SupplierInput> = {}): SupplierInput => ({
  code,
  name: code,
  currency: 'GBP',
  ...more,
});

type PackInput = Extract<OfferInput, { form: 'pack' }>;

/** Packs of one piece, unless stated otherwise. */
export const pack = (
  part: string,
  supplier: string,
  price: string | { amount: string; currency: string },
  more: Partial<PackInput> = {},
): OfferInput => ({
  form: 'pack',
  code: `${part}-${supplier}-${typeof price === 'string' ? price : price.amount}`,
  supplier,
  part,
  packCount: 1,
  packPrice: typeof price === 'string' ? gbp(price) : price,
  ...more,
});

export const hank = (part: string, supplier: string, nominalMm: number, price: string): OfferInput => ({
  form: 'length',
  code: `${part}-${supplier}-${nominalMm}`,
  supplier,
  part,
  nominalMm,
  packPrice: gbp(price),
});

export const byMetre = (part: string, supplier: string, price: string): OfferInput => ({
  form: 'metre',
  code: `${part}-${supplier}-metre`,
  supplier,
  part,
  pricePerMetre: gbp(price),
});

const CATALOGUE = [
  ...['clip', 'plug', 'lamp'].map((code) => partOf('clip', code)),
  partOf('red', 'red'),
  partOf('blue', 'blue'),
  partOf('sleeve', 'sleeve'),
  partOf('tape', 'tape'),
];

/** So many pieces of parts, in one loom. */
export const counted = (quantities: Record<string, number>): Wanted => ({
  looms: { loom: { counted: Object.entries(quantities).map(([part, quantity]) => ({ part, quantity })) } },
  lines: [{ loom: 'loom', quantity: 1 }],
});

/** Cut lengths of red wire, in one loom. */
export const reds = (...pieces: number[]): Wanted => ({
  looms: { loom: { wires: pieces.map((mm) => ({ colour: 'red', mm })) } },
  lines: [{ loom: 'loom', quantity: 1 }],
});

/** The answer of the brute force, as "unmet, cost", to what is wanted; with a rule off where one is named. */
export function answer(wanted: Wanted, terms: Partial<Terms>, off?: RuleName): string {
  const job = jobOf(wanted, {
    parts: CATALOGUE,
    suppliers: [shop('north'), shop('south')],
    offers: [],
    ...terms,
  });
  const { unmet, cost } = cheapest(job, off === undefined ? RULES_ON : without(off));
  return `${unmet} unmet, ${asText(cost)}`;
}

export { partOf, toolOf };
