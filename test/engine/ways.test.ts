import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import { waysOf } from '../../worker/engine/loom/graph/ways.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { jobOf, points, unhurried, wire } from './fixtures.ts';

type LoomInput = JobInput['looms'][number];
type WireInput = NonNullable<LoomInput['wires']>[number];

const branch = (id: string, from: string, to: string, lengthMm: number) => ({ id, from, to, lengthMm });
const NO_ALLOWANCES = { slackPercent: 0, redoMm: 0, stripMm: 0, tailMm: 0 };

describe('the ways along branches', () => {
  test('between two points are the shortest, as the table of all pairs has it (Floyd and Warshall)', () => {
    const names = ['A', 'B', 'C', 'D', 'E', 'F'];
    const edge = fc.record({
      from: fc.constantFrom(...names),
      to: fc.constantFrom(...names),
      lengthMm: fc.integer({ min: 0, max: 9 }),
    });
    fc.assert(
      fc.property(fc.array(edge, { maxLength: 12 }), (edges) => {
        const branches = edges.map((given, index) => ({ id: `b${index}`, ...given }));
        const far = (from: string, to: string) => (from === to ? 0 : Infinity);
        const table = new Map(names.map((from) => [from, new Map(names.map((to) => [to, far(from, to)]))]));
        const at = (from: string, to: string) => table.get(from)?.get(to) ?? Infinity;
        const shorten = (from: string, to: string, mm: number) =>
          table.get(from)?.set(to, Math.min(at(from, to), mm));
        for (const { from, to, lengthMm } of branches) {
          shorten(from, to, lengthMm);
          shorten(to, from, lengthMm);
        }
        for (const via of names)
          for (const from of names) for (const to of names) shorten(from, to, at(from, via) + at(via, to));
        const ways = waysOf({ branches });
        for (const from of names)
          for (const to of names) {
            const way = ways.shortest(from, to);
            expect(way?.lengthMm ?? Infinity).toBe(at(from, to));
            if (way && way.branches.length > 0) expect(ways.joins(way, from, to)).toBe(true);
          }
      }),
    );
  });

  test('make a loop as soon as some branch joins what is joined already', () => {
    const tree = [branch('a', 'A', 'B', 1), branch('b', 'B', 'C', 1)];
    expect(waysOf({ branches: tree }).loop).toBe(false);
    expect(waysOf({ branches: [...tree, branch('c', 'C', 'A', 1)] }).loop).toBe(true);
  });

  test('as stated go on from branch to branch, whichever way round each was drawn', () => {
    const ways = waysOf({
      branches: [branch('a', 'B', 'A', 1), branch('b', 'B', 'C', 2), branch('c', 'D', 'E', 4)],
    });
    expect(ways.along(['a', 'b'])?.lengthMm).toBe(3);
    expect(ways.along(['a', 'c'])).toBeUndefined();
    expect(ways.along(['a', 'none'])).toBeUndefined();
  });
});

