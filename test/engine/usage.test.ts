import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { schemaTree } from '../../worker/engine/job/schemaTree.ts';
import { coverage, notYetUsed } from '../../worker/engine/job/usage.ts';
import { USAGE } from '../../worker/engine/job/usageTable.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { arbitraryOf } from './arbitraryOfSchema.ts';
import { jobOf, pack, points, supplier, wire, consumable } from './fixtures.ts';

describe('the table of what is used', () => {
  test('says of every field of a job once whether it is used, kept, or not yet used', () => {
    expect(coverage().filter(({ entries }) => entries.length !== 1)).toEqual([]);
  });

  test('sees as many fields as the schema has', () => {
    // Counted here straight from the JSON Schema, which zod writes itself.
    const count = (node: unknown): number => {
      const { properties, items, anyOf, oneOf, $ref } = node as Record<string, unknown>;
      if (typeof $ref === 'string') return count(defs[$ref.split('/').at(-1) ?? '']);
      if (properties) return Object.values(properties).reduce((sum: number, inner) => sum + count(inner), 0);
      if (items) return count(items);
      const choices = (oneOf ?? anyOf) as unknown[] | undefined;
      return choices ? choices.reduce((sum: number, inner) => sum + count(inner), 0) : 1;
    };
    const whole = z.toJSONSchema(Job, { io: 'input' });
    const defs: Record<string, unknown> = { ...whole.$defs };
    expect(coverage()).toHaveLength(count(whole));
  });

  test('holds no entry that names nothing, and none twice', () => {
    const naming = new Set(coverage().flatMap(({ entries }) => entries));
    const paths = USAGE.map(([path]) => path);
    expect(paths.filter((path) => !naming.has(path))).toEqual([]);
    expect(new Set(paths).size).toBe(paths.length);
  });

  test('cannot be passed by with a shape that it does not know', () => {
    expect(() => schemaTree(z.strictObject({ when: z.date() }))).toThrow('date');
    expect(() => schemaTree(z.strictObject({ any: z.record(z.string(), z.string()) }))).toThrow('record');
  });
});

describe('what is not yet used', () => {
  test('is listed by field, with how often it is stated and where first', () => {
    const job = jobOf({
      loom: {
        points: points('A', 'B'),
        branches: [{ id: 'b', from: 'A', to: 'B', lengthMm: 1 }],
        wires: [wire('1'), wire('2', { amps: 5, via: ['b'] })],
      },
      suppliers: [supplier('s')],
      parts: ['g', 'h', 'i'].map((code, index) => ({
        kind: 'fitting',
        code,
        description: 'Grommet',
        fittingType: 'grommet',
        ...(index > 0 ? { panelHoleMm: 20 } : {}),
      })),
    });
    expect(notYetUsed(job)).toEqual([
      { field: 'parts[kind=fitting].panelHoleMm', count: 2, first: '/parts/1/panelHoleMm' },
    ]);
  });

  test('is not listed where it says what would hold anyway', () => {
    const job = jobOf({
      suppliers: [supplier('s')],
      parts: [consumable('tie')],
      offers: [pack('o', 's', 'tie', 1, '1', { stepPacks: 1, condition: 'new', breaks: [] })],
      loom: {
        systemVoltage: 12,
        look: 'original',
        points: points('A', 'B'),
        wires: [wire('1', { colourRule: 'exact' })],
      },
    });
    expect(notYetUsed(job)).toEqual([]);
  });

  test('is listed where it says otherwise', () => {
    const job = jobOf({
      suppliers: [supplier('s')],
      parts: [consumable('tie')],
      offers: [pack('o', 's', 'tie', 1, '1')],
      loom: {
        look: 'period',
        points: points('A', 'B'),
        parts: [{ part: 'tie', quantity: 1 }],
        settings: { stopsBlock: true },
      },
    });
    expect(notYetUsed(job).map(({ field }) => field)).toEqual([
      'looms[].look',
      'looms[].settings.stopsBlock',
    ]);
  });

  /** The entries of a list, or the one value, that a path of the table leads to; written anew for the test. */
  function at(value: unknown, path: string): unknown[] {
    const [, name = '', list, by, shape, rest] =
      /^([a-zA-Z0-9]+)(\[(?:([a-zA-Z]+)=([a-zA-Z]+))?\])?\.?(.*)$/.exec(path) ?? [];
    const inner = (value as Record<string, unknown>)[name];
    if (inner === undefined) return [];
    const items: unknown[] = list !== undefined && Array.isArray(inner) ? inner : [inner];
    return items
      .filter((item) => by === undefined || (item as Record<string, unknown>)[by] === shape)
      .flatMap((item) => (rest ? at(item, rest) : [item]));
  }

  const DEFAULTS: Record<string, unknown> = {
    'looms[].systemVoltage': 12,
    'looms[].earth': 'negative',
    'looms[].look': 'original',
    'looms[].colourSystem': 'words',
    'looms[].wires[].colourRule': 'exact',
    'offers[form=pack].condition': 'new',
    'offers[form=metre].condition': 'new',
    'offers[form=pack].stepPacks': 1,
  };

  test('is listed whole, and nothing else is, for any job', () => {
    fc.assert(
      fc.property(arbitraryOf(Job), (value) => {
        const job = value as Job;
        const expected = USAGE.flatMap(([path, usage]) => {
          if (usage !== 'notYet') return [];
          const stated = at(job, path).filter(
            (item) => item !== DEFAULTS[path] && !(Array.isArray(item) && item.length === 0),
          );
          return stated.length === 0 ? [] : [`${path} ${stated.length}`];
        });
        expect(notYetUsed(job).map(({ field, count }) => `${field} ${count}`)).toEqual(expected.sort());
      }),
      { numRuns: 150 },
    );
  });
});
