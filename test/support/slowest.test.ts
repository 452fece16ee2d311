import { expect, test } from 'vitest';
import { slowestTable } from './slowest.ts';

test('the files that took longest are told, the slowest first, and what all took together', () => {
  const times = [
    { project: 'unit', file: 'a.test.ts', ms: 40 },
    { project: 'unit', file: 'b.test.ts', ms: 2000 },
    { project: 'service', file: 'b.test.ts', ms: 31_960 },
  ];
  const rows = slowestTable(times, 2)
    .split('\n')
    .map((line) => line.replaceAll(/[^\w.,]+/g, ' ').trim())
    .filter((line) => line !== '');
  expect(rows).toEqual([
    'slowest files project s',
    'b.test.ts service 32.0',
    'b.test.ts unit 2.0',
    'all 3 files, not side by side 34.0'.replace('-', ' '),
  ]);
});
