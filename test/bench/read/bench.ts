import { v7 as uuidv7 } from 'uuid';
import { newKey } from '../../../api/newKey.ts';
import { asClub } from '../../../db/club.ts';
import { connectService } from '../../../db/connect.ts';
import { hashOfSecret, keyOfHash } from '../../../db/keys.ts';
import { parts } from '../../../db/parts.ts';
import { Part } from '../../../worker/engine/model/part.ts';
import { findBinaries } from '../../support/binaries.ts';
import { testFounder } from '../../support/founder.ts';
import { keepServers } from '../../support/servers.ts';
import { ask, type Round } from './client.ts';
import { measuredServer, type Measured } from './servers.ts';

const PATH = '/v1/parts/ring-6';
const ROUND = { requests: 1_500, connections: 8 };
const ROUNDS = 7;

/** What the figure of ours is held against: the share of the bare endpoint’s speed that is to be reached. */
const READ_TARGET = 0.8;

interface Contender {
  name: string;
  server: Measured;
  rounds: (Round & { cpuSeconds: number })[];
}

/**
 * Reads one part over HTTP, from our server and from an endpoint of Hono and postgres with the same look-up of the key,
 * transaction and policies: rounds in turns, medians. PostgreSQL, Redis and both servers are the bench’s own.
 */
export async function benchRead(): Promise<void> {
  const kept = await keepServers(findBinaries());
  const { databaseUrl, redisUrl } = kept;
  const contenders: Contender[] = [];
  try {
    if (databaseUrl === null || redisUrl === null) {
      console.log('Reading over HTTP is left out: PostgreSQL or redis-server is not installed.');
      return;
    }
    const authorization = `Bearer ${await clubWithPart(databaseUrl)}`;
    const bare = (...more: string[]) =>
      measuredServer('test/bench/read/bare.ts', (port) => [databaseUrl, String(port), ...more]);
    const add = (name: string, server: Measured) => contenders.push({ name, server, rounds: [] });
    add('bare', await bare());
    add('bare, key kept', await bare('kept'));
    add(
      'ours',
      await measuredServer(
        'api/main.ts',
        () => [],
        (port) => ({ DATABASE_URL: databaseUrl, REDIS_URL: redisUrl, PORT: String(port) }),
      ),
    );
    for (const { server } of contenders) await ask(server.port, PATH, authorization, ROUND);
    for (let round = 0; round < ROUNDS; round++)
      for (const { server, rounds } of contenders) {
        const before = await server.cpuSeconds();
        const asked = await ask(server.port, PATH, authorization, ROUND);
        rounds.push({ ...asked, cpuSeconds: (await server.cpuSeconds()) - before });
      }
    print(contenders);
  } finally {
    await Promise.all(contenders.map(({ server }) => server.stop()));
    await kept.stop();
  }
}

/** Returns the secret of a viewer of a club that has the part. */
async function clubWithPart(url: string): Promise<string> {
  const database = await connectService({ url });
  try {
    const wish = { club: `Club ${uuidv7()}`, label: 'bench', make: true, currency: 'GBP' };
    const { secret } = await newKey(database, testFounder, { ...wish, role: 'editor' });
    const key = await keyOfHash(database, hashOfSecret(secret));
    if (!key) throw new Error('the key that was made opens nothing');
    const part = { code: 'ring-6', kind: 'terminal', description: 'Ring terminal', terminalType: 'ring' };
    await asClub(database, { ...testFounder, club: key.clubId }, (ctx) =>
      parts.create({ ctx, input: Part.parse(part) }),
    );
    return secret;
  } finally {
    await database.close();
  }
}

function print(contenders: readonly Contender[]): void {
  const found = contenders.map(({ name, rounds }) => ({
    name,
    perSecond: median(rounds.map(({ requests, seconds }) => requests / seconds)),
    cpuMicroseconds: median(rounds.map(({ requests, cpuSeconds }) => (cpuSeconds / requests) * 1e6)),
    median: median(rounds.flatMap(({ milliseconds }) => milliseconds)),
    p99: median(rounds.map(({ milliseconds: all }) => all[Math.floor(all.length * 0.99)] ?? Number.NaN)),
  }));
  const ours = found.at(-1);
  if (!ours) return;
  console.log(
    `Reading one part over HTTP: ${ROUND.connections} connections, ${ROUNDS} rounds of ${ROUND.requests}, medians`,
  );
  console.table(
    Object.fromEntries(
      found.map((row) => [
        row.name,
        {
          'requests a second': Math.round(row.perSecond),
          'CPU of the server a request, µs': Math.round(row.cpuMicroseconds),
          'median, ms': row.median.toFixed(2),
          'p99, ms': row.p99.toFixed(2),
          'ours by requests a second': (ours.perSecond / row.perSecond).toFixed(2),
          'ours by CPU': (row.cpuMicroseconds / ours.cpuMicroseconds).toFixed(2),
        },
      ]),
    ),
  );
  const [bare] = found;
  const share = bare ? bare.cpuMicroseconds / ours.cpuMicroseconds : 0;
  const reached = share >= READ_TARGET ? 'reached' : 'missed';
  console.log(`Target, by CPU: ${READ_TARGET} of the bare endpoint; ${reached} with ${share.toFixed(2)}`);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
