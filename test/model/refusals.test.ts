import { describe, expect, it } from 'vitest';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { QuoteRequest } from '../../worker/engine/model/job.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { fullJob } from './documents.ts';
import { jobFaults } from './jobFaults.ts';
import { changed } from './pointing.ts';

/** What is bad; where it is put; what is put there (undefined takes the field out); the fault's word; where it is told if elsewhere. */
type Row = readonly [bad: string, at: string, value: unknown, code: string, told?: string];

const asCase = ([bad, at, value, code, told = at]: Row) => ({ bad, at, value, code, told });

const wire = '/looms/0/wires/0';
const lengths: Row[] = [
  ['a negative length', `${wire}/length/mm`, -5, 'too-small'],
  ['a length of nothing', `${wire}/length/mm`, 0, 'too-small'],
  ['an absurd length', `${wire}/length/mm`, LIMITS.wireMm + 1, 'too-big'],
  ['a broken millimetre', `${wire}/length/mm`, 620.5, 'wrong-type'],
  ['a length in quotes', `${wire}/length/mm`, '620', 'wrong-type'],
  ['a length without its basis', `${wire}/length/basis`, undefined, 'missing-field'],
  ['a negative strip', `${wire}/from/stripMm`, -1, 'too-small'],
  ['an absurd tail', `${wire}/from/tailMm`, 2001, 'too-big'],
  ['a negative branch', '/looms/0/branches/0/lengthMm', -1, 'too-small'],
  ['a negative sleeve', '/looms/0/coverings/2/lengthMm', -1, 'too-small'],
  ['a negative target', '/looms/0/wires/2/function/targetOhm', -1, 'too-small'],
];

const references: Row[] = [
  ['a wire from a missing point', `${wire}/from/point`, 'nowhere', 'missing-point'],
  ['a wire to a missing point', `${wire}/to/point`, 'nowhere', 'missing-point'],
  ['a way along a missing branch', `${wire}/via/1`, 'b9', 'missing-branch'],
  ['a wire in a missing cable', `${wire}/inCable`, 'c9', 'missing-cable'],
  ['a wire twisted with a missing wire', '/looms/0/wires/1/twistedWith', '9', 'missing-wire'],
  ['a wire twisted with itself', '/looms/0/wires/1/twistedWith', '2', 'twisted-with-itself'],
  ['a branch from a missing point', '/looms/0/branches/0/from', 'nowhere', 'missing-point'],
  ['a branch to where it starts', '/looms/0/branches/0/to', 'earth', 'branch-to-itself'],
  ['a covering over a missing branch', '/looms/0/coverings/1/over/1', 'b9', 'missing-branch'],
  ['a covering under a missing one', '/looms/0/coverings/0/outer', 'c9', 'missing-covering'],
  ['a fitting on a missing branch', '/looms/0/fittings/0/branch', 'b9', 'missing-branch'],
  ['an unknown terminal', `${wire}/from/terminal/part`, 'nothing', 'unknown-part'],
  ['an unknown seal', '/looms/1/wires/0/from/seal/part', 'nothing', 'unknown-part'],
  ['an unknown cover', `${wire}/from/cover/part`, 'nothing', 'unknown-part'],
  ['an unknown part at a point', '/looms/0/points/1/part', 'nothing', 'unknown-part'],
  ['an unknown cable', '/looms/1/cables/0/part', 'nothing', 'unknown-part'],
  ['an unknown covering part', '/looms/0/coverings/1/part', 'nothing', 'unknown-part'],
  ['an unknown fitting', '/looms/0/fittings/0/part', 'nothing', 'unknown-part'],
  ['an unknown counted part', '/looms/0/parts/0/part', 'nothing', 'unknown-part'],
  ['an offer of an unknown part', '/offers/0/part', 'nothing', 'unknown-part'],
  ['a kit with an unknown part', '/offers/3/contents/1/part', 'nothing', 'unknown-part'],
  ['an offer of an unknown supplier', '/offers/0/supplier', 'nobody', 'unknown-supplier'],
  ['a request for an unknown loom', '/request/looms/0/loom', 'nothing', 'unknown-loom'],
  ['a request for a revision that is not here', '/request/looms/0/revision', 2, 'unknown-revision'],
];

