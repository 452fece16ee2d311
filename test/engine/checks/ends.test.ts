import { expect, test } from 'vitest';
import { checkEnds } from '../../../worker/engine/loom/checks/ends.ts';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { consumable, points, wire } from '../fixtures.ts';
import { contextOf } from './contexts.ts';

type Parts = JobInput['parts'];
type End = NonNullable<JobInput['looms'][number]['wires']>[number]['from'];

const ring: Parts[number] = { kind: 'terminal', code: 'ring', description: 'Ring', terminalType: 'ring' };
const boot: Parts[number] = { kind: 'boot', code: 'boot', description: 'Boot' };

const told = (...froms: Partial<End>[]) => {
  const context = contextOf({
    parts: [ring, boot, consumable('tie')],
    loom: {
      points: points('A', 'B'),
      wires: froms.map((from, index) =>
        wire(`${index + 1}`, {
          from: { point: 'A', join: 'crimp', ...from },
          to: { point: 'B', join: 'bare' },
        }),
      ),
    },
  });
  return checkEnds(context).map(({ code, at }) => `${code} ${at}`);
};
const use = (part: string) => ({ part, supply: 'buy' as const });

test('a crimp that names no terminal is told, since none would be bought for it', () => {
  expect(told({})).toEqual(['crimp-without-terminal /looms/0/wires/0/from']);
  expect(told({ terminal: use('ring') }, { join: 'solder' }, { join: 'bare' })).toEqual([]);
});

test('a shared terminal is named at one of its ends; where at none, each of them is told', () => {
  const shared = { sharesTerminal: 'R' };
  expect(told({ ...shared, terminal: use('ring') }, shared)).toEqual([]);
  expect(told(shared, shared)).toEqual([
    'crimp-without-terminal /looms/0/wires/0/from',
    'crimp-without-terminal /looms/0/wires/1/from',
  ]);
});

test('a part that is none for its place is told: a tie for a terminal, a ring for a cover', () => {
  expect(told({ terminal: use('tie'), cover: use('ring'), seal: use('boot') })).toEqual([
    'kind-out-of-place /looms/0/wires/0/from/terminal/part',
    'kind-out-of-place /looms/0/wires/0/from/seal/part',
    'kind-out-of-place /looms/0/wires/0/from/cover/part',
  ]);
  expect(told({ terminal: use('ring'), cover: use('boot') })).toEqual([]);
});
