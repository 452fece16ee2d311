import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { solvedApart } from './child.ts';
import type { Instance } from './instances.ts';

const INSTANCE: Instance = { family: 'cutting', variant: 'plain', seed: 1 };
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'bench-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

function program(text: string): string {
  const file = join(folder, 'program.mjs');
  writeFileSync(file, text);
  return file;
}

describe('an instance in a process of its own', () => {
  test('gives a row with what the engine found, and when', async () => {
    const row = await solvedApart(INSTANCE, 'engine', 1, { graceSeconds: 60 });
    if (row.by !== 'engine' || 'failed' in row) throw new Error(JSON.stringify(row));
    expect(row).toMatchObject({ ...INSTANCE, limitSeconds: 1 });
    expect(BigInt(row.cost)).toBeGreaterThanOrEqual(BigInt(row.bound));
    expect(row.withinOnePercentSeconds).toBeGreaterThanOrEqual(row.firstSeconds);
    // No Node process is so small, none of these so large.
    expect(row.peakRssMb).toBeGreaterThan(30);
    expect(row.peakRssMb).toBeLessThan(4000);
  });

  test('that does not end by itself is killed, and counts as its limit', async () => {
    const deaf = program('setInterval(() => {}, 1000)');
    const row = await solvedApart(INSTANCE, 'direct', 0.5, { program: deaf, graceSeconds: 0.5 });
    expect(row).toEqual({
      ...INSTANCE,
      by: 'direct',
      cpuSeconds: 0.5,
      wallSeconds: 0.5,
      limitSeconds: 0.5,
      proven: false,
      failed: 'killed 0.5 s after its limit',
    });
  });

  test('that fails says why', async () => {
    const broken = program("throw new RangeError('too many lengths')");
    const row = await solvedApart(INSTANCE, 'engine', 60, { program: broken });
    expect(row).toMatchObject({ proven: false, cpuSeconds: 60, failed: 'RangeError: too many lengths' });
  });
});
