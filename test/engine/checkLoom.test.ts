import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkLoom } from '../../worker/engine/checkLoom.ts';
import { inStored } from '../../worker/engine/job/asStored.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { Checks } from '../../worker/engine/model/checks.ts';
import { Cancelled } from '../../worker/engine/model/control.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bare, consumable, jobOf, points, terminal, unhurried, wire, wirePart } from './fixtures.ts';

type LoomInput = JobInput['looms'][number];

const check = (...of: Parameters<typeof jobOf>) => Checks.parse(checkLoom(jobOf(...of), unhurried));

function unmeasured(id: string, more: Parameters<typeof wire>[1] = {}) {
  const { length: _none, ...rest } = wire(id, more);
  return rest;
}

/** What an RFC 6901 pointer leads to; the documents here hold no stroke and no tilde in their keys. */
function at(document: unknown, pointer: string): unknown {
  return pointer
    .split('/')
    .slice(1)
    .reduce<unknown>((value, key) => (value as Record<string, unknown>)[key], document);
}

describe('the checks of a loom', () => {
  test('name it, its revision and the options asked for, and tell branches and circuits', () => {
    const job = jobOf({
      loom: {
        revision: 4,
        options: ['tow', 'RHD'],
        points: [...points('A', 'B', 'C'), { id: 'S', kind: 'stud' }],
        branches: [{ id: 'B1', from: 'A', to: 'B', lengthMm: 1000 }],
        wires: [
          wire('W1', { to: bare('S') }),
          wire('W2', { to: bare('S') }),
          wire('W3', { options: ['tow'] }),
          wire('W4', { options: ['RHD'] }),
        ],
      },
    });
    job.request.looms = [{ loom: 'l', quantity: 1, options: ['RHD'] }];
    const checks = Checks.parse(checkLoom(job, unhurried));
    expect(checks).toMatchObject({ loom: 'l', revision: 4, options: ['RHD'] });
    expect(checks.branches.map(({ branch }) => branch)).toEqual(['B1']);
    // What is stacked on one stud is one circuit; what stands only with another option is not there.
    expect(checks.circuits.map(({ wires }) => wires.map((member) => member.wire))).toEqual([
      ['W1', 'W2'],
      ['W4'],
    ]);
  });

  test('say the gravest first', () => {
    const { findings } = check({
      loom: {
        points: points('A', 'B'),
        wires: [
          wire('W1', { size: { system: 'imperialStrands', strands: 7, strandInch: 0.123 } }),
          unmeasured('W2'),
        ],
      },
    });
    const rank = { stop: 0, warning: 1, note: 2 };
    const ranks = findings.map(({ severity }) => rank[severity]);
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    expect(new Set(ranks).size).toBeGreaterThan(1);
  });

  test('come to an end where there is more to say than a call takes arguments', () => {
    const n = 20_000;
    const use = { part: 'tie' };
    const end = (point: string) => ({
      point,
      join: 'crimp' as const,
      terminal: use,
      seal: use,
      cover: use,
      label: { part: 'ring' },
    });
    const { findings } = checkLoom(
      jobOf({
        parts: [consumable('tie'), terminal('ring')],
        loom: {
          points: points('A', 'B'),
          wires: Array.from({ length: n }, (_, index) => wire(`W${index}`, { from: end('A'), to: end('B') })),
        },
      }),
      unhurried,
    );
    expect(findings.filter(({ code }) => code === 'kind-out-of-place')).toHaveLength(8 * n);
  });

  test('do not ask who sells what: a loom whose parts nobody offers has nothing of that against it', () => {
    const { findings } = check({
      parts: [wirePart('red'), consumable('tie')],
      loom: {
        points: points('A', 'B'),
        wires: [wire('W1')],
        parts: [{ part: 'tie', quantity: 3 }],
      },
    });
    expect(findings.filter(({ severity }) => severity === 'stop')).toEqual([]);
  });

  test('end where they are not wanted any more', () => {
    expect(() =>
      checkLoom(jobOf({ loom: { points: points('A', 'B'), wires: [wire('W1')] } }), {
        ...unhurried,
        cancelled: () => true,
      }),
    ).toThrow(Cancelled);
  });

  test('are of one loom: a request for two is refused', () => {
    const job = jobOf({
      looms: ['one', 'two'].map((code) => ({ code, name: code, parts: [{ part: 'tie', quantity: 1 }] })),
      parts: [consumable('tie')],
      request: { looms: ['one', 'two'].map((loom) => ({ loom, quantity: 1 })) },
    });
    expect(() => checkLoom(job, unhurried)).toThrow('one loom');
  });

  test('point at the wire in the order in which it was stored, whatever that is', () => {
    const wires = ['W1', 'W2', 'W10', 'W11', 'W100', 'w3'];
    fc.assert(
      fc.property(
        fc.shuffledSubarray(wires, { minLength: wires.length }),
        fc.subarray(wires, { minLength: 1 }),
        (order, without) => {
          const job = jobOf({
            loom: {
              points: points('A', 'B'),
              wires: order.map((id) => (without.includes(id) ? unmeasured(id) : wire(id))),
            },
          });
          const pointed = checkLoom(job, unhurried)
            .findings.filter(({ code }) => code === 'wire-without-length')
            .map((finding) => (at(job.looms[0], finding.at) as { id: string }).id);
          expect(pointed.sort()).toEqual([...without].sort());
        },
      ),
    );
  });
});

