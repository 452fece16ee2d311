import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { cruise, type Violation } from './cruise.ts';
import { plantHouse } from './planted.ts';
import { HOUSE } from './tool.ts';

/** What the planted files import; each holds one value, and none imports anything else. */
const targets = [
  'api/app.ts',
  'api/http/keys.ts',
  'db/club.ts',
  'db/parts.ts',
  'db/schema/parts.ts',
  'worker/engine/model/part.ts',
  'worker/engine/units/money.ts',
  'worker/engine/loom/rollUp.ts',
  'worker/engine/sourcing/solve/solve.ts',
  'worker/engine/solver/index.ts',
  'worker/csv/guard.ts',
  'worker/sheets/orderList.ts',
  'worker/tasks/claim.ts',
  'worker/threads/pool.ts',
  'worker/wake/inProcess.ts',
  'test/support/mode.ts',
  'settings.config.ts',
];

/** The importing file, what it imports, the rule that says no. */
const bad: [string, string, string][] = [
  ['worker/engine/loom/bad1.ts', '../../../db/club.ts', 'engine'],
  ['worker/engine/loom/bad2.ts', '../../tasks/claim.ts', 'engine'],
  ['worker/engine/loom/bad3.ts', '../../../test/support/mode.ts', 'engine'],
  ['worker/engine/loom/bad4.ts', '../../../settings.config.ts', 'engine'],
  ['worker/engine/loom/bad5.ts', 'node:fs', 'engine-is-pure'],
  ['worker/engine/loom/bad6.ts', 'node:timers/promises', 'engine-is-pure'],
  ['worker/engine/loom/bad7.ts', 'ioredis', 'engine-is-pure'],
  ['worker/engine/loom/bad8.ts', 'highs', 'only-the-solver-knows-highs'],
  ['worker/engine/loom/bad9.ts', 'postgres', 'no-sql-in-handlers'],
  ['worker/engine/model/bad.ts', '../sourcing/solve/solve.ts', 'engine-model'],
  ['worker/sheets/bad1.ts', '../engine/sourcing/solve/solve.ts', 'sheets'],
  ['worker/sheets/bad2.ts', '../../db/club.ts', 'sheets'],
  ['worker/sheets/bad3.ts', 'node:fs/promises', 'engine-is-pure'],
  ['worker/csv/bad1.ts', '../engine/units/money.ts', 'csv'],
  ['worker/csv/bad2.ts', 'node:fs', 'engine-is-pure'],
  ['worker/tables/bad1.ts', '../engine/sourcing/solve/solve.ts', 'tables'],
  ['worker/tables/bad2.ts', 'node:fs', 'engine-is-pure'],
  ['worker/threads/bad.ts', '../../db/club.ts', 'threads'],
  ['worker/wake/bad.ts', '../tasks/claim.ts', 'wake'],
  ['worker/tasks/bad1.ts', '../../api/app.ts', 'tasks'],
  ['worker/tasks/bad2.ts', '../../db/schema/parts.ts', 'only-db-knows-its-tables'],
  ['worker/command/bad.ts', '../../db/club.ts', 'command'],
  ['worker/price/bad.ts', '../../db/club.ts', 'price'],
  ['worker/price.ts', '../db/club.ts', 'price'],
  ['worker/newRoom/bad.ts', '../../api/app.ts', 'worker'],
  ['worker/bad.ts', '../api/app.ts', 'worker'],
  ['db/bad1.ts', '../worker/engine/sourcing/solve/solve.ts', 'db'],
  ['db/bad2.ts', '../api/http/keys.ts', 'db'],
  ['api/routes/bad1.ts', 'drizzle-orm', 'no-sql-in-handlers'],
  ['api/routes/bad2.ts', '../../worker/engine/loom/rollUp.ts', 'api'],
  ['api/routes/bad3.ts', '../../worker/tasks/claim.ts', 'api'],
  ['api/routes/bad4.ts', '../../db/schema/parts.ts', 'only-db-knows-its-tables'],
  ['api/routes/bad5.ts', '../../test/support/mode.ts', 'api'],
  ['api/routes/bad6.ts', 'fast-check', 'production-takes-no-tests'],
  ['api/routes/bad7.ts', './nowhere.ts', 'no-orphans-outside'],
  ['api/main.ts', '../test/support/mode.ts', 'api-commands'],
  ['test/api/bad.ts', 'highs', 'only-the-solver-knows-highs'],
];

const good: [string, string][] = [
  ['worker/engine/loom/good1.ts', '../model/part.ts'],
  ['worker/engine/loom/good2.ts', 'node:crypto'],
  ['worker/engine/solver/good.ts', 'highs'],
  ['worker/sheets/good.ts', '../engine/units/money.ts'],
  ['worker/sheets/good2.ts', '../csv/guard.ts'],
  ['worker/threads/good.ts', '../engine/sourcing/solve/solve.ts'],
  ['worker/price/good.ts', '../engine/sourcing/solve/solve.ts'],
  ['worker/tasks/good.ts', '../../db/club.ts'],
  ['db/good1.ts', '../worker/engine/model/part.ts'],
  ['db/good2.ts', 'drizzle-orm'],
  ['api/routes/good1.ts', '../../db/parts.ts'],
  ['api/routes/good2.ts', '../../worker/threads/pool.ts'],
  ['api/key.ts', '../worker/tasks/claim.ts'],
  ['test/db/good.ts', '../../db/schema/parts.ts'],
];

describe('in the house', () => {
  test('no import goes against the arrows, and the tool has read it', async () => {
    const { modules, violations } = await cruise(HOUSE);
    expect(violations).toEqual([]);
    // On a TypeScript that it does not know the tool reads nothing and finds no fault.
    expect(modules).toBeGreaterThan(20);
  }, 120_000);
});

describe('with imports planted', () => {
  let found: Violation[] = [];
  let house: ReturnType<typeof plantHouse> | undefined;

  beforeAll(async () => {
    const imports = (target: string) => `import * as planted from '${target}';\nexport const it = planted;\n`;
    house = plantHouse({
      ...Object.fromEntries(targets.map((path) => [path, 'export const value = 1;\n'])),
      ...Object.fromEntries([...bad, ...good].map(([path, target]) => [path, imports(target)])),
      'worker/sheets/badType.ts': "export type { it } from '../engine/loom/good1.ts';\n",
      'api/routes/goodType.ts': "export type { value } from '../../db/schema/parts.ts';\n",
      'worker/engine/loom/badLazy.ts': "export const it = () => import('../../../db/club.ts');\n",
    });
    found = (await cruise(house.folder)).violations;
  }, 120_000);
  afterAll(() => house?.remove());

  const rulesFor = (path: string) => found.filter(({ from }) => from === path).map(({ rule }) => rule);

  test.each(bad)('%s may not import %s: rule %s', (path, _target, rule) => {
    expect(rulesFor(path)).toContain(rule);
  });

  test('an import of a type counts like any other', () => {
    expect(rulesFor('worker/sheets/badType.ts')).toContain('sheets');
  });

  test('an import at the time of the call counts like any other', () => {
    expect(rulesFor('worker/engine/loom/badLazy.ts')).toContain('engine');
  });

  test('the API may import the types of what is stored, not the tables', () => {
    expect(rulesFor('api/routes/goodType.ts')).toEqual([]);
  });

  test.each(good)('%s may import %s', (path) => {
    expect(rulesFor(path)).toEqual([]);
  });
});
