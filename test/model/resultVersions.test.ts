import { describe, expect, test } from 'vitest';
import { RESULT_VERSION, type Result } from '../../worker/engine/model/result.ts';
import { readResult } from '../../worker/engine/model/upgrade.ts';
import { fullResult } from '../sheets/sample.ts';

type Document = Record<string, unknown>;

const omit = (document: object, ...names: string[]): Document =>
  Object.fromEntries(Object.entries(document).filter(([name]) => !names.includes(name)));

/** The same result as each version wrote it: what a later one added is taken away again. */
const AS_WRITTEN: Record<number, (result: Result) => Document> = {
  5: (result) => ({ ...result }),
  4: (result) => ({ ...result, version: 4 }),
  3: (result) => ({ ...omit(result, 'beside'), version: 3 }),
  2: (result) => ({ ...omit(result, 'beside', 'families', 'rates', 'fromStock'), version: 2 }),
  1: (result) => ({
    ...omit(result, 'beside', 'families', 'rates', 'fromStock', 'circuits'),
    version: 1,
    looms: result.looms.map((loom) => omit(loom, 'options', 'branches')),
    requirements: result.requirements.map((need) => (need.kind === 'wire' ? omit(need, 'spares') : need)),
  }),
};

describe('a stored result', () => {
  test('of every version up to this one is read', () => {
    expect(Object.keys(AS_WRITTEN).map(Number).sort()).toEqual(
      Array.from({ length: RESULT_VERSION }, (_, index) => index + 1),
    );
  });

  test.each(Object.entries(AS_WRITTEN))(
    'of version %s is read as one of today, with nothing that it had lost',
    async (version, asWritten) => {
      const result = await fullResult();
      const read = readResult(JSON.parse(JSON.stringify(asWritten(result))));
      expect(read.version).toBe(RESULT_VERSION);
      const added = Number(version) < 2 ? ['looms', 'requirements', 'circuits'] : [];
      expect(omit(read, 'version', 'families', 'rates', 'fromStock', ...added)).toEqual(
        omit(result, 'version', 'families', 'rates', 'fromStock', ...added),
      );
      expect(read.purchases.length).toBeGreaterThan(0);
    },
  );

  test('of before version 4 tells nothing of what lies beside the cheapest: it was not looked at', async () => {
    const written = AS_WRITTEN[3]?.(await fullResult());
    expect(readResult(written)).not.toHaveProperty('beside');
  });

  test('of a later version is refused', async () => {
    const result = await fullResult();
    expect(() => readResult({ ...result, version: RESULT_VERSION + 1 })).toThrow();
  });
});
