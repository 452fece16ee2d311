import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { madeLooms } from '../../worker/engine/loom/madeLooms.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { Job } from '../../worker/engine/model/job.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import {
  bare,
  byTheMetre,
  consumable,
  crimped,
  jobOf,
  priced,
  supplier,
  terminal,
  unhurried,
  wire,
  wirePart,
} from './fixtures.ts';

type Line = JobInput['request']['looms'][number];
type LoomInput = JobInput['looms'][number];
type PointInput = NonNullable<LoomInput['points']>[number];

/** 1 m of wire always, 2 m more with RHD, 3 m with LHD, 5 m with overdrive. */
const front: Partial<LoomInput> = {
  options: ['overdrive', 'RHD | LHD'],
  points: [
    { id: 'A', kind: 'connector' },
    { id: 'B', kind: 'connector' },
  ],
  wires: [
    wire('both'),
    wire('left', { length: { mm: 3000, basis: 'route' }, options: ['LHD'] }),
    wire('od', { length: { mm: 5000, basis: 'route' }, options: ['overdrive'] }),
    wire('right', { length: { mm: 2000, basis: 'route' }, options: ['RHD'], to: crimped('B', 'ring') }),
  ],
  parts: [{ part: 'tie', quantity: 4, options: ['LHD'] }],
};
const exact = {
  slackPercent: 0,
  stripMm: 0,
  redoMm: 0,
  spareWirePercent: 0,
  spareWirePieces: 0,
  besideSeconds: 0,
};

const asked = (looms: Line[], loom: Partial<LoomInput> = front, more: Partial<JobInput> = {}) =>
  jobOf({
    club: { currency: 'GBP', settings: exact },
    parts: [consumable('tie'), terminal('ring'), wirePart('red')],
    suppliers: [supplier('shop')],
    offers: [byTheMetre('red-metre', 'shop', 'red', '1.00')],
    loom,
    request: { looms },
    ...more,
  });

const RIGHT: Line = { loom: 'l', quantity: 2, options: ['RHD'] };
const LEFT: Line = { loom: 'l', quantity: 3, options: ['overdrive', 'LHD'] };

function piecesOf({ requirements }: Pick<Result, 'requirements'>): string[] {
  return requirements.flatMap((requirement) =>
    requirement.kind === 'wire'
      ? requirement.pieces.map(({ loom, wire: id, count, cutMm }) => `${loom}/${id} ${count} × ${cutMm}`)
      : [],
  );
}

