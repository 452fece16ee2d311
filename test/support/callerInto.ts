import { onTestFinished } from 'vitest';
import { callerOf, type Caller } from '../../api/client.ts';
import { serveApp, type Served } from '../../api/serve.ts';
import type { Role } from '../../db/schema/index.ts';
import { silent, type TestClub, type TestHouse } from './house.ts';

/** A caller over HTTP into a club of a house, as the commands are; its server stops with the test. */
export async function callerInto(house: TestHouse, club: TestClub, role: Role = 'editor'): Promise<Caller> {
  const key = { role, label: 'over HTTP' };
  const { secret } = (await (await club.as('admin')).post('/v1/keys', key)).json<{ secret: string }>();
  const server = await serverOf(house);
  onTestFinished(() => server.stop());
  return callerOf(server.url, secret);
}

/** A house served over HTTP on a free port. */
export function serverOf({ database, wake }: TestHouse): Promise<Served> {
  const stays = { close: async () => undefined };
  return serveApp(
    { database: { ...database, ...stays }, wake: { ...wake, ...stays }, stopWork: async () => undefined },
    { host: '127.0.0.1', port: 0, bodyBytes: 1024 ** 2, archiveBytes: 16 * 1024 ** 2, queuePerClub: 1_000 },
    silent,
  );
}
