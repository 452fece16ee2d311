import type { Random } from '../../random.ts';
import { jobOf, partOf, toolOf, type OfferInput, type PartInput, type Terms } from '../jobOf.ts';
import { chargesOf, kitOf, packOf, type Making } from './make.ts';
import { shopsOf, type Theme } from './theme.ts';

/** A family of housing, terminal and seal for which another may stand in as a whole, each with its tool. */
export const families: Theme = {
  name: 'families',
  rules: ['families', 'kits', 'tools', 'toolsOwned', 'standInStatus', 'breaks'],
  make: (random) => familiesJob(random, false),
};

/** Two families, whose tools may be one. */
export const tools: Theme = {
  name: 'tools',
  rules: ['tools', 'kits', 'toolsShared', 'toolsOwned', 'families'],
  make: (random) => familiesJob(random, true),
};

const KINDS = ['housing', 'terminal', 'seal'] as const;

/** The parts of a family, each in place of its like of another where that is stated. */
function family(
  code: string,
  kinds: readonly (typeof KINDS)[number][],
  instead?: { of: string; by: Random },
): PartInput[] {
  return kinds.flatMap((kind) => {
    if (!instead) return [partOf(kind, `${code}-${kind}`, { family: code })];
    const part = `${instead.of}-${kind}`;
    const known = instead.by.percent(85) ? { confirmedBy: 'Ann' } : {};
    const standsInFor = [{ part, ...known }];
    return [partOf(kind, `${code}-${kind}`, { family: code, standsInFor })];
  });
}

function familiesJob(random: Random, two: boolean) {
  const suppliers = shopsOf(random, 1);
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 20 };
  const kinds = KINDS.slice(0, two ? random.pick([1, 1, 2]) : random.pick([2, 2, 3]));
  const parts = [
    ...family('old', kinds),
    ...family('new', kinds, { of: 'old', by: random }),
    ...(two ? family('side', ['housing']) : []),
  ];
  const requirements = parts
    .filter(({ family }) => family !== 'new')
    .map(({ code }) => ({ part: code, needed: random.whole(1, two ? 2 : 3), piece: random.whole(40, 100) }));
  // At times something of the new family is needed itself.
  if (!two && kinds.length === 2 && random.percent(25))
    requirements.push({ part: 'new-terminal', needed: random.whole(1, 2), piece: random.whole(40, 100) });
  const made = toolsFor(random, two);
  const offered = [
    ...parts.map(
      ({ code }) =>
        requirements.find(({ part }) => part === code) ?? {
          part: code,
          needed: 2,
          piece: random.whole(two ? 80 : 40, two ? 160 : 100),
        },
    ),
    ...made.parts
      .filter(() => random.percent(90))
      .map(({ code }) => ({ part: code, needed: 1, piece: random.whole(80, 250) })),
  ];
  const kit = random.percent(25) ? [kitWith(random, offered, making)] : [];
  const offers = [
    ...offered.map((requirement) => packOf(`${requirement.part}-0`, requirement.part, requirement, making)),
    ...kit,
    ...requirements
      .slice(0, 2)
      .map((requirement) => packOf(`${requirement.part}-1`, requirement.part, requirement, making)),
  ];
  return jobOf(
    {
      looms: { loom: { counted: requirements.map(({ part, needed }) => ({ part, quantity: needed })) } },
      lines: [{ loom: 'loom', quantity: 1 }],
    },
    {
      parts: [...parts, ...made.parts],
      suppliers: suppliers.map((code) => ({
        code,
        name: code,
        currency: 'GBP',
        ...chargesOf(random, 'GBP', { often: 40, level: 50, value: 400 }),
      })),
      offers: offers.slice(0, 10),
      stock: [
        ...made.stock,
        ...parts.flatMap(({ code }) =>
          random.percent(12) ? [{ form: 'pieces' as const, code: `my-${code}`, part: code, count: 1 }] : [],
        ),
      ],
      request: random.percent(40) ? { settings: { standInsAccepted: ['confirmed', 'proposed'] } } : {},
    },
  );
}

/** Tools of the families, one or two of each, at times owned. */
function toolsFor(random: Random, two: boolean): { parts: PartInput[]; stock: NonNullable<Terms['stock']> } {
  const parts = two
    ? [toolOf('press', ['old', 'side']), toolOf('pliers', ['new', ...(random.percent(25) ? ['side'] : [])])]
    : [toolOf('press', ['old']), toolOf('pliers', random.pick([['new'], ['new'], ['old', 'new']]))];
  const known = random.percent(15) ? parts.slice(0, 1) : parts;
  const owned = random.percent(two ? 40 : 50) ? known.slice(-1) : [];
  return {
    parts: known,
    stock: owned.map(({ code }) => ({ form: 'pieces' as const, code: `my-${code}`, part: code, count: 1 })),
  };
}

/** A kit of one family, at times with its tool. */
function kitWith(
  random: Random,
  offered: readonly { part: string; needed: number; piece: number }[],
  making: Making,
): OfferInput {
  const code = random.pick(['old', 'new']);
  const chosen = offered.filter(({ part }) => part.startsWith(code));
  const tool = random.percent(50)
    ? offered.filter(({ part }) => part === (code === 'old' ? 'press' : 'pliers'))
    : [];
  return kitOf(
    'kit',
    [...chosen, ...tool].map(({ part, needed, piece }) => ({ part, quantity: needed, piece })),
    making,
  );
}