describe('two lines of one loom with different options', () => {
  test('stand in one quote, each with what stands with its options, as many as it asks for', async () => {
    const result = await priced(asked([RIGHT, LEFT]));
    expect(
      result.looms.map(({ loom, madeAs, quantity, options }) => [loom, madeAs, quantity, options]),
    ).toEqual([
      ['l', 'l (LHD, overdrive)', 3, ['LHD', 'overdrive']],
      ['l', 'l (RHD)', 2, ['RHD']],
    ]);
    expect(piecesOf(result)).toEqual([
      'l (LHD, overdrive)/both 3 × 1000',
      'l (LHD, overdrive)/left 3 × 3000',
      'l (LHD, overdrive)/od 3 × 5000',
      'l (RHD)/both 2 × 1000',
      'l (RHD)/right 2 × 2000',
    ]);
    const counts = result.requirements.flatMap((requirement) =>
      requirement.kind === 'count' ? [requirement.uses] : [],
    );
    expect(counts).toEqual([
      [expect.objectContaining({ loom: 'l (RHD)', each: 1, total: 2 })],
      [expect.objectContaining({ loom: 'l (LHD, overdrive)', each: 4, total: 12 })],
    ]);
  });

  test('are the same job in any order, and worked again the same bytes', async () => {
    const job = normaliseJob(asked([RIGHT, LEFT]));
    expect(normaliseJob(asked([LEFT, RIGHT]))).toEqual(job);
    expect(normaliseJob(job)).toEqual(job);
    expect(await priced(Job.parse(job))).toEqual(await priced(asked([LEFT, RIGHT])));
  });

  test('are needed together as the two are needed apart', async () => {
    const totals = async (...looms: Line[]) => {
      const { requirements } = await priced(asked(looms));
      return Object.fromEntries(
        requirements.map((requirement) => [
          requirement.id,
          requirement.kind === 'count' ? requirement.used : requirement.totalMm,
        ]),
      );
    };
    const [both, right, left] = [await totals(RIGHT, LEFT), await totals(RIGHT), await totals(LEFT)];
    const wires = (of: Record<string, number>) => of['wire:thin-wall:1mm2:red'] ?? 0;
    expect(wires(both)).toBe(2 * (1000 + 2000) + 3 * (1000 + 3000 + 5000));
    expect(wires(both)).toBe(wires(right) + wires(left));
    expect([both['part:ring'], both['part:tie']]).toEqual([right['part:ring'], left['part:tie']]);
  });

  test('merge where the options are the same, in whichever orders', async () => {
    const [one] = madeLooms(normaliseJob(asked([RIGHT, { ...RIGHT, quantity: 5, wave: 2 }])));
    expect([one?.loom.code, one?.lines.map(({ quantity }) => quantity)]).toEqual(['l', [2, 5]]);
    const result = await priced(asked([RIGHT, { ...RIGHT, wave: 2 }, { ...LEFT, wave: 2 }]));
    expect(piecesOf(result).filter((piece) => piece.includes('RHD'))).toEqual([
      'l (RHD)/both 4 × 1000',
      'l (RHD)/right 4 × 2000',
    ]);
    expect(result.orderLists.map(({ madeFor }) => madeFor)).toEqual([
      [
        { name: 'Test loom', quantity: 3, options: ['LHD', 'overdrive'] },
        { name: 'Test loom', quantity: 4, options: ['RHD'] },
      ],
    ]);
  });

  test('that are alike are told to be added up', () => {
    expect(() => asked([RIGHT, { ...RIGHT, options: ['RHD', 'RHD'] }])).toThrow('with its whole quantity');
  });

  test('have names of their own whatever the options are called', () => {
    const names = ['a', 'b', 'a, b', 'no options', 'a) (b', '"a"'];
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.subarray(names), { selector: (set) => [...set].sort().join('|') }),
        (sets) => {
          fc.pre(sets.length > 0);
          const made = madeLooms(
            normaliseJob(
              asked(
                sets.map((options) => ({ loom: 'l', quantity: 1, options })),
                { options: names, parts: [{ part: 'tie', quantity: 1 }] },
              ),
            ),
          );
          expect(new Set(made.map(({ loom }) => loom.code)).size).toBe(sets.length);
        },
      ),
    );
  });
});

describe('what is found in a loom of two sets of options', () => {
  const found = (looms: Line[], loom: Partial<LoomInput>) => {
    const job = normaliseJob(asked(looms, loom));
    return { job, findings: rollUp(job, unhurried).findings };
  };
  const lengthless = (findings: readonly Finding[]) =>
    findings.filter(({ code }) => code === 'wire-without-length');
  const { length: _none, ...unmeasured } = wire('odd');

  test('points into the job, where the loom stands once', () => {
    const { job, findings } = found([RIGHT, LEFT], {
      ...front,
      wires: [...(front.wires ?? []), { ...unmeasured, options: ['RHD'] }],
    });
    const [finding, ...more] = lengthless(findings);
    expect(more).toEqual([]);
    expect(finding?.where).toMatch(/^loom l \(RHD\), wire odd/);
    const [, loom, at] = /^\/looms\/(\d+)\/wires\/(\d+)/.exec(finding?.at ?? '') ?? [];
    expect(job.looms[Number(loom)]?.wires[Number(at)]?.id).toBe('odd');
  });

  test('alike with each is told once, of the loom', () => {
    const { findings } = found([RIGHT, LEFT], { ...front, wires: [...(front.wires ?? []), unmeasured] });
    expect(lengthless(findings).map(({ where }) => where)).toEqual(['loom l, wire odd']);
  });

  test('is accepted once for all, by the subject that it has with one', () => {
    const idle = { ...front, points: [...(front.points ?? []), { id: 'J', kind: 'joiner' as const }] };
    const accepted = [{ finding: 'joiner-unused', subject: 'point:J', note: 'as made' }];
    const { findings } = found([RIGHT, LEFT], { ...idle, asOriginal: accepted });
    expect(findings.filter(({ code }) => code === 'joiner-unused')).toMatchObject([{ accepted: 'as made' }]);
    const onlyRight = {
      ...front,
      points: [...(front.points ?? []), { id: 'J', kind: 'joiner' as const, options: ['RHD'] }],
      asOriginal: accepted,
    };
    expect(found([RIGHT, LEFT], onlyRight).findings.map(({ code }) => code)).not.toContain(
      'accepted-nothing',
    );
    expect(found([LEFT], onlyRight).findings.map(({ code }) => code)).toContain('accepted-nothing');
  });
});

