import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import {
  housingOf,
  sealOf,
  terminalOf,
  wireOf,
  type EndInput,
  type PartInput,
} from '../engine/checks/told.ts';
import { bought, byTheMetre, jobOf, pack, priced, supplier, wire, wirePart } from '../engine/fixtures.ts';

type LoomInput = JobInput['looms'][number];
type WireInput = NonNullable<LoomInput['wires']>[number];

const instead = (part: string) => ({ standsInFor: [{ part, confirmedBy: 'R. Alder' }] });

/** Wires from A to a flying lead, each ending at A as given; the stand-in "new" is always the cheaper. */
function job(
  parts: PartInput[],
  ends: Partial<EndInput>[],
  more: {
    point?: object;
    wire?: Partial<WireInput>;
    loom?: Partial<LoomInput>;
    offers?: JobInput['offers'];
  } = {},
) {
  return jobOf({
    parts,
    suppliers: [supplier('s')],
    offers: more.offers ?? [pack('dear', 's', 'old', 1, '3'), pack('cheap', 's', 'new', 1, '1')],
    loom: {
      settings: { sparePercent: 0, spareMinimum: 0, spareConfidencePercent: 0 },
      points: [
        { id: 'A', kind: 'connector', ...more.point },
        { id: 'Z', kind: 'flyingLead' },
      ],
      wires: ends.map((from, index) =>
        wire(`W${index + 1}`, {
          supply: 'reuse',
          circuit: 'one',
          ...more.wire,
          from: { point: 'A', join: 'crimp', ...from },
          to: { point: 'Z', join: 'bare' },
        }),
      ),
      ...more.loom,
    },
  });
}

const unfit = ({ findings }: Result) => findings.filter(({ code }) => code === 'stand-in-does-not-fit');
const inOld: Partial<EndInput> = { terminal: { part: 'old' } };
const old = terminalOf('old', { wireMinMm2: 0.5, wireMaxMm2: 2 });
const terminal = (figures: object) => terminalOf('new', { ...figures, ...instead('old') });
/** A cover that is stated at each end, over a terminal of its own. */
const covering: Partial<EndInput> = { terminal: { part: 'pin', supply: 'reuse' }, cover: { part: 'old' } };
const pin = terminalOf('pin');
const sealed: Partial<EndInput> = { terminal: { part: 'pin', supply: 'reuse' }, seal: { part: 'old' } };

/** Three wires in a housing in whose place one of so many ways would stand. */
const ways = (count: number) =>
  job(
    [housingOf('old'), pin, housingOf('new', { ways: count, ...instead('old') })],
    ['1', '2', '3'].map((way) => ({ way, terminal: { part: 'pin', supply: 'reuse' } })),
    { point: { part: 'old' } },
  );

/** What is named, what would stand in for it, where, and the figure that forbids it; the same with a figure that does. */
const KINDS: [what: string, fails: ReturnType<typeof job>, limit: string, passes: ReturnType<typeof job>][] =
  [
    [
      'a terminal by its wire range',
      job([old, terminal({ wireMinMm2: 1.5, wireMaxMm2: 2.5 })], [inOld]),
      '1.5 to 2.5 mm²',
      job([old, terminal({ wireMinMm2: 1, wireMaxMm2: 2.5 })], [inOld]),
    ],
    [
      'a terminal by its grip on the insulation',
      job([old, wireOf(2), terminal({ insulationMaxMm: 1.9 })], [inOld]),
      'at most 1.9 mm',
      job([old, wireOf(2), terminal({ insulationMaxMm: 2 })], [inOld]),
    ],
    [
      'a terminal by its amps',
      job([old, terminal({ ratedAmps: 9 })], [inOld], { wire: { amps: 10 } }),
      'at most 9 A',
      job([old, terminal({ ratedAmps: 10 })], [inOld], { wire: { amps: 10 } }),
    ],
    [
      'a terminal by its gender',
      job([old, housingOf('h', { contactGender: 'female' }), terminal({ gender: 'male' })], [inOld], {
        point: { part: 'h', supply: 'reuse' },
      }),
      'female contacts, as h (Housing h) holds',
      job([old, housingOf('h', { contactGender: 'female' }), terminal({ gender: 'female' })], [inOld], {
        point: { part: 'h', supply: 'reuse' },
      }),
    ],
    [
      'a terminal by the join that it is made for',
      job([old, terminal({ join: 'solder' })], [inOld]),
      'solder',
      job([old, terminal({ join: 'either' })], [inOld]),
    ],
    ['a housing by its ways', ways(2), '2 ways', ways(3)],
    [
      'a seal by its range',
      job(
        [pin, sealOf('old'), wireOf(2), sealOf('new', { insulationMaxMm: 1.9, ...instead('old') })],
        [sealed],
      ),
      'at most 1.9 mm',
      job(
        [pin, sealOf('old'), wireOf(2), sealOf('new', { insulationMaxMm: 2, ...instead('old') })],
        [sealed],
      ),
    ],
    [
      'a boot by its bore',
      job(
        [
          pin,
          { kind: 'boot', code: 'old', description: 'Old' },
          wireOf(2),
          { kind: 'boot', code: 'new', description: 'New', boreMm: 1.9, ...instead('old') },
        ],
        [covering],
      ),
      'a bore of at least 2 mm',
      job(
        [
          pin,
          { kind: 'boot', code: 'old', description: 'Old' },
          wireOf(2),
          { kind: 'boot', code: 'new', description: 'New', boreMm: 2, ...instead('old') },
        ],
        [covering],
      ),
    ],
  ];

