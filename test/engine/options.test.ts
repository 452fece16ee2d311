import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { LoomRevision } from '../../worker/engine/model/loom.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { bare, consumable, crimped, jobOf, priced, terminal, wire } from './fixtures.ts';

const loom = {
  options: ['RHD', 'overdrive'],
  points: [
    { id: 'A', kind: 'connector' as const },
    { id: 'B', kind: 'connector' as const },
    { id: 'C', kind: 'connector' as const, options: ['overdrive'] },
  ],
  wires: [
    wire('1'),
    wire('2', { to: bare('C'), options: ['overdrive'] }),
    wire('3', { to: crimped('C', 'ring'), options: ['RHD', 'overdrive'] }),
  ],
  parts: [{ part: 'tie', quantity: 3, options: ['RHD'] }],
};
const parts = [consumable('tie'), terminal('ring')];
const ask = (options?: string[]) =>
  jobOf({ parts, loom, request: { looms: [{ loom: 'l', quantity: 1, ...(options ? { options } : {}) }] } });
const there = async (options?: string[]) => {
  const { requirements, looms } = await priced(ask(options));
  const wires = requirements.flatMap((requirement) =>
    requirement.kind === 'wire' ? requirement.pieces.map((piece) => piece.wire) : [],
  );
  return {
    wires,
    parts: requirements.flatMap((requirement) => (requirement.kind === 'count' ? [requirement.part] : [])),
    options: looms[0]?.options,
  };
};

describe('options', () => {
  test('that are not chosen leave out what stands only with them', async () => {
    expect(await there()).toEqual({ wires: ['1'], parts: [], options: [] });
    expect(await there(['RHD'])).toEqual({ wires: ['1'], parts: ['tie'], options: ['RHD'] });
  });

  test('bring what stands with all of them', async () => {
    expect((await there(['overdrive'])).wires).toEqual(['1', '2']);
    expect(await there(['RHD', 'overdrive'])).toEqual({
      wires: ['1', '2', '3'],
      parts: ['ring', 'tie'],
      options: ['RHD', 'overdrive'],
    });
  });

  test('in any order and twice over are the same job', () => {
    expect(normaliseJob(ask(['overdrive', 'RHD', 'RHD']))).toEqual(normaliseJob(ask(['RHD', 'overdrive'])));
  });

  test('that are none, or stand twice at a thing, are the same job as if they were left out', () => {
    expect(normaliseJob(ask([]))).toEqual(normaliseJob(ask()));
    const job = ask(['RHD']);
    const [first] = job.looms;
    if (!first) throw new Error('no loom');
    const clumsy = {
      ...first,
      wires: first.wires.map((each) => ({
        ...each,
        options: [...(each.options ?? []), ...(each.options ?? [])],
      })),
      parts: first.parts.map((each) => ({ ...each, options: ['RHD', 'RHD'] })),
    };
    expect(canonicalJson(normaliseJob({ ...job, looms: [clumsy] }))).toBe(canonicalJson(normaliseJob(job)));
  });

  test('that the loom does not have are refused where they are asked and where they are stated', () => {
    const asked = Job.safeParse({
      ...ask(),
      request: { looms: [{ loom: 'l', quantity: 1, options: ['sunroof'] }] },
    });
    expect(asked.success ? [] : faultsOf(asked.error, undefined)).toMatchObject([
      {
        code: 'unknown-option',
        at: '/request/looms/0/options/0',
        todo: 'The loom l has the options RHD, overdrive.',
      },
    ]);
    const stated = LoomRevision.safeParse({
      name: 'n',
      ...loom,
      parts: [{ part: 'tie', quantity: 1, options: ['sunroof'] }],
    });
    expect(stated.success ? [] : faultsOf(stated.error, undefined)).toMatchObject([
      { code: 'unknown-option', at: '/parts/0/options/0' },
    ]);
  });

  test('of what is named must be options of what names it, so that nothing is left hanging', () => {
    const hanging = LoomRevision.safeParse({
      name: 'n',
      ...loom,
      wires: [wire('1', { to: bare('C'), options: ['RHD'] })],
    });
    expect(hanging.success ? [] : faultsOf(hanging.error, undefined)).toMatchObject([
      {
        code: 'absent-with-options',
        at: '/wires/0/to/point',
        todo: 'Point C is in the loom only with overdrive; give this the same options, or name something that is always in the loom.',
      },
    ]);
  });
});