describe('looms that meet', () => {
  const half = (id: string, more: Partial<PointInput> = {}): PointInput => ({
    id,
    kind: 'connector',
    ...more,
  });
  const ending = (id: string, point: string) =>
    wire(id, { from: { ...bare(point), way: '1' }, to: bare(`${point}-end`) });
  const loomOf = (code: string, point: Partial<PointInput>, options?: string[]): LoomInput => ({
    code,
    name: code,
    ...(options ? { options } : {}),
    points: [half('P', point), { id: 'P-end', kind: 'flyingLead' }],
    wires: [ending('W', 'P')],
    ...(options
      ? { parts: [{ part: 'tie', quantity: 1, options: [options[0]?.split(' | ')[0] ?? ''] }] }
      : {}),
  });
  const worked = (looms: LoomInput[], lines: Line[]) =>
    rollUp(normaliseJob(asked(lines, {}, { looms })), unhurried);
  const circuits = (looms: LoomInput[], lines: Line[]) =>
    worked(looms, lines)
      .circuits.all.map(({ wires }) => wires.map(({ asked: own }) => own.loom.code).join(' + '))
      .sort();
  const line = (loom: string, ...options: string[]): Line => ({ loom, quantity: 1, options });
  const choice = ['RHD | LHD'];
  const mated = { matedTo: { loom: 'rear', point: 'P' } };
  const brought = { suppliedByLoom: 'rear', part: 'tie' };

  test('are taken by the options that both have', () => {
    const looms = [loomOf('main', mated, choice), loomOf('rear', {}, choice)];
    const lines = [line('main', 'RHD'), line('main', 'LHD'), line('rear', 'LHD'), line('rear', 'RHD')];
    expect(circuits(looms, lines)).toEqual(['main (LHD) + rear (LHD)', 'main (RHD) + rear (RHD)']);
    expect(worked(looms, lines).findings.map(({ code }) => code)).not.toContain('other-loom-not-clear');
  });

  test('are not joined where it cannot be told which, and that is asked, once a pair of looms', () => {
    for (const [looms, lines] of [
      [
        [loomOf('main', mated, choice), loomOf('rear', {})],
        [line('main', 'RHD'), line('main', 'LHD'), line('rear')],
      ],
      [
        [loomOf('main', mated), loomOf('rear', {}, choice)],
        [line('main'), line('rear', 'LHD'), line('rear', 'RHD')],
      ],
    ] as const) {
      expect(circuits([...looms], [...lines])).toHaveLength(3);
      const { findings } = worked([...looms], [...lines]);
      expect(findings.filter(({ code }) => code === 'other-loom-not-clear')).toMatchObject([
        { severity: 'warning', subject: 'loom:rear', at: '/looms/0/points/0' },
      ]);
      expect(findings.map(({ code }) => code)).not.toContain('mate-not-quoted');
    }
  });

  test('whose part another brings that is made in two ways are satisfied where both bring it', () => {
    const codes = (rear: LoomInput) =>
      worked([loomOf('main', brought), rear], [line('main'), line('rear', 'LHD'), line('rear', 'RHD')])
        .findings.map(({ code }) => code)
        .filter((code) => code.startsWith('other-loom'));
    expect(codes(loomOf('rear', { part: 'tie' }, choice))).toEqual(['other-loom-not-clear']);
    expect(codes(loomOf('rear', { part: 'ring' }, choice))).toEqual([
      'other-loom-without-part',
      'other-loom-without-part',
      'other-loom-not-clear',
    ]);
  });

  test('are joined as ever where each is made in one way, whatever its options', () => {
    const looms = [loomOf('main', mated, choice), loomOf('rear', {}, choice)];
    expect(circuits(looms, [line('main', 'RHD'), line('rear', 'LHD')])).toEqual(['main + rear']);
  });
});
