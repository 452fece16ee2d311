import { expect, test } from 'vitest';
import { jobOf, wire } from '../fixtures.ts';
import { foundIn, joinerOf, told, terminalOf, type EndInput, type WireInput } from './told.ts';

const bullet = (sizeMm?: number) =>
  terminalOf('b', { terminalType: 'bullet', ...(sizeMm === undefined ? {} : { sizeMm }) });
const end = (more: Partial<EndInput> = {}): EndInput => ({
  point: 'J',
  join: 'crimp',
  terminal: { part: 'b' },
  ...more,
});
const wires = (ends: EndInput[], first = 1): WireInput[] =>
  ends.map((from, index) =>
    wire(`W${first + index}`, { from, to: { point: 'Z', way: `${first + index}`, join: 'bare' } }),
  );
const lead = { id: 'Z', kind: 'flyingLead' as const };
const joined = (ends: EndInput[], positions = 2, bulletMm?: number, joinerMm?: number) =>
  jobOf({
    parts: [
      bullet(bulletMm),
      joinerOf('j', { positions, ...(joinerMm === undefined ? {} : { sizeMm: joinerMm }) }),
    ],
    loom: { points: [{ id: 'J', kind: 'joiner', part: 'j' }, lead], wires: wires(ends) },
  });

test('more ends than a joiner has positions are stopped', () => {
  expect(told(joined([end(), end()]))).toEqual([]);
  expect(foundIn(joined([end(), end(), end()]))).toMatchObject([
    { code: 'joiner-full', severity: 'stop', subject: 'point:J', limit: '2 positions' },
  ]);
});

test('wires that share a bullet take one position', () => {
  expect(told(joined([end({ sharesTerminal: 'x' }), end({ sharesTerminal: 'x' }), end()]))).toEqual([]);
});

test('a joiner at which two looms meet is filled by both', () => {
  const meeting = (brought: number, other: number) =>
    told(
      jobOf({
        parts: [bullet(), joinerOf('j', { positions: 2 })],
        looms: [
          {
            code: 'a',
            name: 'a',
            points: [{ id: 'J', kind: 'joiner', part: 'j', suppliedByLoom: 'b' }, lead],
            wires: wires(Array.from({ length: other }, () => end())),
          },
          {
            code: 'b',
            name: 'b',
            points: [{ id: 'J', kind: 'joiner', part: 'j' }, lead],
            wires: wires(Array.from({ length: brought }, () => end())),
          },
        ],
        request: { looms: ['a', 'b'].map((loom) => ({ loom, quantity: 1 })) },
      }),
      'joiner-full',
    );
  expect(meeting(1, 1)).toEqual([]);
  expect(meeting(1, 2)).toEqual(['joiner-full point:J']);
});

test('a bullet of another size than the joiner is stopped; what is rounded apart is one size', () => {
  const of = (bulletMm?: number, joinerMm?: number) => told(joined([end(), end()], 2, bulletMm, joinerMm));
  // Both are sold as bullets of 3/16 inch, 4.7625 mm: common practice, no source.
  expect(of(4.7, 4.76)).toEqual([]);
  expect(of(4.7, 4.8)).toEqual([]);
  expect(of(4.7, 4.81)).toEqual(['size-differs part:b@J']);
  expect(of(3.9, 4.7)).toEqual(['size-differs part:b@J']);
  expect(of(undefined, 4.7)).toEqual([]);
  expect(of(3.9)).toEqual([]);
});
