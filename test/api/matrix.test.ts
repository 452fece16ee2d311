import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ENDPOINTS } from '../../api/endpoints.ts';
import { openApiDocument } from '../../api/http/openapi.ts';
import { ROLES, type Role } from '../../db/keys.ts';
import type { Client, Got } from '../support/client.ts';
import { openHouse, type TestHouse, type TestMember } from '../support/house.ts';
import { BODIES, QUERIES, REST, THINGS, WHOSE, type Names, type Whose } from '../support/matrix/samples.ts';
import { buildWorld, type World } from '../support/matrix/world.ts';

/**
 * Every route, by every role, on a thing that is the caller’s own, the club’s, private to another member, another club’s, or
 * nowhere: made from the description that the app serves, so that no route escapes it.
 */

interface Operation {
  security?: unknown[];
  requestBody?: object;
  'x-least-role'?: Role;
  'x-least-role-for-others'?: Role | 'nobody';
  parameters?: { in: string; name: string }[];
}

const document = openApiDocument(ENDPOINTS, {}) as { paths: Record<string, Record<string, Operation>> };
const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, operation]) => ({
    name: `${method.toUpperCase()} ${path}`,
    method: method.toUpperCase(),
    path,
    operation,
  })),
);
type Op = (typeof operations)[number];
const keyed = operations.filter(({ operation }) => operation.security === undefined);

let house: TestHouse;
let world: World;
beforeAll(async () => {
  house = await openHouse();
  world = await buildWorld(house);
}, 120_000);
afterAll(() => house.close());

const namesIn = (path: string) => [...path.matchAll(/\{(\w+)\}/g)].map(([, name = '']) => name);
const thingOf = (path: string) =>
  Object.entries(THINGS)
    .filter(([start]) => path.startsWith(start))
    .sort(([a], [b]) => b.length - a.length)[0];

/** A version that nothing has: what gets as far as to be told so was allowed. */
const NO_VERSION = { 'if-match': '"999-zzz"' };

function call(role: Role, client: Client, { name, method, path, operation }: Op, names: Names): Promise<Got> {
  const all = { ...REST, ...names };
  const named = path.replaceAll(/\{(\w+)\}/g, (_all, key: string) => all[key] ?? '');
  const at = `${named}${QUERIES[name] ?? ''}`;
  const body = BODIES[name]?.(names, role) as { type?: string; text?: string } | undefined;
  const hasVersion = (operation.parameters ?? []).some((one) => one.name === 'If-Match');
  const headers = {
    ...(hasVersion ? NO_VERSION : {}),
    ...(body?.text === undefined ? {} : { 'content-type': body.type ?? '' }),
  };
  return client.send(method, at, { headers, ...(body === undefined ? {} : { body: body.text ?? body }) });
}

const rank = (role: Role) => ROLES.indexOf(role);

/** What is to come of a call, by what the description says. */
function expected({ operation }: Op, role: Role, whose: Whose | 'none'): 'allowed' | 403 | 404 {
  const least = operation['x-least-role'] ?? 'admin';
  if (rank(role) < rank(least)) return 403;
  if (whose === 'private' || whose === 'theirs' || whose === 'absent') return 404;
  const forOthers = operation['x-least-role-for-others'];
  if (whose !== 'ours' || forOthers === undefined) return 'allowed';
  return forOthers === 'nobody' || rank(role) < rank(forOthers) ? 403 : 'allowed';
}

const cameOf = ({ status }: Got): 'allowed' | number =>
  [401, 403, 404].includes(status) || status >= 500 ? status : 'allowed';

/** A problem without what tells one request from another, and without the names that were asked for. */
function bare({ text }: Got, names: Names): string {
  const { requestId: _id, instance: _instance, ...rest } = JSON.parse(text) as Record<string, unknown>;
  return Object.values(names)
    .sort((a, b) => b.length - a.length)
    .reduce((said, name) => said.replaceAll(name, '_'), JSON.stringify(rest));
}

/** Who calls: one who leaves is not asked again. */
const callerFor = async ({ path }: Op, role: Role): Promise<TestMember> =>
  path.endsWith('/leave') ? world.ours.joined(role) : world.callers[role];

describe('the description of the API', () => {
  test('says of every call with a key who may make it; without a key there is only joining', () => {
    const silent = operations.filter(({ operation }) => operation['x-least-role'] === undefined);
    expect(silent.map(({ name }) => name)).toEqual(['POST /v1/join']);
  });

  test('is the one that the app serves', async () => {
    const served = (await house.anonymous.get('/openapi.json')).json<typeof document>();
    const { paths } = JSON.parse(JSON.stringify(document)) as typeof document;
    for (const [path, methods] of Object.entries(paths)) expect(served.paths[path]).toEqual(methods);
    expect(Object.keys(served.paths).filter((path) => path.startsWith('/v1/'))).toEqual(Object.keys(paths));
  });

  test('has no call without samples', () => {
    const missing = keyed.flatMap(({ name, path, operation }) => {
      const names = namesIn(path);
      const thing = thingOf(path);
      const unnamed = names.filter((one) => REST[one] === undefined && !thing?.[0].includes(`{${one}}`));
      return [
        ...(unnamed.length > 0
          ? [`${name}: add a line to THINGS of test/support/matrix/samples.ts for {${unnamed.join('}, {')}}.`]
          : []),
        ...(operation.requestBody && !BODIES[name]
          ? [`${name}: add its body to BODIES of test/support/matrix/samples.ts.`]
          : []),
      ];
    });
    expect(missing).toEqual([]);
  });
});

describe.each(ROLES.map((role) => [role] as const))('with the role %s', (role) => {
  test.each(keyed.map((op) => [op.name, op] as const))('%s', async (_name, op) => {
    const thing = thingOf(op.path)?.[1];
    if (!thing) {
      const got = await call(role, world.callers[role].client, op, {});
      expect([got.status, cameOf(got)]).toEqual([got.status, expected(op, role, 'none')]);
      return;
    }
    const nowhere: string[] = [];
    for (const whose of WHOSE) {
      const caller = await callerFor(op, role);
      const names = await thing(world, whose, caller);
      if (!names) continue;
      if (whose === 'own' && role === 'viewer' && /looms|quotes|orders|tasks/.test(op.path)) continue;
      const got = await call(role, caller.client, op, names);
      const wanted = expected(op, role, whose);
      expect([whose, got.text.slice(0, 300), cameOf(got)]).toEqual([whose, got.text.slice(0, 300), wanted]);
      if (wanted === 404) nowhere.push(bare(got, names));
    }
    expect(new Set(nowhere).size).toBeLessThanOrEqual(1);
  });
});
