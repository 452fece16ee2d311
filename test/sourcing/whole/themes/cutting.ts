import type { Random } from '../../random.ts';
import { jobOf, partOf, type LoomWants, type OfferInput } from '../jobOf.ts';
import { chargesOf, lengthOf, metreOf, sum, type Making } from './make.ts';
import { shopsOf, type Theme } from './theme.ts';

/** One or two wires and sleeves: whole pieces out of fixed lengths and lengths by the metre. */
export const cutting: Theme = {
  name: 'cutting',
  rules: ['wholePieces', 'hankWithMetre', 'stock', 'breaks', 'tolerance', 'endLoss'],
  make: (random) => {
    const kinds = random.percent(45)
      ? (['red', random.pick(['blue', 'sleeve'] as const)] as const)
      : (['red'] as const);
    return lengthsJob(random, { kinds, rules: 35, metres: 45, shortened: 35, oneColour: 50 });
  },
};

/** Fixed lengths of which a tolerance or an end takes just too much. */
export const hanks: Theme = {
  name: 'hanks',
  rules: ['tolerance', 'endLoss', 'wholePieces', 'stock'],
  make: (random) =>
    lengthsJob(random, { kinds: ['red'], rules: 10, metres: 15, shortened: 80, oneColour: 30, exact: true }),
};

/** By the metre, of which no supplier has enough for all. */
export const metres: Theme = {
  name: 'metres',
  rules: ['oneMetreLength', 'stock', 'breaks', 'wholePieces'],
  make: (random) =>
    lengthsJob(random, {
      kinds: [random.pick(['red', 'red', 'sleeve'])],
      rules: 70,
      metres: 85,
      shortened: 20,
      oneColour: 5,
    }),
};

/** By the metre, of which no offer has enough for all, and all together mostly do. */
export const shortMetres: Theme = {
  name: 'shortMetres',
  rules: ['severalMetreLengths', 'oneMetreLength', 'stock', 'breaks', 'wholePieces'],
  make: (random) =>
    lengthsJob(random, {
      kinds: [random.pick(['red', 'sleeve', 'sleeve'])],
      rules: 40,
      metres: 92,
      shortened: 20,
      oneColour: 5,
      short: true,
    }),
};

/** Tape, and at times wire beside it: only the total of tape counts. */
export const tape: Theme = {
  name: 'tape',
  rules: ['joinableTape', 'breaks', 'stock', 'tolerance', 'endLoss'],
  make: (random) =>
    lengthsJob(random, {
      kinds: random.percent(25) ? ['tape', 'red'] : ['tape'],
      rules: 35,
      metres: 30,
      shortened: 50,
      oneColour: 50,
    }),
};

type Kind = 'red' | 'blue' | 'sleeve' | 'tape';

/** Of a hundred: rules that are stated, offers by the metre, lengths that are shorter than stated, one supplier asked for. */
interface Shape {
  kinds: readonly Kind[];
  rules: number;
  metres: number;
  shortened: number;
  oneColour: number;
  /** No offer by the metre has enough. */
  short?: boolean;
  /** Pieces are just halves of the usual lengths. */
  exact?: boolean;
}

function lengthsJob(random: Random, shape: Shape) {
  const { kinds } = shape;
  const suppliers = shopsOf(random);
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: shape.rules };
  const metre = random.whole(60, 120);
  const wants: Required<LoomWants> = { wires: [], coverings: [], counted: [] };
  const offers: OfferInput[] = [];
  // Of exact halves either a tolerance or an end takes what is missing.
  const taken = shape.exact ? random.pick(['tolerance', 'end'] as const) : 'both';
  for (const kind of kinds) {
    const halfMm = random.pick([500, 1000, 1500]);
    const pieces = Array.from({ length: random.whole(2, kinds.length > 1 ? 3 : 4) }, () =>
      shape.exact ? halfMm - random.pick([0, 0, 0, 10]) : pieceMm(kind, random),
    );
    for (const mm of pieces)
      if (kind === 'red' || kind === 'blue') wants.wires.push({ colour: kind, mm });
      else wants.coverings.push({ kind: kind === 'tape' ? 'tape' : 'pvc', part: kind, mm });
    const most = kinds.length > 1 ? random.whole(2, 3) : random.whole(3, shape.metres > 80 ? 4 : 5);
    for (let index = 0; index < most; index += 1) {
      const code = `${kind}-${index}`;
      const totalMm = sum(pieces);
      if (random.percent(shape.metres))
        offers.push({
          ...metreOf(code, kind, { totalMm, metre }, making),
          ...(shape.short && { stockMm: Math.floor((totalMm * random.pick([0.5, 0.6, 0.8])) / 500) * 500 }),
        });
      else {
        const nominalMm = shape.exact
          ? halfMm * random.whole(2, 4)
          : random.pick([1000, 2000, 2000, 3000, 5000]);
        const enough = Math.max(1, Math.round(totalMm / nominalMm));
        offers.push({
          ...lengthOf(code, kind, { nominalMm, enough, metre }, making),
          ...shortened(random, shape.shortened, taken),
        });
      }
    }
  }
  return jobOf(
    { looms: { loom: wants }, lines: [{ loom: 'loom', quantity: 1 }] },
    {
      parts: kinds.map((kind) => partOf(kind, kind)),
      suppliers: suppliers.map((code) => ({
        code,
        name: code,
        currency: 'GBP',
        ...chargesOf(random, 'GBP', { often: 30, level: 30, value: 300 }),
      })),
      offers,
      cuttingStepMm: random.pick([1, 1, 5, 50]),
      request: { settings: { oneColourOneSupplier: random.percent(shape.oneColour) } },
    },
  );
}

/** Halves and wholes of the usual fixed lengths, often a little less. */
export function pieceMm(kind: Kind, random: Random): number {
  const whole = random.pick(kind === 'tape' ? [1000, 1500, 2000] : [500, 1000, 1000, 1500, 2000]);
  return whole - random.pick([0, 0, 20, 50, 100, random.whole(1, 200)]);
}

function shortened(random: Random, often: number, taken: 'tolerance' | 'end' | 'both'): object {
  return {
    ...(taken !== 'end' && random.percent(often) && { tolerancePercent: random.pick([1, 2.5, 5, 10]) }),
    ...(taken !== 'tolerance' && random.percent(often) && { endLossMm: random.pick([10, 50, 100, 150]) }),
  };
}
