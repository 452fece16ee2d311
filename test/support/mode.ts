import { test, type TestContext } from 'vitest';

export type Mode = 'embedded' | 'service';

/** The mode that this run of the file stands for; throws in the unit project, which has none. */
export function testMode(): Mode {
  const mode = process.env['LOOMWRIGHT_TEST_MODE'];
  if (mode === 'embedded' || mode === 'service') return mode;
  throw new Error('This file runs in no mode: it belongs in test/db, test/api, test/worker or test/faults.');
}

/** `test` for one mode; in the other it counts as skipped, with the reason. */
export function testOnlyIn(mode: Mode, why: string) {
  return (name: string, body: (context: TestContext) => Promise<void> | void, timeoutMs?: number) =>
    testMode() === mode
      ? test(name, body, timeoutMs)
      : test(name, (context) => context.skip(`only in ${mode} mode: ${why}`));
}