describe('a pointer into the normalised loom', () => {
  const loom: Partial<LoomInput> = {
    options: ['a', 'b'],
    points: points('Z', 'A', 'M'),
    wires: [wire('W2', { from: bare('Z'), to: bare('A') })],
    branches: [
      { id: 'y', from: 'Z', to: 'M', lengthMm: 10 },
      { id: 'x', from: 'M', to: 'A', lengthMm: 10 },
    ],
    fittings: [{ part: 'tie' }, { part: 'clip', branch: 'y' }, { part: 'clip', branch: 'x' }],
    parts: [
      { part: 'tie', quantity: 2, options: ['b', 'a'] },
      { part: 'tie', quantity: 1 },
      { part: 'clip', quantity: 1 },
      { part: 'clip', quantity: 1 },
    ],
  };

  test('leads to the same thing in the stored one, in every list; alike things to one each', () => {
    const given = jobOf({ parts: [consumable('tie'), consumable('clip')], loom });
    given.request.looms = [{ loom: 'l', quantity: 1, options: ['a', 'b'] }];
    const [stored] = given.looms;
    const [normalised] = normaliseJob(given).looms;
    if (!stored || !normalised) throw new Error('the job has one loom');
    const placed = inStored(normalised, stored);
    let lists = 0;
    for (const list of ['points', 'branches', 'wires', 'fittings', 'parts'] as const) {
      const led = normalised[list].map((item, index) => {
        const pointer = placed(`/looms/0/${list}/${index}`);
        const { options, ...rest } = at(stored, pointer) as { options?: string[] };
        // Options of a thing are a set.
        expect({ ...rest, ...(options ? { options: [...options].sort() } : {}) }).toEqual(item);
        return pointer;
      });
      expect(new Set(led).size).toBe(stored[list].length);
      lists += led.some((pointer, index) => !pointer.endsWith(`/${index}`)) ? 1 : 0;
    }
    expect(lists).toBeGreaterThanOrEqual(4);
    expect(placed('/looms/0/wires/0/from/point')).toBe('/wires/0/from/point');
    expect(placed('/looms/0/systemVoltage')).toBe('/systemVoltage');
    expect(placed('/looms/0')).toBe('');
  });

  test('is not mistaken where it leads elsewhere: to a part of the catalogue, or to the settings', () => {
    const [stored] = jobOf({ parts: [consumable('tie'), consumable('clip')], loom }).looms;
    if (!stored) throw new Error('the job has one loom');
    const placed = inStored(stored, stored);
    for (const pointer of ['/parts/0/boreMm', '/request/settings', '/fits/0', '/looms/01'])
      expect(placed(pointer)).toBe('');
  });
});