const doubles: Row[] = [
  ['a point id used twice', '/looms/0/points/1/id', 'earth', 'duplicate-id'],
  ['a branch id used twice', '/looms/0/branches/1/id', 'b1', 'duplicate-id'],
  ['a wire id used twice', '/looms/0/wires/3/id', '3', 'duplicate-id'],
  ['a covering id used twice', '/looms/0/coverings/2/id', 'outer', 'duplicate-id'],
  ['a part code used twice', '/parts/1/code', 'w-44-012-green-yellow', 'duplicate-code'],
  ['a supplier code used twice', '/suppliers/1/code', 'alder', 'duplicate-code'],
  ['an offer code used twice', '/offers/1/code', 'o-bullet', 'duplicate-code'],
  ['a loom code used twice', '/looms/1/code', 'old', 'duplicate-code'],
  ['a loom twice in the request', '/request/looms/1/loom', 'old', 'duplicate-loom'],
  ['a part twice in a kit', '/offers/3/contents/2/part', 'pin', 'not-valid'],
];

const offers: Row[] = [
  ['an empty pack', '/offers/0/packCount', 0, 'too-small'],
  ['a minimum of no packs', '/offers/0/minimumPacks', 0, 'too-small'],
  ['a step of no packs', '/offers/0/stepPacks', 0, 'too-small'],
  ['a stock below nothing', '/offers/0/stockPacks', -1, 'too-small'],
  ['a step of no length', '/offers/1/stepMm', 0, 'too-small'],
  ['a minimum of no length', '/offers/1/minimumMm', 0, 'too-small'],
  ['breaks that overlap', '/offers/0/breaks/1/fromPacks', 4, 'not-valid'],
  ['breaks that fall', '/offers/0/breaks/1/fromPacks', 3, 'not-valid'],
  ['a first break at the minimum', '/offers/0/breaks/0/fromPacks', 2, 'not-valid'],
  ['a break by the metre at the minimum', '/offers/1/breaks/0/fromMm', 2000, 'not-valid'],
  ['a break in another currency', '/offers/0/breaks/0/packPrice/currency', 'EUR', 'not-valid'],
  ['a reel of which nothing is left', '/offers/2/endLossMm', 24_500, 'not-valid'],
  ['an empty kit', '/offers/3/contents', [], 'too-small'],
  ['a kit with none of a part', '/offers/3/contents/0/quantity', 0, 'too-small'],
  ['a form that nobody sells in', '/offers/0/form', 'heap', 'not-one-of'],
  ['a condition of our own', '/offers/0/condition', 'mint', 'not-one-of'],
  ['a day that is none', '/offers/0/seenOn', '2026-02-30', 'wrong-form'],
  ['a day written backwards', '/offers/0/seenOn', '01-11-2026', 'wrong-form'],
];

const band = '/suppliers/0/postage/bands';
const suppliers: Row[] = [
  ['postage bands that overlap', `${band}/1/fromValue/amount`, '0.00', 'not-valid'],
  ['postage that starts above 0', `${band}/0/fromValue/amount`, '0.01', 'not-valid'],
  ['weight bands that overlap', '/suppliers/1/postage/bands/1/fromG', 0, 'not-valid'],
  ['a supplier without bands', band, [], 'too-small'],
  ['a charge in another currency', `${band}/0/charge/currency`, 'EUR', 'not-valid'],
  ['a band start in another currency', `${band}/1/fromValue/currency`, 'EUR', 'not-valid'],
  ['a minimum order in another currency', '/suppliers/0/minimumOrder/currency', 'EUR', 'not-valid'],
  ['a country in small letters', '/suppliers/0/country', 'gb', 'wrong-form'],
  ['a website that is no address', '/suppliers/0/website', 'alder', 'wrong-form'],
];