describe('what would stand in is held to the figures of each place', () => {
  test.each(KINDS)('%s: what fails is not bought, and the figure is named', async (_what, fails, limit) => {
    const result = await priced(fails);
    expect(Object.keys(bought(result))).toEqual(['dear']);
    expect(unfit(result)).toMatchObject([{ severity: 'note', where: 'new in place of old', limit }]);
  });

  test.each(KINDS)('%s: what just passes is bought', async (_what, _fails, _limit, passes) => {
    const result = await priced(passes);
    expect(Object.keys(bought(result))).toEqual(['cheap']);
    expect(unfit(result)).toEqual([]);
  });

  test('at all its places: what fits at one and not at the other is not bought at all', async () => {
    const other = { ...wirePart('thick'), size: { system: 'mm2', areaMm2: 2 } } as PartInput;
    const two = job([old, other, terminal({ wireMaxMm2: 1.5 })], [inOld, inOld]);
    const [, second] = two.looms[0]?.wires ?? [];
    if (second) second.size = { system: 'mm2', areaMm2: 2 };
    const result = await priced(two);
    expect(bought(result)).toEqual({ dear: 2 });
    expect(unfit(result)).toMatchObject([
      { found: 'loom l, wire W2, from, terminal: 2 mm², in new (Terminal new)' },
    ]);
  });

  test('not at those where the named part is reused', async () => {
    const reused: Partial<EndInput> = { terminal: { part: 'old', supply: 'reuse' } };
    const two = job([old, terminal({ wireMaxMm2: 1.5 })], [inOld, reused]);
    const [, second] = two.looms[0]?.wires ?? [];
    if (second) second.size = { system: 'mm2', areaMm2: 2 };
    expect(bought(await priced(two))).toEqual({ cheap: 1 });
  });

  test('where no figure is stated, nothing is held against it', async () => {
    expect(bought(await priced(job([old, terminal({})], [inOld])))).toEqual({ cheap: 1 });
  });

  test('it must pass itself, though the named part does not either', async () => {
    const result = await priced(
      job([terminalOf('old', { wireMinMm2: 1.5 }), terminal({ wireMinMm2: 1.2 })], [inOld]),
    );
    expect(bought(result)).toEqual({ dear: 1 });
    expect(unfit(result)).toHaveLength(1);
  });

  test('what the loom accepts of the named part, it accepts of it', async () => {
    const asOriginal = [{ finding: 'terminal-range', subject: 'wire:W1:from', note: 'As it was made.' }];
    const result = await priced(
      job([terminalOf('old', { wireMinMm2: 1.5 }), terminal({ wireMinMm2: 1.2 })], [inOld], {
        loom: { asOriginal },
      }),
    );
    expect(bought(result)).toEqual({ cheap: 1 });
  });

  test('what is wrong with the loom and not with it, it is not held to', async () => {
    const pins = { pins: ['a'] };
    const result = await priced(job([old, terminal({})], [{ ...inOld, way: 'b' }], { point: pins }));
    expect(result.findings.map(({ code }) => code)).toContain('way-unknown');
    expect(bought(result)).toEqual({ cheap: 1 });
  });

  test('where nothing else is sold, the need goes unsourced', async () => {
    const result = await priced(
      job([old, terminal({ wireMinMm2: 1.5 })], [inOld], { offers: [pack('cheap', 's', 'new', 1, '1')] }),
    );
    expect(bought(result)).toEqual({});
    expect(result.unsourced).toMatchObject([{ requirement: 'part:old' }]);
  });
});

describe('a sleeve that would stand in', () => {
  const sleeve = (code: string, boreMm: number, more: object = {}): PartInput => ({
    kind: 'sleeve',
    code,
    description: code,
    sleeveType: 'pvc',
    boreMm,
    ...more,
  });
  const covered = (boreMm: number, part: string | undefined) =>
    job([wireOf(2), sleeve('old', 3), sleeve('new', boreMm, instead('old'))], [{ join: 'bare' }], {
      offers: [byTheMetre('dear', 's', 'old', '3'), byTheMetre('cheap', 's', 'new', '1')],
      loom: {
        branches: [{ id: 'b', from: 'A', to: 'Z', lengthMm: 500 }],
        coverings: [{ id: 'C', kind: 'pvc', over: ['b'], ...(part === undefined ? {} : { part }) }],
      },
    });

  test('is held to its bore over the bundle', async () => {
    const result = await priced(covered(2.1, 'old'));
    expect(Object.keys(bought(result))).toEqual(['dear']);
    expect(unfit(result)[0]).toMatchObject({
      where: 'new in place of old',
      found: expect.stringContaining('a bore of 2.1 mm over 2 mm') as string,
    });
    expect(Object.keys(bought(await priced(covered(2.4, 'old'))))).toEqual(['cheap']);
  });

  test('of which the named one was chosen out of the catalogue, too', async () => {
    // The smaller one is too narrow, so that the old one is chosen; and it is not bought in its place.
    const result = await priced(covered(2.1, undefined));
    expect(Object.keys(bought(result))).toEqual(['dear']);
    expect(unfit(result)).toHaveLength(1);
  });
});