describe('a wire in a loom with branches', () => {
  const bare = (given: Partial<WireInput>) => {
    const { length: _stated, ...rest } = wire('1', given);
    return { ...rest, ...(given.length ? { length: given.length } : {}) };
  };
  const rolled = (wires: WireInput[], more: Partial<LoomInput> = {}) =>
    rollUp(
      normaliseJob(
        jobOf({
          loom: {
            settings: NO_ALLOWANCES,
            points: points('A', 'M', 'B'),
            branches: [branch('trunk', 'A', 'M', 2600), branch('leg', 'M', 'B', 450)],
            wires,
            ...more,
          },
        }),
      ),
      unhurried,
    );
  const cutOf = ({ requirements }: ReturnType<typeof rolled>) =>
    requirements.flatMap((requirement) => (requirement.kind === 'wire' ? requirement.pieces : []))[0];

  test('is as long as its way, which stands as a step', () => {
    const cut = cutOf(rolled([bare({})]));
    expect(cut).toMatchObject({
      cutMm: 3050,
      steps: [{ rule: 'way', text: 'trunk 2600 + leg 450 = 3050 mm' }, {}],
    });
    expect(cut?.steps[1]?.text).toContain('3050 route');
  });

  test('of a flat loom with that length comes out the same', () => {
    const flat = jobOf({
      loom: {
        settings: NO_ALLOWANCES,
        points: points('A', 'B'),
        wires: [wire('1', { length: { mm: 3050, basis: 'route' } })],
      },
    });
    expect(cutOf(rollUp(normaliseJob(flat), unhurried))?.cutMm).toBe(cutOf(rolled([bare({})]))?.cutMm);
  });

  test('takes the shortest way in a loop, and says so; a stated way is taken as stated', () => {
    const loop = {
      branches: [
        branch('trunk', 'A', 'M', 2600),
        branch('leg', 'M', 'B', 450),
        branch('short', 'A', 'B', 900),
      ],
    };
    expect(cutOf(rolled([bare({})], loop))).toMatchObject({
      cutMm: 900,
      steps: [{ text: 'short 900 mm, the shortest way' }, {}],
    });
    expect(cutOf(rolled([bare({ via: ['trunk', 'leg'] })], loop))?.cutMm).toBe(3050);
  });

  test('whose stated way does not join its ends is told; its stated length holds where there is one', () => {
    const none = rolled([bare({ via: ['trunk'] })]);
    expect(none.findings).toMatchObject([
      { code: 'way-broken', severity: 'stop', at: '/looms/0/wires/0/via' },
    ]);
    expect(cutOf(none)).toBeUndefined();
    const stated = rolled([bare({ via: ['leg', 'leg'], length: { mm: 3000, basis: 'route' } })]);
    expect(stated.findings).toMatchObject([{ code: 'way-broken', severity: 'warning' }]);
    expect(cutOf(stated)?.cutMm).toBe(3000);
  });

  test('keeps what was measured where it is near its way, and takes the longer of the two where it is not', () => {
    const lengths = (mm: number, plusMinusMm?: number) =>
      rolled(
        [bare({ length: { mm, basis: 'route', ...(plusMinusMm === undefined ? {} : { plusMinusMm }) } })],
        {
          settings: { ...NO_ALLOWANCES, slackPercent: 2 },
        },
      );
    // 2 % of 3050 is 61.
    expect([lengths(3111).findings, cutOf(lengths(3111))?.cutMm]).toEqual([[], 3174]);
    expect([lengths(2989).findings, cutOf(lengths(2989))?.cutMm]).toEqual([[], 3049]);
    const short = lengths(2988);
    expect(short.findings).toMatchObject([
      { code: 'length-differs-from-way', at: '/looms/0/wires/0/length' },
    ]);
    expect(cutOf(short)?.cutMm).toBe(3111);
    expect(lengths(3112).findings).toMatchObject([{ code: 'length-differs-from-way' }]);
    expect(cutOf(lengths(3112))?.cutMm).toBe(3175);
    expect(lengths(2988, 1).findings).toEqual([]);
  });

  test('measured tip to tip is held against its way with its tails and strips', () => {
    const end = (point: string) => ({ point, join: 'crimp' as const, stripMm: 6, tailMm: 20 });
    const near = rolled([bare({ from: end('A'), to: end('B'), length: { mm: 3102, basis: 'tipToTip' } })]);
    expect(near.findings.filter(({ code }) => code === 'length-differs-from-way')).toEqual([]);
    expect(cutOf(near)?.cutMm).toBe(3102);
  });
});

test('a covering over branches is as long as they are, and a cable follows its cores', () => {
  const job = jobOf({
    parts: [
      { kind: 'sleeve', code: 'braid', description: 'Braid', sleeveType: 'braided' },
      {
        kind: 'cable',
        code: 'twin',
        description: 'Twin',
        cableType: 'pvc',
        cores: [{ size: { system: 'mm2', areaMm2: 1 }, colour: { base: 'red' } }],
      },
    ],
    loom: {
      settings: NO_ALLOWANCES,
      points: points('A', 'M', 'B'),
      branches: [branch('trunk', 'A', 'M', 2600), branch('leg', 'M', 'B', 450)],
      cables: [{ id: 'K', part: 'twin' }],
      wires: [wire('1', { inCable: 'K' })],
      coverings: [{ id: 'C', kind: 'braided', part: 'braid', over: ['trunk', 'leg'], overlapEndMm: 20 }],
    },
  });
  const { requirements, findings } = rollUp(normaliseJob(job), unhurried);
  expect(
    requirements.map((requirement) => [
      requirement.id,
      requirement.kind === 'count' ? 0 : requirement.totalMm,
    ]),
  ).toEqual([
    // The braid shortens by 10 % as it opens, and 5 mm are trimmed hot at either end: 3070 + 307 + 10.
    ['part:braid', 3387],
    ['part:twin', 3050],
  ]);
  expect(findings).toEqual([]);
});

test('a way out along a branch and back joins a point with itself, whichever end of the branch is stated first', () => {
  for (const branch of [
    { id: 'b', from: 'A', to: 'B', lengthMm: 300 },
    { id: 'b', from: 'B', to: 'A', lengthMm: 300 },
  ]) {
    const ways = waysOf({ branches: [branch] });
    const way = ways.along(['b', 'b']);
    expect(way?.lengthMm).toBe(600);
    expect(way && ways.joins(way, 'A', 'A')).toBe(true);
    expect(way && ways.joins(way, 'B', 'B')).toBe(true);
    expect(way && ways.joins(way, 'A', 'B')).toBe(false);
  }
});