const money: Row[] = [
  ['a currency that ISO 4217 does not list', '/club/currency', 'ZZZ', 'not-valid'],
  ['a currency in small letters', '/club/currency', 'gbp', 'wrong-form'],
  ['a price in an unknown currency', '/offers/0/packPrice/currency', 'GBX', 'not-valid'],
  ['a price of 7 decimals in GBP', '/offers/0/packPrice/amount', '2.1234567', 'not-valid'],
  ['a charge of 3 decimals in GBP', `${band}/0/charge/amount`, '3.505', 'not-valid'],
  ['a price as a number', '/offers/0/packPrice/amount', 2.5, 'wrong-type'],
  ['a price with a comma', '/offers/0/packPrice/amount', '2,50', 'wrong-form'],
  ['a negative price', '/offers/0/packPrice/amount', '-2.50', 'wrong-form'],
  ['a price with an exponent', '/offers/0/packPrice/amount', '1e3', 'wrong-form'],
  ['an empty price', '/offers/0/packPrice/amount', '', 'wrong-form'],
];

const extra = '/request/buildOrBuy/extras/0';
const buildOrBuy: Row[] = [
  ['an hour of negative worth', '/request/buildOrBuy/hourWorth/amount', '-12.00', 'wrong-form'],
  ['gas that costs less than nothing', `${extra}/cost/amount`, '-8.00', 'wrong-form'],
  [
    'gas that sells for more than it costs',
    `${extra}/sellsFor/amount`,
    '8.01',
    'sells-above-cost',
    `${extra}/sellsFor`,
  ],
  [
    'gas that sells in another currency',
    `${extra}/sellsFor/currency`,
    'EUR',
    'resale-in-other-currency',
    `${extra}/sellsFor`,
  ],
  ['gas shared over no looms', `${extra}/sharedOver`, 0, 'too-small'],
  ['gas shared over half a loom', `${extra}/sharedOver`, 0.5, 'wrong-type'],
  ['a kind of our own', `${extra}/kind`, 'gas', 'not-one-of'],
  ['an unknown tool', '/request/buildOrBuy/tools/0/part', 'nothing', 'unknown-part'],
  ['a ring for a tool', '/request/buildOrBuy/tools/0/part', 'pin', 'not-a-tool'],
  [
    'a tool counted twice',
    '/request/buildOrBuy/tools/1',
    { part: 'crimper' },
    'duplicate-tool',
    '/request/buildOrBuy/tools/1/part',
  ],
  ['order lists for neither', '/request/buildOrBuy/order', 'buy', 'not-one-of'],
];

const looms: Row[] = [
  ['a quantity of no looms', '/request/looms/0/quantity', 0, 'too-small'],
  ['a quantity below nothing', '/request/looms/0/quantity', -1, 'too-small'],
  ['half a loom', '/request/looms/0/quantity', 0.5, 'wrong-type'],
  ['more looms than the limit', '/request/looms/0/quantity', LIMITS.loomQuantity + 1, 'too-big'],
  ['a request for nothing', '/request/looms', [], 'too-small'],
  ['a quantity of no parts', '/looms/0/parts/0/quantity', 0, 'too-small'],
  ['a loom with nothing in it', '/looms/1', { code: 'new', name: 'empty' }, 'empty-loom', '/looms/1/wires'],
  [
    'a covering with branches and a length',
    '/looms/0/coverings/0/lengthMm',
    40,
    'covering-length',
    '/looms/0/coverings/0',
  ],
  [
    'a covering with neither',
    '/looms/0/coverings/2/lengthMm',
    undefined,
    'covering-length',
    '/looms/0/coverings/2',
  ],
  ['a covering over no branches', '/looms/0/coverings/0/over', [], 'too-small'],
  [
    'a shared terminal that is two parts',
    '/looms/0/wires/1/from/terminal',
    { part: 'pin', supply: 'stock' },
    'shared-terminal',
    '/looms/0/wires/1/from/terminal/part',
  ],
  [
    'a shared terminal that is bought and in stock',
    '/looms/0/wires/1/from/terminal',
    { part: 'bullet' },
    'shared-terminal',
    '/looms/0/wires/1/from/terminal/supply',
  ],
  ['a size of no system', `${wire}/size/system`, 'swg', 'not-one-of'],
  ['an AWG gauge that there is not', '/looms/0/wires/3/size/gauge', '60', 'wrong-form'],
  ['a size of no area', '/looms/1/wires/1/size/areaMm2', 0, 'too-small'],
  ['a shade that is not on the list', `${wire}/colour/base`, 'mauve', 'not-one-of'],
  ['a part kind that there is not', '/parts/0/kind', 'thing', 'not-one-of'],
  ['a loom without a name', '/looms/0/name', undefined, 'missing-field'],
  ['a name of nothing but blanks', '/looms/0/name', '   ', 'too-small'],
  ['a code with a blank', '/looms/0/points/0/id', 'the earth', 'wrong-form'],
  ['a code over the limit', '/looms/0/points/0/id', 'e'.repeat(LIMITS.codeLength + 1), 'too-big'],
];

