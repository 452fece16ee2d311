import type { Random } from '../random.ts';
import type { OfferInput } from '../whole/jobOf.ts';
import { kitOf, lengthOf, metreOf, packOf, sum, type Making } from '../whole/themes/make.ts';
import type { CountRequirement, LengthRequirement, Requirements } from './requirements.ts';
import type { RulesOn } from './rules.ts';
import type { Seat } from './sellers.ts';

const COUNTS = [1, 1, 2, 3, 5, 10, 25] as const;

/**
 * So many offers. The first shop sells what is needed, its tools and what stands in, new, dear and without end; who
 * sells the rest is drawn, with all rules.
 */
export function offersFor(
  random: Random,
  requirements: Requirements,
  many: number,
  seats: ReadonlyMap<string, Seat>,
  on: RulesOn,
): OfferInput[] {
  const shops = [...seats.keys()];
  const currencyOf = (shop: string) => seats.get(shop)?.currency ?? 'GBP';
  const ash: Making = { random, suppliers: shops.slice(0, 1), currencyOf, rules: 0 };
  const all: Making = { random, suppliers: shops, currencyOf, rules: on.breaksAndSteps ? 30 : 0 };
  const counted = [...requirements.counted, ...requirements.beside];
  const dearer = (requirement: CountRequirement) => ({
    ...requirement,
    piece: requirement.piece * 1.3,
    counts: [1],
  });
  const sure = [
    ...counted
      .filter(() => !on.scarce || random.percent(80))
      .map((requirement) => packOf(`sure-${requirement.part}`, requirement.part, dearer(requirement), ash)),
    ...requirements.lengths.map((requirement) => {
      const { kind, pieces, metre } = { ...requirement, metre: requirement.metre * 1.4 };
      return requirement.byTheMetre
        ? metreOf(`sure-${kind}`, kind, { totalMm: sum(pieces), metre }, ash)
        : lengthOf(`sure-${kind}`, kind, { nominalMm: 5000, enough: 2, metre }, ash);
    }),
  ];
  const kits = on.kits
    ? Array.from({ length: random.whole(2, 5) }, (_, index) => kit(`kit-${index}`, counted, all))
    : [];
  const rest = Array.from({ length: many - sure.length - kits.length }, (_, index) => {
    const code = `offer-${index}`;
    const byLength = requirements.lengths.length > 0 && random.percent(25);
    const offer = byLength
      ? length(code, random.pick(requirements.lengths), all, on)
      : pack(code, random.pick(counted), all);
    return {
      ...offer,
      ...(on.conditions && random.percent(30) && { condition: random.pick(['oldStock', 'used'] as const) }),
      ...(on.dates && random.percent(20) && { leadDays: random.pick([1, 5, 30]) }),
    };
  });
  return [...sure, ...kits, ...rest];
}

function pack(code: string, requirement: CountRequirement, making: Making): OfferInput {
  return packOf(
    code,
    requirement.part,
    { ...requirement, counts: requirement.needed > 1 ? COUNTS : [1] },
    making,
  );
}

function length(
  code: string,
  { kind, pieces, metre, byTheMetre }: LengthRequirement,
  making: Making,
  on: RulesOn,
): OfferInput {
  const { random } = making;
  const totalMm = sum(pieces);
  if (byTheMetre || (on.byTheMetre && random.percent(50)))
    return metreOf(code, kind, { totalMm, metre }, making);
  const nominalMm = random.pick([3000, 5000, 5000, 10_000, 25_000]);
  const enough = Math.max(1, Math.round(totalMm / nominalMm));
  return {
    ...lengthOf(code, kind, { nominalMm, enough, metre }, making),
    ...(random.percent(20) && { tolerancePercent: random.pick([1, 2.5, 5]) }),
    ...(random.percent(20) && { endLossMm: random.pick([10, 50, 100]) }),
  };
}

/** Two to four parts, about a half to the whole of what is needed of each. */
function kit(code: string, counted: readonly CountRequirement[], making: Making): OfferInput {
  const { random } = making;
  const first = random.whole(0, counted.length - 4);
  const contents = counted.slice(first, first + random.whole(2, 4)).map(({ part, needed, piece }) => ({
    part,
    piece,
    quantity: Math.max(1, Math.round((needed * random.whole(40, 100)) / 100)),
  }));
  return kitOf(code, contents, making);
}