describe('a wire that would stand in', () => {
  const thick = (areaMm2: number): PartInput =>
    ({ ...wirePart('new'), size: { system: 'mm2', areaMm2 }, ...instead('red') }) as PartInput;
  const wired = (areaMm2: number, more: object = {}) =>
    job(
      [wirePart('red'), thick(areaMm2), terminalOf('pin', { wireMaxMm2: 2 })],
      [{ terminal: { part: 'pin', supply: 'reuse' } }],
      {
        wire: { supply: 'buy', ...more },
        offers: [byTheMetre('dear', 's', 'red', '3'), byTheMetre('cheap', 's', 'new', '1')],
      },
    );

  test('is held to the terminals at its ends', async () => {
    const result = await priced(wired(3));
    expect(Object.keys(bought(result))).toEqual(['dear']);
    expect(unfit(result)).toMatchObject([{ where: 'new in place of red', limit: 'at most 2 mm²' }]);
    expect(Object.keys(bought(await priced(wired(2))))).toEqual(['cheap']);
  });

  test('is held to the amps that it carries', async () => {
    const thin: PartInput = { ...thick(0.5), ratedAmps: 5 } as PartInput;
    const at = (amps: number) =>
      job([wirePart('red'), thin], [{ join: 'bare' }], {
        wire: { supply: 'buy', amps },
        offers: [byTheMetre('dear', 's', 'red', '3'), byTheMetre('cheap', 's', 'new', '1')],
      });
    const result = await priced(at(5.5));
    expect(Object.keys(bought(result))).toEqual(['dear']);
    expect(unfit(result)).toMatchObject([{ limit: 'at most 5 A' }]);
    expect(Object.keys(bought(await priced(at(5))))).toEqual(['cheap']);
  });
});

describe('what would stand in beside another stand-in', () => {
  // Each goes with the part that the loom names; the two do not go with each other.
  const parts = [
    housingOf('house'),
    housingOf('house-new', { contactGender: 'male', ...instead('house') }),
    terminalOf('pin'),
    terminalOf('pin-new', { gender: 'female', ...instead('pin') }),
  ];
  const pair = job(parts, [{ terminal: { part: 'pin' } }], {
    point: { part: 'house' },
    offers: [
      pack('h', 's', 'house', 1, '3'),
      pack('hn', 's', 'house-new', 1, '1'),
      pack('p', 's', 'pin', 1, '3'),
      pack('pn', 's', 'pin-new', 1, '1'),
    ],
  });

  test('is bought only where the two go together', async () => {
    const result = await priced(pair);
    expect(bought(result)).toEqual({ hn: 1, p: 1 });
    expect(unfit(result)).toMatchObject([
      {
        where: 'pin-new in place of pin, together with house-new in place of house',
        limit: expect.stringContaining('male contacts') as string,
      },
    ]);
  });
});

describe('a family that would stand in', () => {
  const member = (code: string, figures: object): PartInput =>
    terminalOf(code, { family: code.split('-')[0], ...figures });
  const family = (most: number) =>
    job(
      [
        housingOf('a-house', { family: 'a' }),
        member('a-pin', {}),
        housingOf('b-house', { family: 'b', ...instead('a-house') }),
        member('b-pin', { wireMaxMm2: most, ...instead('a-pin') }),
      ],
      [{ terminal: { part: 'a-pin' } }],
      {
        point: { part: 'a-house' },
        offers: [
          pack('ah', 's', 'a-house', 1, '3'),
          pack('ap', 's', 'a-pin', 1, '3'),
          pack('bh', 's', 'b-house', 1, '1'),
          pack('bp', 's', 'b-pin', 1, '1'),
        ],
      },
    );

  test('is not bought where one of its members fails, whole as it is', async () => {
    const result = await priced(family(0.75));
    expect(bought(result)).toEqual({ ah: 1, ap: 1 });
    expect(unfit(result)).toMatchObject([{ where: 'family b in place of a', limit: 'at most 0.75 mm²' }]);
  });

  test('is bought where all pass: its pin in its own housing is not foreign there', async () => {
    const result = await priced(family(1));
    expect(bought(result)).toEqual({ bh: 1, bp: 1 });
    expect(unfit(result)).toEqual([]);
  });
});