const document: Row[] = [
  ['another format', '/format', 'other', 'not-one-of'],
  ['a later version', '/version', 2, 'not-one-of'],
  ['no day', '/asOf', undefined, 'missing-field'],
  ['slack over the limit', '/looms/0/settings/slackPercent', LIMITS.percent + 1, 'too-big'],
  ['a percentage of 5 decimals', '/looms/0/settings/slackPercent', 3.00001, 'not-valid'],
  [
    'a cutting step of nothing',
    '/club/settings',
    { cuttingStepMm: 0 },
    'too-small',
    '/club/settings/cuttingStepMm',
  ],
  [
    'labour of negative minutes',
    '/looms/0/settings/labourMinutes',
    [{ operation: 'crimping', minutes: -0.5 }],
    'too-small',
    '/looms/0/settings/labourMinutes/0/minutes',
  ],
  [
    'labour in thousandths of a minute',
    '/looms/0/settings/labourMinutes',
    [{ operation: 'crimping', minutes: 0.125 }],
    'not-valid',
    '/looms/0/settings/labourMinutes/0/minutes',
  ],
  [
    'an operation that there is not',
    '/looms/0/settings/labourMinutes',
    [{ operation: 'polishing', minutes: 1 }],
    'not-one-of',
    '/looms/0/settings/labourMinutes/0/operation',
  ],
  ['labour of negative minutes in short', '/looms/0/settings/labourMinutes', 'crimping -0.5', 'wrong-form'],
  ['labour of no number in short', '/looms/0/settings/labourMinutes', 'crimping', 'wrong-form'],
  ['an operation that there is not in short', '/looms/0/settings/labourMinutes', 'polishing 1', 'not-one-of'],
  ['a first loom that is quicker', '/looms/0/settings/firstLoomPercent', 99, 'too-small'],
  ['a solver without time', '/club/settings/solverSeconds', 0, 'too-small'],
];

describe.each([
  ['lengths', lengths],
  ['references', references],
  ['doubles', doubles],
  ['offers', offers],
  ['suppliers', suppliers],
  ['money', money],
  ['building or buying', buildOrBuy],
  ['looms', looms],
  ['the document', document],
] as const)('of %s', (_, rows) => {
  it.each(rows.map(asCase))('$bad is refused at $told', ({ at, value, code, told }) => {
    const faults = jobFaults(changed(fullJob(), at, value));
    expect(faults.map((fault) => [fault.at, fault.code])).toContainEqual([told, code]);
    for (const fault of faults) {
      expect(fault.severity).toBe('stop');
      expect(fault.where).not.toBe('');
      expect(fault.todo).toMatch(/\S.*[.!?]$/);
    }
  });
});

describe('one fault', () => {
  // Another's id or code taken away from where it was named is a second fault, rightly; so are breaks in the currency
  // that an offer no longer has.
  const twofold =
    /^a (point|branch|wire|covering|part|supplier|loom) (id|code) used twice|loom twice|in an unknown currency/;
  const alone = [...lengths, ...doubles, ...offers, ...suppliers, ...money, ...buildOrBuy].filter(
    ([bad]) => !twofold.test(bad),
  );
  it.each(alone.map(asCase))('($bad) is told once and brings no others', ({ at, value }) => {
    expect(jobFaults(changed(fullJob(), at, value))).toHaveLength(1);
  });
});

describe('several faults', () => {
  it('are told all at once, those of single values and those of reference together', () => {
    const bad = [
      ['/looms/0/wires/0/length/mm', -1],
      ['/looms/1/wires/0/to/point', 'nowhere'],
      ['/offers/0/packCount', 0],
      ['/offers/1/supplier', 'nobody'],
    ] as const;
    const document = bad.reduce<unknown>((job, [at, value]) => changed(job, at, value), fullJob());
    expect(
      jobFaults(document)
        .map((fault) => fault.at)
        .sort(),
    ).toEqual(bad.map(([at]) => at).sort());
  });

  it('more wires than the limit is one fault, at the list', () => {
    const [first] = fullJob().looms[0]?.wires ?? [];
    const wires = Array.from({ length: LIMITS.wires + 1 }, (_, index) => ({ ...first, id: `w${index}` }));
    const faults = jobFaults(changed(fullJob(), '/looms/0/wires', wires));
    expect(faults).toMatchObject([
      { at: '/looms/0/wires', code: 'too-big', limit: `at most ${LIMITS.wires}` },
    ]);
  });

  it('says what was found, the limit and the place in words', () => {
    expect(jobFaults(changed(fullJob(), '/looms/0/wires/2/from/point', 'attic'))).toMatchObject([
      { where: 'loom old, wire 3, from, point', found: '"attic"' },
    ]);
    expect(jobFaults(changed(fullJob(), '/request/looms/0/quantity', 0))).toMatchObject([
      { found: '0', limit: 'at least 1' },
    ]);
  });
});

describe('a request for a quote', () => {
  const faults = (request: unknown) => {
    const read = QuoteRequest.safeParse(request);
    return read.success ? [] : faultsOf(read.error, request).map((fault) => fault.at);
  };

  it('takes a loom once, with a quantity from 1', () => {
    const line = { loom: 'old', quantity: 1 };
    expect(faults({ looms: [line] })).toEqual([]);
    expect(faults({ looms: [line, line] })).toEqual(['/looms/1/loom']);
    expect(faults({ looms: [{ loom: 'old', quantity: 0 }] })).toEqual(['/looms/0/quantity']);
    expect(faults({ looms: [] })).toEqual(['/looms']);
    expect(faults({})).toEqual(['/looms']);
  });
});

describe('a document with faults of several kinds', () => {
  it('is told all of them at once: wrong types do not hide names that lead nowhere', () => {
    const job = changed(
      changed(fullJob(), '/parts/0/description', 7),
      '/looms/0/wires/0/from/point',
      'nowhere',
    );
    const read = readJob(job);
    const told = read.success ? [] : faultsOf(read.error, job).map(({ at, code }) => `${at} ${code}`);
    expect(told).toEqual(
      expect.arrayContaining([
        '/parts/0/description wrong-type',
        '/looms/0/wires/0/from/point missing-point',
      ]),
    );
  });

  it('is told its faults of shape alone where the lists themselves do not hold together', () => {
    for (const wires of [7, [null], [{ from: 3 }], [{ from: {}, to: { terminal: 'x' } }], [{ via: 'b' }]]) {
      const job = changed(fullJob(), '/looms/0/wires', wires);
      expect(readJob(job).success).toBe(false);
    }
  });
});

describe('a kit', () => {
  it('that contains itself is refused where it names itself', () => {
    const money = { amount: '1', currency: 'GBP' };
    const kit = {
      form: 'kit',
      code: 'box',
      supplier: 's',
      contents: [{ part: 'box', quantity: 1 }],
      packPrice: money,
    };
    const read = Offer.safeParse(kit);
    const told = read.success ? [] : faultsOf(read.error, kit).map(({ at, todo }) => `${at} ${todo}`);
    expect(told).toEqual(['/contents/0/part A kit cannot contain itself; name the parts that are in it.']);
  });
});
